import { type Micros, SECOND } from '../measure/index.ts';
import type { Cover, Line, Move } from './types.ts';

/** A part of a line: from `at` on, its value is `of(t)`; it is at rest from `over` on. */
interface Part {
  readonly at: Micros;
  readonly over: Micros;
  readonly of: (t: Micros) => number;
}

const triangle = (phase: number): number => {
  const p = phase - Math.floor(phase);
  if (p < 0.25) return 4 * p;
  return p < 0.75 ? 2 - 4 * p : 4 * p - 4;
};

const partOf = (move: Move, before: Part): Part => {
  const at = move.at ?? before.over;
  const base = before.of(at);
  switch (move.kind) {
    case 'step':
      return { at, over: at, of: () => move.value };
    case 'count':
      return { at, over: at, of: (t) => base + Math.floor((move.perSecond * (t - at)) / SECOND) };
    case 'waver':
      return { at, over: at, of: (t) => base + move.by * triangle((t - at) / move.every) };
    case 'ramp': {
      const way = move.value - base;
      const lasts = 'lasts' in move.pace ? move.pace.lasts : (Math.abs(way) / move.pace.perSecond) * SECOND;
      const over = at + lasts;
      return { at, over, of: (t) => (t >= over ? move.value : base + (way * (t - at)) / lasts) };
    }
    default:
      return move satisfies never;
  }
};

/** The value beneath all covers, by time. */
export const valueBeneath = (line: Pick<Line, 'start' | 'moves'>): ((t: Micros) => number) => {
  const parts: Part[] = [{ at: Number.NEGATIVE_INFINITY, over: 0, of: () => line.start }];
  for (const move of line.moves) {
    const before = parts.at(-1);
    if (before !== undefined) parts.push(partOf(move, before));
  }
  return (t) => parts.findLast((part) => part.at <= t)?.of(t) ?? line.start;
};

/** What a poll at an instant shows of a line. */
export interface Shown {
  readonly value: number;
  readonly flags: number;
  readonly absence?: Extract<Cover['what'], { kind: 'absent' }>['absence'];
  readonly silent: boolean;
}

/** What is shown at `t`, covers included. */
export const shownOf = (line: Line): ((t: Micros) => Shown) => {
  const value = valueBeneath(line);
  return (t) => {
    let shown: Shown = { value: value(t), flags: 0, silent: false };
    if (line.covers.length === 0) return shown;
    for (const { from, until, what } of line.covers) {
      if (t < from || t >= until) continue;
      if (what.kind === 'value') shown = { ...shown, value: what.value };
      else if (what.kind === 'frozen') shown = { ...shown, value: value(from) };
      else if (what.kind === 'silent') shown = { ...shown, silent: true };
      else if (what.kind === 'flags') shown = { ...shown, flags: shown.flags | what.flags };
      else shown = { ...shown, absence: what.absence };
    }
    return shown;
  };
};
