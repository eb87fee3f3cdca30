import { MILLISECOND, type Micros, SECOND, type SignalId } from '../measure/index.ts';
import { type Condition, type Effect, type Interlock, levelAt } from '../rulebook/index.ts';
import { causesOf, referencesOf } from './healthy.ts';
import type { Acting, Cover, Line, Move, Play } from './types.ts';

/** How far a class of effect lies behind the controller's decision. Common practice, no source. */
const LAG: Readonly<Record<Effect['class'], Micros>> = {
  alarm: 0,
  trip: 0,
  command: 0,
  feedback: 100 * MILLISECOND,
  motion: 150 * MILLISECOND,
  feed: 200 * MILLISECOND,
};

/** Least time from one effect to the next where an order is asked for. */
const STEP = 100 * MILLISECOND;

/** Times after the decision at which the effects come, by index: in their order, with what they follow. */
export const effectLags = (interlock: Interlock): readonly Micros[] => {
  const lags: Micros[] = [];
  const delay = interlock.delay?.time ?? 0;
  for (const effect of interlock.effects) {
    const soonest = effect.notBefore > 0 ? effect.notBefore - delay + 2 * STEP : 0;
    const before = effect.after.map((index) => (lags[index] ?? 0) + STEP);
    lags.push(Math.max(LAG[effect.class], soonest, ...before));
  }
  return lags;
};

/** What one effect lays over its signal while it is there. */
export interface Laid {
  readonly signal: SignalId;
  readonly moves: readonly Move[];
  readonly covers: readonly Cover[];
}

/** A machine coasts down and comes back; a state is there from `from` to `until`. */
export const layEffect = (
  play: Pick<Play, 'book'>,
  effect: Effect,
  from: Micros,
  until: Micros,
  back: number,
): Laid => {
  const { becomes, signal } = effect;
  if (becomes.kind === 'stays') return { signal, moves: [], covers: [] };
  if (becomes.kind === 'state') {
    return { signal, moves: [], covers: [{ from, until, what: { kind: 'value', value: becomes.state } }] };
  }
  const level = levelAt(becomes.level, referencesOf(play.book, signal));
  const value = becomes.side === 'below' ? Math.min(0, level?.low ?? 0) : 2 * (level?.high ?? 0);
  const coast = Math.min(2 * SECOND, Math.max(100 * MILLISECOND, effect.within / 4));
  return {
    signal,
    moves: [
      { kind: 'ramp', at: from, value, pace: { lasts: coast } },
      ...(Number.isFinite(until)
        ? [{ kind: 'ramp' as const, at: until, value: back, pace: { lasts: SECOND } }]
        : []),
    ],
    covers: [],
  };
};

const BUTTON = 400 * MILLISECOND;

const NEVER = Number.POSITIVE_INFINITY;

/** When an effect goes away again, before its lag. */
export const endOf = (effect: Effect, acting: Acting): Micros => {
  const reset = acting.reset ?? NEVER;
  if (effect.until === 'cause-clears') return acting.clears ?? reset;
  const stands = effect.class === 'alarm' || effect.class === 'trip';
  return stands ? reset : (acting.start ?? reset);
};

const pressOf = (
  conditions: readonly Condition[],
  at: Micros | undefined,
  cause: readonly SignalId[],
): readonly Laid[] => {
  const [first] = conditions;
  // A button that is the cause itself is pressed for that alone.
  if (first === undefined || at === undefined || cause.includes(first.signal)) return [];
  const what = { kind: 'value', value: first.state } as const;
  return [{ signal: first.signal, moves: [], covers: [{ from: at, until: at + BUTTON, what }] }];
};

const laidBy = (
  play: Pick<Play, 'book'>,
  lineOf: (signal: SignalId) => Line,
  acting: Acting,
): readonly Laid[] => {
  const interlock = play.book.interlocks[acting.interlock];
  if (interlock === undefined) return [];
  const lags = effectLags(interlock);
  const machine = play.book.machines[interlock.machine];
  const cause = causesOf(interlock.cause).map(({ signal }) => signal);
  const effects = interlock.effects.map((effect, index) => {
    const lag = lags[index] ?? 0;
    return layEffect(
      play,
      effect,
      acting.from + lag,
      endOf(effect, acting) + lag,
      lineOf(effect.signal).start,
    );
  });
  return [
    ...effects,
    ...pressOf(machine?.resets ?? [], acting.reset, cause),
    ...pressOf(machine?.starts ?? [], acting.start, cause),
  ];
};

/** The lines of everything that acting interlocks, and the buttons after them, move. */
export const withActing = (
  play: Pick<Play, 'book'>,
  lineOf: (signal: SignalId) => Line,
  acting: readonly Acting[],
): ReadonlyMap<SignalId, Line> => {
  const lines = new Map<SignalId, Line>();
  for (const laid of acting.flatMap((one) => laidBy(play, lineOf, one))) {
    const line = lines.get(laid.signal) ?? lineOf(laid.signal);
    lines.set(laid.signal, {
      ...line,
      moves: [...line.moves, ...laid.moves],
      covers: [...line.covers, ...laid.covers],
    });
  }
  return lines;
};
