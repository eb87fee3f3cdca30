import { openingSchema } from './bodies.ts';
import type { Entry } from './types.ts';

/** What the log says of one window, by the numbers of its entries. */
export interface WindowSummary {
  readonly window: string;
  readonly opened: number;
  readonly standing: 'open' | 'closed' | 'interrupted';
  /** Entry that ended it. */
  readonly ended?: number;
  readonly people: readonly string[];
  readonly verdicts: readonly number[];
}

/** Keeps `open` as the set of windows that were opened and have no end yet. */
export const followWindow = (open: Set<string>, entry: Entry): void => {
  if (entry.kind === 'window-opened') open.add(entry.subject);
  if (entry.kind === 'window-closed' || entry.kind === 'window-interrupted') open.delete(entry.subject);
};

/** Windows without an end, oldest first: after a crash the daemon enters them as interrupted, never as passed. */
export const openWindows = (entries: Iterable<Entry>): string[] => {
  const open = new Set<string>();
  for (const entry of entries) followWindow(open, entry);
  return [...open];
};

const peopleOf = (opened: Entry): string[] => {
  const opening = openingSchema.safeParse(opened.body);
  const named = opening.success ? (opening.data.people ?? []).map((person) => person.name) : [];
  return [...new Set([opened.actor, ...named])];
};

/** By the entry that ended it. */
export const standingOf = (end: Entry | undefined): WindowSummary['standing'] => {
  if (end === undefined) return 'open';
  return end.kind === 'window-closed' ? 'closed' : 'interrupted';
};

/** Every window of a log, oldest first. */
export const windowsOf = (entries: Iterable<Entry>): WindowSummary[] => {
  const about = new Map<string, Entry[]>();
  for (const entry of entries) {
    const known = about.get(entry.subject);
    if (known !== undefined) known.push(entry);
    else if (entry.kind === 'window-opened') about.set(entry.subject, [entry]);
  }
  return [...about.values()].flatMap((own): WindowSummary[] => {
    const [opened] = own;
    if (opened === undefined) return [];
    const end = own.find((entry) => entry.kind === 'window-closed' || entry.kind === 'window-interrupted');
    return [
      {
        window: opened.subject,
        opened: opened.seq,
        standing: standingOf(end),
        ...(end && { ended: end.seq }),
        people: peopleOf(opened),
        verdicts: own.filter((entry) => entry.kind === 'verdict').map((entry) => entry.seq),
      },
    ];
  });
};
