import { type Reason, SECOND } from '../measure/index.ts';
import { tagsOf } from '../rulebook/index.ts';
import { listOf, type Row } from './rows.ts';
import { nameOf, type Scene } from './scene.ts';
import { historyOf, type Track } from './track.ts';
import type { Trial } from './trial.ts';

/** Readings that a comparison of scatter needs on each side; fewer say nothing. */
const ENOUGH = 20;
/** A baseline that scatters shows at least so many different values. */
const SCATTERS = 3;

const distinct = (rows: readonly Row[]): number => new Set(rows.map((row) => row.low + row.high)).size;

/**
 * A sensor that scattered before and is still to the last digit now was written, not measured. An injector is so still
 * by right, and a shaft at rest shows nothing else.
 */
const tooStill = (trial: Trial, track: Track, by: number): boolean => {
  if (trial.method === 'injected' || trial.method === 'forced' || trial.method === 'unstated') return false;
  const rows = listOf(historyOf(track));
  const before = rows.filter((row) => row.latest <= trial.clearUntil).slice(-ENOUGH);
  const after = rows.filter((row) => row.earliest > trial.clearUntil && row.earliest <= by).slice(-ENOUGH);
  if (before.length < ENOUGH || after.length < ENOUGH) return false;
  return distinct(before) >= SCATTERS && distinct(after) === 1 && (after[0]?.low ?? 0) > 0;
};

/** Raw input and processed value may part for a scan or two, not for longer. */
const PARTED = SECOND;

/** For how long the newest runs of two signals have certainly differed. */
const parted = (raw: Track, shown: Track): number => {
  const a = raw.runs.at(-1);
  const b = shown.runs.at(-1);
  if (raw.absent || shown.absent || a === undefined || b === undefined || a.state === b.state) return 0;
  return Math.min(a.lastEarliest, b.lastEarliest) - Math.max(a.from, b.from);
};

/** Whether a value changed during the trial by more than its own doubt. */
const changedIn = (track: Track, from: number): Row | undefined => {
  const rows = listOf(historyOf(track)).filter((row) => row.latest >= from);
  const [first] = rows;
  return rows.find((row) => first !== undefined && (row.low > first.high || row.high < first.low));
};

/**
 * What shows that the stimulus was not what it seemed: a value written in the program, a set point or normal moved to
 * make the trip happen, a processed bit that its raw input does not bear out.
 */
export const authenticity = (scene: Scene, trial: Trial, by: number): void => {
  const doubt = (code: string, params: Reason['params']): void => {
    trial.doubts.set(`${code} ${Object.values(params).join(' ')}`, { code, params });
  };
  const { interlock } = trial;
  const machine = scene.book.machines[interlock.machine];
  const cause = scene.tracks[interlock.cause.signal];
  if (cause !== undefined && tooStill(trial, cause, by)) {
    doubt('signal-too-still', { signal: cause.def.name });
  }
  for (const { raw, shown } of machine?.mirrors ?? []) {
    const [a, b] = [scene.tracks[raw], scene.tracks[shown]];
    if (a === undefined || b === undefined || parted(a, b) < PARTED) continue;
    doubt('raw-disagrees', { raw: nameOf(scene, raw), shown: nameOf(scene, shown) });
  }
  const normal = scene.normalOf(interlock)?.normal.from;
  const settings = new Set<number>([
    ...tagsOf(interlock),
    ...(machine?.constants ?? []),
    ...(normal?.kind === 'tag' ? [normal.signal] : []),
  ]);
  for (const id of settings) {
    const track = scene.tracks[id];
    const row = track && changedIn(track, trial.leftAfter);
    if (row !== undefined)
      doubt('setting-changed', { signal: nameOf(scene, id), to: { low: row.low, high: row.high } });
  }
};
