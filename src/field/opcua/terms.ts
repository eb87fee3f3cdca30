import type { Granted } from '../../signal/index.ts';
import { note, type Watching } from './types.ts';

/** What a server made of what was asked of the subscription. Times in µs. */
export interface Terms {
  readonly publishing: number;
  /** A keep-alive comes after so many publishing intervals at the latest. */
  readonly keepAlive: number;
}

interface Note {
  readonly code: string;
  readonly params: Readonly<Record<string, string | number>>;
}

const MS = 1_000;

/** Items with the same revised figure are told together, the first by name. */
const revised = (
  watching: Watching,
  items: readonly Granted[],
  what: 'sampling' | 'queue',
  requested: number,
): Note[] => {
  const groups = new Map<number, Granted[]>();
  for (const one of items) {
    if (one[what] === requested) continue;
    const group = groups.get(one[what]) ?? [];
    groups.set(one[what], group);
    group.push(one);
  }
  const unit = what === 'queue' ? 1 : MS;
  return [...groups].map(([granted, members]) => {
    const first = watching.signals.find(({ id }) => id === members[0]?.signal)?.name ?? '';
    const figures = { requested: requested / unit, granted: granted / unit };
    const code = what === 'queue' ? 'queue-revised' : 'sampling-revised';
    return { code, params: { ...figures, items: members.length, first } };
  });
};

/** The answer `terms`, and a note for each figure that the server changed; the same notes are not told again. */
export const tellTerms = (watching: Watching, terms: Terms, items: readonly Granted[]): void => {
  const { source, sink, clock, index } = watching;
  const { publishing } = terms;
  sink.answer({ kind: 'terms', source: index, received: clock.now(), publishing, items });
  const figures = { requested: source.publishing / MS, granted: publishing / MS };
  const notes: Note[] = [
    ...(publishing === source.publishing ? [] : [{ code: 'publishing-revised', params: figures }]),
    ...revised(watching, items, 'sampling', source.sampling),
    ...revised(watching, items, 'queue', source.queue),
  ];
  const told = JSON.stringify(notes);
  if (told === watching.terms) return;
  watching.terms = told;
  for (const { code, params } of notes) note(watching, 'note', code, params);
};
