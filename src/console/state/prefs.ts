import { effect, signal } from '@preact/signals';
import { LANGUAGES, type Language } from '../../words/index.ts';
import { keptSignal } from './kept.ts';

export const LOOKS = ['auto', 'light', 'dark', 'sun'] as const;
export type Look = (typeof LOOKS)[number];

/** Kinds of units that a person may choose; '' is the site's own. */
export const UNIT_KINDS = {
  temperature: ['degC', 'degF'],
  rotation: ['rpm', 'pulses/min', 'Hz'],
  speed: ['m/s', 'ft/min'],
} as const;
export type UnitKind = keyof typeof UNIT_KINDS;

/** What a person has chosen on this device. Kept by the browser, and nowhere else. */
export interface Prefs {
  readonly language: Language;
  readonly look: Look;
  readonly units: Readonly<Record<UnitKind, string>>;
  /** Name that is put into forms where nobody signs in. */
  readonly name: string;
}

const spoken = (): Language => {
  const wanted = navigator.languages.map((one) => one.slice(0, 2));
  return wanted.map((one) => LANGUAGES.find((each) => each === one)).find((one) => one !== undefined) ?? 'en';
};

const USUAL: Prefs = {
  language: spoken(),
  look: 'auto',
  units: { temperature: '', rotation: '', speed: '' },
  name: '',
};

const oneOf = <T extends string>(all: readonly T[], value: unknown, other: T): T =>
  all.find((one) => one === value) ?? other;

/** Choices of an older or a newer page may be no choices of this one. */
const known = (kept: Partial<Record<keyof Prefs, unknown>>): Prefs => ({
  language: oneOf(LANGUAGES, kept.language, USUAL.language),
  look: oneOf(LOOKS, kept.look, USUAL.look),
  units: { ...USUAL.units, ...(kept.units as Partial<Prefs['units']>) },
  name: typeof kept.name === 'string' ? kept.name : USUAL.name,
});

export const prefs = keptSignal('tripwitness', USUAL, known);

const darkness = matchMedia('(prefers-color-scheme: dark)');
const deviceDark = signal(darkness.matches);
darkness.addEventListener('change', (event) => {
  deviceDark.value = event.matches;
});

/** The look that is shown, with `auto` resolved. */
export const lookNow = (): 'light' | 'dark' | 'sun' => {
  const { look } = prefs.value;
  if (look !== 'auto') return look;
  return deviceDark.value ? 'dark' : 'light';
};

effect(() => {
  document.documentElement.dataset['look'] = lookNow();
});
