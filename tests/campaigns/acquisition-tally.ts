/** Counts of the acquisition campaign: plain data, added up fault by fault, written to a file and read back. */
import type { Fault } from '../servers/faults.ts';
import { type Drawn, isHarmless, isPunctual, POLL, reasonsOf, TIMEOUT } from './acquisition-draw.ts';
import type { Suffered } from './acquisition-watch.ts';

/** Faults in which the process slept for longer than this in all, ms, are counted. */
const AWAKE = 30;
/** A harmless fault that took longer than this share of the time-out, because the machine was busy, was not harmless. */
const HARMLESS = 0.6;
/** Slots without a value that a peer's return may cost. */
const SLOTS = 2;
/** A connection that was refused is tried again after this, ms: that is within the next slot, but not of polls so fast. */
const REST = 50;

/**
 * On a line without transactions a late answer looks like the next one. After a fault the unit is left alone for longer
 * than its slowest answer, its next answer is thrown away, and it is left alone once more: that is not the peer's doing.
 */
const SILENCE = 2 * 1.1 * TIMEOUT + REST;
/** That the connection to a converter is dead shows by a second time-out, behind a silence of its own. */
const SECOND = 2.1 * TIMEOUT;

const leavesDead = (fault: Fault): boolean =>
  (fault.kind === 'half-open' && !fault.release) || (fault.kind === 'truncate' && fault.mute);

const slotsOf = ({ kind, fault }: Drawn): number => {
  const line = kind.startsWith('rtu');
  const more = (line ? SILENCE : 0) + (line && leavesDead(fault) ? SECOND : 0);
  // The question that is thrown away, and the one that checks, take a slot each.
  return SLOTS + Math.ceil((REST + more) / POLL) + (line ? 2 : 0);
};

interface Row {
  faults: number;
  /** Faults that took a value away. */
  felt: number;
  wrongs: number;
  readonly reasons: Record<string, number>;
  /** By slots without a value after the peer's return, and after the first connection from then on. */
  readonly slots: Record<string, number>;
  readonly slotsConnected: Record<string, number>;
}

export interface Wrong {
  readonly what: 'value' | 'reason' | 'needless' | 'recovery' | 'trouble' | 'leak';
  readonly seed: number;
  readonly detail: string;
}

export interface Tally {
  readonly seed: number;
  /** Faults done. */
  done: number;
  /** By kind of connection and name of the fault. */
  readonly rows: Record<string, Row>;
  readonly wrongs: Wrong[];
  /** Of poll periods from the peer's return to the last request's value: counts by whole period, 20 and more as one. */
  readonly periods: Record<string, number>;
  /** Faults during which the process slept. */
  asleep: number;
  /** Heap in bytes after each chunk, everything stopped. */
  readonly heap: number[];
}

export const newTally = (seed: number): Tally => ({
  seed,
  done: 0,
  rows: {},
  wrongs: [],
  periods: {},
  asleep: 0,
  heap: [],
});

const bump = (into: Record<string, number>, key: string, by = 1): void => {
  into[key] = (into[key] ?? 0) + by;
};

const newRow = (): Row => ({ faults: 0, felt: 0, wrongs: 0, reasons: {}, slots: {}, slotsConnected: {} });

const WIDEST = 20;

/** What is wrong with how a fault was borne. */
const wrongsOf = (drawn: Drawn, got: Suffered): Omit<Wrong, 'seed'>[] => {
  const about = `${drawn.kind}: ${drawn.name} ${JSON.stringify(drawn.fault)}`;
  const found: Omit<Wrong, 'seed'>[] = got.wrongs.map((wrong) => ({
    what: 'value',
    detail: `${about}: ${wrong}`,
  }));
  if (got.trouble !== undefined) found.push({ what: 'trouble', detail: `${about}: ${got.trouble}` });
  const allowed = reasonsOf(drawn);
  const odd = Object.keys(got.absences).filter((why) => !allowed.has(why));
  // A slot that passes while the one before is being answered has no answer of its own.
  const needless = Object.keys(got.absences).some((why) => why !== 'not-polled');
  const told = `${JSON.stringify(got.absences)}, asleep ${got.asleep.toFixed(0)} ms`;
  if (isHarmless(drawn)) {
    if (needless && isPunctual(drawn.kind) && got.lasted + got.asleep < HARMLESS * TIMEOUT)
      found.push({ what: 'needless', detail: `${about}: ${told}` });
  } else if (odd.length > 0 && got.asleep < HARMLESS * TIMEOUT)
    found.push({ what: 'reason', detail: `${about}: ${told}` });
  // While this process slept, slots went by; a whole time-out of sleep is a fault of its own, and no unit's.
  const slept = Math.ceil(got.asleep / POLL);
  if (isPunctual(drawn.kind) && got.asleep < TIMEOUT && got.slots > slotsOf(drawn) + slept)
    found.push({
      what: 'recovery',
      detail: `${about}: ${got.slots} slots, asleep ${got.asleep.toFixed(0)} ms`,
    });
  return found;
};

