import { formatUtc, type Instant, instant, type Readings, type SignalId } from '../measure/index.ts';
import type { History } from '../report/index.ts';
import type { Book, Machine } from '../rulebook/index.ts';
import type { Latest } from './latest.ts';

/**
 * A revision as it is compared and entered: blanks at its ends say nothing, whether they were typed or stood in registers.
 */
export const revisionText = (text: string): string => text.trim();

/** What the tag of a machine's revision shows: a text, a number as a number; undefined: nothing readable. */
export const revisionShown = (
  machine: Machine,
  latest: Latest,
  texts: ReadonlyMap<SignalId, string>,
): string | undefined => {
  const reading = machine.revision === undefined ? undefined : latest.get(machine.revision);
  if (reading?.value === undefined) return undefined;
  return revisionText(texts.get(reading.signal) ?? String(reading.value.low));
};

/** A statement of what runs, and where it comes from. */
export interface Stated {
  readonly text: string;
  readonly quality: 'tag' | 'typed';
}

interface Seen extends Stated {
  /** When it was last read. */
  last: Instant | undefined;
}

export interface RevisionHands {
  readonly enter: (machine: string, body: object) => void;
  readonly tell: (level: 'info' | 'warn', text: string, about: object) => void;
}

/** Notices, window or not, that a controller shows another revision than it did last. */
export interface Revisions {
  /** Readings of one answer, which `latest` and `texts` hold already. */
  take(readings: Readings): void;
  /** Somebody typed it in, where the tag could not be read. */
  typed(machine: string, text: string): void;
}

/** What was last stated of each machine, by its tag or by somebody, as the log says. */
export const revisionsKnown = ({ revisions }: Pick<History, 'revisions'>): ReadonlyMap<string, Stated> =>
  new Map(revisions.map(({ machine, text, quality }) => [machine, { text: revisionText(text), quality }]));

/**
 * A text must be read twice alike before it counts: in the midst of a download words of two texts may stand side by side.
 */
export const createRevisions = (
  book: Book,
  known: ReadonlyMap<string, Stated>,
  latest: Latest,
  texts: ReadonlyMap<SignalId, string>,
  { enter, tell }: RevisionHands,
): Revisions => {
  const seen = new Map<string, Seen>(
    [...known].map(([machine, stated]) => [machine, { ...stated, last: undefined }]),
  );
  const candidates = new Map<string, string>();
  const bySignal = new Map<number, Machine[]>();
  for (const machine of book.machines)
    if (machine.revision !== undefined)
      bySignal.set(machine.revision, [...(bySignal.get(machine.revision) ?? []), machine]);

  /** The tag shows it for the first time, or shows another than was stated last. */
  const shown = (name: string, text: string, at: Instant): void => {
    const last = seen.get(name);
    // What somebody typed and the tag now shows alike is no change, but it is known from the controller from now on.
    const before = last?.text === text ? undefined : last;
    enter(name, {
      machine: name,
      text,
      quality: 'tag',
      ...(before !== undefined && { was: before.text }),
      ...(before?.last !== undefined && { lastSeen: formatUtc(before.last) }),
    });
    seen.set(name, { text, quality: 'tag', last: at });
    if (before === undefined)
      tell('info', `${name} runs revision ${text}`, { machine: name, revision: text });
    else
      tell(
        'warn',
        `${name} runs revision ${text}, before ${before.text}: what was proved on the old one is stale until it is proved again or scoped`,
        { machine: name, revision: text, was: before.text },
      );
  };

  const look = (machine: Machine, at: Instant): void => {
    const { name } = machine;
    const text = revisionShown(machine, latest, texts);
    if (text === undefined) return;
    const before = seen.get(name);
    if (before?.quality === 'tag' && before.text === text) {
      before.last = at;
      candidates.delete(name);
    } else if (candidates.get(name) === text) {
      candidates.delete(name);
      shown(name, text, at);
    } else candidates.set(name, text);
  };

  return {
    take({ length, signal, why, latest: at }) {
      if (bySignal.size === 0) return;
      for (let index = 0; index < length; index += 1) {
        if (why[index] !== 0) continue;
        for (const machine of bySignal.get(signal[index] ?? 0) ?? []) look(machine, instant(at[index] ?? 0));
      }
    },
    typed(machine, text) {
      // The tag stays known from the controller where somebody only repeats what it showed.
      if (seen.get(machine)?.text !== text) seen.set(machine, { text, quality: 'typed', last: undefined });
    },
  };
};
