import type { OpenWindow } from '../../api/index.ts';
import type { Precaution } from '../../guide/index.ts';
import type { Method } from '../../judge/index.ts';
import { permitEntry } from '../text/permit.ts';
import { keptSignal } from './kept.ts';

export interface DraftPerson {
  readonly name: string;
  readonly roles: readonly string[];
}

export interface Draft {
  readonly interlocks: readonly { readonly name: string; readonly method: Method }[];
  readonly people: readonly DraftPerson[];
  /** `number`: `permit` is its number; `none`: `permit` says why none is needed. */
  readonly permitKind: string;
  readonly permit: string;
  readonly precautions: readonly Precaution[];
  readonly note: string;
  /** Program revisions as typed in, by machine. */
  readonly revisions: Readonly<Record<string, string>>;
}

const EMPTY: Draft = {
  interlocks: [],
  people: [{ name: '', roles: ['screen', 'sensor'] }],
  permitKind: 'number',
  permit: '',
  precautions: [],
  note: '',
  revisions: {},
};

/** A window that is being prepared on this device; nothing of it is known to the daemon. */
export const draft = keptSignal<Draft>('tripwitness-draft', EMPTY);

export const change = (part: Partial<Draft>): void => {
  draft.value = { ...draft.value, ...part };
};

export const clearDraft = (): void => {
  draft.value = EMPTY;
};

/** What is still missing before it can be opened, in the order in which it is asked for. */
export const missingIn = (
  { interlocks, people, permit, precautions }: Draft,
  all: readonly Precaution[],
): readonly ('interlocks' | 'people' | 'permit' | 'cautions')[] => [
  ...(interlocks.length === 0 ? (['interlocks'] as const) : []),
  ...(people.some(({ name, roles }) => name.trim() !== '' && roles.length > 0) ? [] : (['people'] as const)),
  ...(permit.trim() === '' ? (['permit'] as const) : []),
  ...(all.every((one) => precautions.includes(one)) ? [] : (['cautions'] as const)),
];

/** A guided window, as the daemon is asked to open it. */
export const requestOf = (given: Draft): OpenWindow => {
  const { interlocks, people, permit, permitKind, precautions, note, revisions } = given;
  const known = people.filter(({ name }) => name.trim() !== '');
  return {
    stimuli: interlocks.map(({ name, method }) => ({ interlock: name, method })),
    people: known.flatMap(({ name, roles }) =>
      roles.map((role) => ({
        name: name.trim(),
        role: role as NonNullable<OpenWindow['people']>[number]['role'],
      })),
    ),
    note,
    revisions: Object.fromEntries(Object.entries(revisions).filter(([, text]) => text.trim() !== '')),
    guided: true,
    permit: permitEntry(permitKind === 'none', permit),
    precautions: [...precautions],
  };
};