export const add = (tally: Tally, seed: number, drawn: Drawn, got: Suffered): void => {
  const key = `${drawn.kind}\t${drawn.name}`;
  tally.rows[key] ??= newRow();
  const row = tally.rows[key]!;
  row.faults += 1;
  if (Object.keys(got.absences).length > 0) row.felt += 1;
  row.wrongs += got.wrongs.length;
  for (const [why, count] of Object.entries(got.absences)) bump(row.reasons, why, count);
  bump(row.slots, String(got.slots));
  bump(row.slotsConnected, String(got.slotsConnected));
  bump(tally.periods, String(Math.min(WIDEST, Math.floor(got.periods))));
  if (got.asleep > AWAKE) tally.asleep += 1;
  for (const wrong of wrongsOf(drawn, got)) tally.wrongs.push({ ...wrong, seed });
};

export const wrongsLike = (tally: Tally, ...what: readonly Wrong['what'][]): Wrong[] =>
  tally.wrongs.filter((one) => what.includes(one.what));

const spread = (counts: Readonly<Record<string, number>>): string =>
  Object.entries(counts)
    .sort((a, b) => Number(a[0]) - Number(b[0]))
    .map(([key, count]) => `${key}:${count}`)
    .join(' ');

const sum = (rows: readonly Row[], of: (row: Row) => number): number =>
  rows.reduce((total, row) => total + of(row), 0);

const joined = (rows: readonly Row[], of: (row: Row) => Readonly<Record<string, number>>) => {
  const all: Record<string, number> = {};
  for (const row of rows) for (const [key, count] of Object.entries(of(row))) bump(all, key, count);
  return all;
};

const reasonsText = (row: Row): string =>
  Object.entries(row.reasons)
    .sort((a, b) => b[1] - a[1])
    .map(([why, count]) => `${why} ${count}`)
    .join(', ');

const kindsOf = (tally: Tally): string[] =>
  [...new Set(Object.keys(tally.rows).map((key) => key.split('\t')[0]!))].sort();

const rowsOf = (tally: Tally, kind: string): Row[] =>
  Object.entries(tally.rows).flatMap(([key, row]) => (key.startsWith(`${kind}\t`) ? row : []));

const tableOf = (tally: Tally): string[] => {
  const names = [...new Set(Object.keys(tally.rows).map((key) => key.split('\t')[1]!))].sort();
  const kinds = kindsOf(tally);
  const head = `| fault | ${kinds.join(' | ')} | wrong values | reasons of absence |`;
  const lines = names.map((name) => {
    const rows = kinds.map((kind) => tally.rows[`${kind}\t${name}`]);
    const there = rows.flatMap((row) => row ?? []);
    const reasons = reasonsText({ ...newRow(), reasons: joined(there, (row) => row.reasons) });
    const counts = rows.map((row) => row?.faults ?? '–').join(' | ');
    return `| ${name} | ${counts} | ${sum(there, (row) => row.wrongs)} | ${reasons || 'none'} |`;
  });
  const all = kinds.map((kind) => sum(rowsOf(tally, kind), (row) => row.faults));
  const wrong = sum(Object.values(tally.rows), (row) => row.wrongs);
  return [
    head,
    `|---|${'---|'.repeat(kinds.length)}---|---|`,
    ...lines,
    `| all | ${all.join(' | ')} | ${wrong} | |`,
  ];
};

const MEGA = 1_048_576;

const heapText = ({ heap }: Tally): string =>
  heap.length === 0 ? 'not measured' : `${heap.map((bytes) => (bytes / MEGA).toFixed(1)).join(' ')} MB`;

/** The summary as text. `command` repeats the campaign. */
export const summaryOf = (tally: Tally, command: string): string => {
  const rows = Object.values(tally.rows);
  return [
    `${tally.done} faults, seed ${tally.seed}`,
    `Repeat: ${command}`,
    'One fault: TRIPWITNESS_SEED=<its seed> in place of the number of faults',
    '',
    ...tableOf(tally),
    '',
    "Slots without a value after the peer's return (slots:faults)",
    ...kindsOf(tally).map((kind) => `  ${kind}: ${spread(joined(rowsOf(tally, kind), (row) => row.slots))}`),
    `All, from the first connection after the return: ${spread(joined(rows, (row) => row.slotsConnected))}`,
    `Poll periods from the peer's return to a value of every request (${WIDEST}: as many or more): ${spread(tally.periods)}`,
    `Faults during which this process itself slept for over ${AWAKE} ms: ${tally.asleep}`,
    `Heap after each chunk, everything stopped: ${heapText(tally)}`,
    '',
    `Wrong: ${tally.wrongs.length}`,
    ...tally.wrongs.map((one) => `  ${one.what} seed ${one.seed}: ${one.detail}`),
    '',
  ].join('\n');
};
