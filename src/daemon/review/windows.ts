import type { WindowLine } from '../../api/index.ts';
import type { Stimulus } from '../../judge/index.ts';
import { formatUtc } from '../../measure/index.ts';
import type { WindowPast } from '../../report/index.ts';
import type { LogIndex } from './log-index.ts';

/**
 * Meanings of signatures behind which nothing but comments and signatures stands. Whether they match what they cover
 * is asked of the signing of the window.
 */
const signedAs = ({ signatures, amendments, transcribed, ended }: WindowPast): readonly string[] => {
  const newest = Math.max(ended ?? 0, ...[...amendments, ...transcribed].map(({ entry }) => entry));
  const standing = signatures.filter(({ body }) => {
    const covers = body['covers'] as { readonly last?: unknown } | undefined;
    return typeof covers?.last === 'number' && covers.last >= newest;
  });
  return [...new Set(standing.map(({ body }) => String(body['meaning'])))];
};

const interlocksOf = (
  index: LogIndex,
  past: WindowPast,
  names: readonly string[],
): WindowLine['interlocks'] => {
  const judged = past.interlocks.map(({ name, verdict, trials }) => ({
    name,
    outcome: verdict.outcome,
    trials,
  }));
  const stimuli = (index.opening(past.id)?.body['stimuli'] ?? []) as unknown as readonly Stimulus[];
  const known = new Set(judged.map(({ name }) => name));
  const others = stimuli
    .flatMap(({ interlock }) => names[interlock] ?? [])
    .filter((name) => !known.has(name));
  return [...judged, ...others.map((name) => ({ name, trials: 0 }))];
};

/** Every window of the log, newest first. Of an open one nothing is judged yet. */
export const windowLines = (index: LogIndex): readonly WindowLine[] => {
  const { windows, books } = index.history();
  const namesOf = new Map(
    [...books].map(([hash, { interlocks }]) => [hash, interlocks.map(({ name }) => name)] as const),
  );
  return windows
    .map(
      (past): WindowLine => ({
        window: past.id,
        opened: formatUtc(past.opened),
        ...(past.closed !== undefined && { closed: formatUtc(past.closed) }),
        standing: past.standing,
        demand: past.demand,
        people: [...new Set(past.people.map(({ name }) => name))],
        interlocks: interlocksOf(index, past, namesOf.get(past.bookHash) ?? []),
        signed: signedAs(past),
        comments: past.comments.length,
      }),
    )
    .reverse();
};
