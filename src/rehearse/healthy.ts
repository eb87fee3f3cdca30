import { convert, type Interval, SECOND, type SignalId } from '../measure/index.ts';
import { type Book, type Cause, levelAt, type References } from '../rulebook/index.ts';
import type { SignalDef } from '../signal/index.ts';
import type { Line, Move } from './types.ts';

const middle = (interval: Interval | undefined): number | undefined =>
  interval && (interval.low + interval.high) / 2;

/** What percentages of a signal refer to while all is well. */
export const referencesOf = (book: Book, signal: number): References => {
  const normal = book.machines.flatMap((machine) => machine.normals).find((one) => one.signal === signal);
  const declared = normal?.from.kind === 'declared' ? normal.from.value : undefined;
  return { normal: declared ?? normal?.nameplate, nameplate: normal?.nameplate };
};

const BEATS = 10;

/** Causes and the members of groups of them. */
export const causesOf = (cause: Cause): readonly Cause[] =>
  cause.kind === 'group' ? cause.of.flatMap(causesOf) : [cause];

/** Pulses come fast enough, and a signal that must not stand still moves, so that neither is a cause while all is well. */
const aliveMoves = (book: Book, signal: SignalDef): readonly Move[] => {
  const causes = book.interlocks
    .flatMap(({ cause }) => causesOf(cause))
    .filter((one) => one.signal === signal.id);
  const stuck = causes.filter((one) => one.kind === 'stuck');
  const [first] = stuck;
  if (first !== undefined) {
    const after = Math.min(...stuck.map((one) => one.after));
    const by = Math.max(...stuck.map((one) => one.within)) + 2 * signal.resolution;
    return [{ kind: 'waver', at: 0, by, every: Math.max(after / 3, 200_000) }];
  }
  if (signal.quantity !== 'count') return [];
  const gaps = causes.map((one) => (one.kind === 'no-pulses' ? one.after : SECOND));
  return [{ kind: 'count', at: 0, perSecond: Math.max(BEATS, (BEATS * SECOND) / Math.min(SECOND, ...gaps)) }];
};

/** Levels beyond which a cause is certainly gone: the value must lie between them. */
const between = (book: Book, signal: SignalDef): number => {
  let least: number | undefined;
  let most: number | undefined;
  for (const { cause } of book.interlocks) {
    if (cause.kind !== 'level' || cause.signal !== signal.id) continue;
    const level = middle(levelAt(cause.clears, referencesOf(book, signal.id)));
    if (level === undefined) continue;
    if (cause.side === 'below') least = Math.max(least ?? level, level);
    else most = Math.min(most ?? level, level);
  }
  if (least !== undefined && most !== undefined) return (least + most) / 2;
  if (most !== undefined) return most - Math.max(0.1 * Math.abs(most), 5 * signal.resolution);
  return least === undefined ? 0 : least + Math.max(0.1 * Math.abs(least), 5 * signal.resolution);
};

const MILD = 25;

/** Bearings and the air around them are as warm as each other, so that no difference is a cause. */
const mild = (signal: SignalDef, value: number): number => {
  if (signal.quantity !== 'temperature') return value;
  const usual = convert(MILD, 'degC', signal.unit) ?? value;
  return value === 0 ? usual : Math.min(value, usual);
};

const stillLevel = (book: Book, signal: number): number | undefined => {
  for (const { effects } of book.interlocks) {
    for (const { becomes, signal: own } of effects) {
      if (own === signal && becomes.kind === 'level')
        return middle(levelAt(becomes.level, referencesOf(book, own)));
    }
  }
  return undefined;
};

const measured = (book: Book, signal: SignalDef): Pick<Line, 'start' | 'moves'> => {
  const constant = book.machines.some(
    (one) => one.revision === signal.id || one.constants?.includes(signal.id) === true,
  );
  const moves = constant ? [] : aliveMoves(book, signal);
  if (signal.quantity === 'count') return { start: 0, moves };
  const source = book.machines
    .flatMap((machine) => machine.normals)
    .find(({ from }) => from.kind === 'tag' && from.signal === signal.id);
  const own = referencesOf(book, source?.signal ?? signal.id).normal;
  if (own !== undefined) return { start: middle(own) ?? 0, moves };
  const still = stillLevel(book, signal.id);
  return { start: still === undefined ? mild(signal, between(book, signal)) : 20 * still, moves };
};

/** A machine runs; everything else is at rest, which is the first of its states unless that is a cause. */
const restState = (book: Book, signal: number): number => {
  const running = book.machines.flatMap((machine) => [...machine.running, ...(machine.feedbacks ?? [])]);
  const shown = running.find((one) => one.signal === signal);
  if (shown !== undefined) return shown.state;
  const causes = book.interlocks.flatMap(({ cause }) => causesOf(cause));
  const feared = causes.some(
    (cause) => cause.kind === 'contact' && cause.signal === signal && cause.state === 0,
  );
  return feared ? 1 : 0;
};

/** A signal while all is well: machines run at their normal, no cause is there, no effect, nobody at a button. */
export const healthyLine = (book: Book, id: SignalId): Line => {
  const signal = book.signals[id];
  const idle = { signal: id, covers: [] };
  if (signal === undefined) return { ...idle, start: 0, moves: [] };
  if (signal.states.length > 0) return { ...idle, start: restState(book, id), moves: [] };
  return { ...idle, ...measured(book, signal) };
};
