/** What is done of a campaign, in a file: a run that was killed goes on from there. */
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';

interface Kept {
  readonly seed: number;
}

/** What the file holds, or `fresh` where there is none. A file of another seed is refused. */
export const resumed = <T extends Kept>(state: string | undefined, fresh: T): T => {
  if (state === undefined || !existsSync(state)) return fresh;
  const kept = JSON.parse(readFileSync(state, 'utf8')) as T;
  if (kept.seed !== fresh.seed) throw new Error(`${state} belongs to seed ${kept.seed}, not ${fresh.seed}`);
  return kept;
};

export const keep = (state: string | undefined, tally: Kept): void => {
  if (state === undefined) return;
  writeFileSync(`${state}.new`, JSON.stringify(tally));
  renameSync(`${state}.new`, state);
};
