import type { Attestation } from '../../judge/index.ts';
import { keptSignal } from './kept.ts';
import { prefs } from './prefs.ts';
import { session } from './session.ts';

/** What a device is for in a window; a device that nobody has given a part follows. */
export const PARTS = ['follow', 'screen', 'sensor', 'final-element', 'horn'] as const;
export type Part = (typeof PARTS)[number];

/** What whoever holds a device with this part may enter. */
type Act = 'identify' | 'watch' | 'call' | 'repeat' | 'count' | 'leave' | 'restore' | Attestation;

const ALL: readonly Act[] = [
  'identify',
  'watch',
  'call',
  'repeat',
  'count',
  'leave',
  'restore',
  'horn-heard',
  'motion-stopped',
  'feed-stopped',
  'no-stop-pressed',
];

const ACTS: Readonly<Record<Part, readonly Act[]>> = {
  follow: [],
  screen: ALL,
  sensor: ['identify', 'watch', 'repeat'],
  'final-element': ['motion-stopped', 'feed-stopped', 'no-stop-pressed'],
  horn: ['horn-heard'],
};

/** `window`: the one that the part was taken in; in any other this device follows. */
export const device = keptSignal('tripwitness-device', {
  window: '',
  part: 'follow' as string,
  name: '',
  speech: false,
});

export const partIn = (window: string): Part =>
  device.value.window === window ? (PARTS.find((one) => one === device.value.part) ?? 'follow') : 'follow';

export const takePart = (window: string, part: Part, name: string): void => {
  device.value = { ...device.value, window, part, name };
};

export const mayDo = (window: string, act: Act): boolean => ACTS[partIn(window)].includes(act);

/** In whose name this device enters something; where somebody is signed in, the daemon goes by that account. */
export const nameHere = (): string => session.value?.account?.name ?? (device.value.name || prefs.value.name);
