import type { Interval, SignalId } from '../measure/index.ts';
import { type Interlock, levelAt, levelPlus, type Machine, type References } from '../rulebook/index.ts';

/** Levels of an interlock in the unit of its cause, as far as normal and nameplate are known. */
export interface Bands {
  readonly setPoint?: Interval;
  /** Set point ± tolerance, as wide as the doubt of normal makes it. */
  readonly allowed?: Interval;
  /** The same as narrow as that doubt makes it: what lies in it lies in it for certain. */
  readonly certain?: Interval;
  readonly clears?: Interval;
  readonly limit?: Interval;
  readonly limitSide?: 'no-lower-than' | 'no-higher-than';
  readonly normal?: Interval;
  /** Of a value that is held between two levels: the one nearer to normal, and the farther one. */
  readonly near?: Interval;
  readonly far?: Interval;
}

/** What the levels of a signal refer to. `measured`: its normal in the window. */
export const referencesOf = (
  machine: Machine | undefined,
  signal: SignalId,
  measured?: Interval,
): References => {
  const known = machine?.normals.find((one) => one.signal === signal);
  const declared = known?.from.kind === 'declared' ? known.from.value : undefined;
  return { normal: measured ?? declared, nameplate: known?.nameplate };
};

const around = (low: Interval | undefined, high: Interval | undefined): Pick<Bands, 'allowed' | 'certain'> =>
  low === undefined || high === undefined
    ? {}
    : { allowed: { low: low.low, high: high.high }, certain: { low: low.high, high: high.low } };

export const bandsOf = (interlock: Interlock, references: References): Bands => {
  const { cause, limit } = interlock;
  const { normal } = references;
  const own = normal ? { normal } : {};
  if (cause.kind === 'band') {
    const near = levelAt(cause.near, references);
    const far = levelAt(cause.far, references);
    return { ...own, ...(near && { near }), ...(far && { far }) };
  }
  if (cause.kind !== 'level') return own;
  const setPoint = levelAt(cause.setPoint, references);
  const clears = levelAt(cause.clears, references);
  const bound = limit && levelAt(limit.level, references);
  const edge = (sign: number): Interval | undefined =>
    levelAt(levelPlus(cause.setPoint, cause.tolerance, sign), references);
  return {
    ...own,
    ...(setPoint && { setPoint, ...around(edge(-1), edge(1)) }),
    ...(clears && { clears }),
    ...(bound && limit && { limit: bound, limitSide: limit.side }),
  };
};

/** The set point is a share of normal and nothing else, so that levels may be told in percent of it. */
export const isShare = ({ cause }: Interlock): boolean =>
  cause.kind === 'level' && cause.setPoint.of === 'normal' && cause.setPoint.offset === 0;
