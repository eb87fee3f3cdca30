import type { LevelsNow, SignalShown } from '../../api/index.ts';
import type { Interval } from '../../measure/index.ts';
import type { Series } from './series.ts';

/** A signal on the plot. */
export interface PlotSignal {
  /** What stands beside its line, and in the list: `1`, `2`, or `1′` of the second trial. */
  readonly key: string;
  readonly name: string;
  readonly shown: SignalShown | undefined;
  readonly series: Series;
  /** Of the second of two trials laid over each other: drawn in the thinner, broken manner. */
  readonly second: boolean;
}

export const BAND_KINDS = ['normal', 'allowed', 'set-point', 'clears', 'near', 'far', 'limit'] as const;
export type BandKind = (typeof BAND_KINDS)[number];

/** A level that a signal is held against, in the signal's own unit. */
export interface PlotBand {
  readonly signal: string;
  readonly kind: BandKind;
  readonly level: Interval;
  /** Of a limit: on which side of it nothing may be. */
  readonly forbidden?: 'below' | 'above';
}

/** Something that a person said, or that began or ended, at an instant. */
export interface PlotMark {
  readonly t: number;
  readonly kind: 'now' | 'attested' | 'comment' | 'trial' | 'note';
  readonly text: string;
}

/** A place that somebody asked to be shown. `level`: of the signal with this name. */
export interface Highlight {
  readonly from?: number;
  readonly to?: number;
  readonly signal: string;
  readonly level?: Interval;
}

export interface PlotModel {
  readonly signals: readonly PlotSignal[];
  readonly bands: readonly PlotBand[];
  readonly marks: readonly PlotMark[];
  readonly highlight?: Highlight;
  /** Microseconds since 1970 of the plot's zero. */
  readonly zero: number;
  /** How instants are told: time of day, or seconds after the zero. */
  readonly times: 'clock' | 'elapsed';
}

/** The levels of an interlock as bands on the signal of its cause. */
export const bandsOf = (signal: string, levels: LevelsNow): readonly PlotBand[] => {
  const { normal, allowed, setPoint, clears, near, far, limit, limitSide } = levels;
  const known: readonly (readonly [BandKind, Interval | undefined])[] = [
    ['normal', normal],
    ['allowed', allowed],
    ['set-point', setPoint],
    ['clears', clears],
    ['near', near],
    ['far', far],
  ];
  const bands: readonly PlotBand[] = known.flatMap(([kind, level]) =>
    level === undefined ? [] : [{ signal, kind, level }],
  );
  if (limit === undefined) return bands;
  const forbidden = limitSide === 'no-higher-than' ? 'above' : 'below';
  return [...bands, { signal, kind: 'limit', level: limit, forbidden }];
};

/** Has names of states, so that it is drawn as a strip. */
export const isState = ({ shown }: Pick<PlotSignal, 'shown'>): boolean => (shown?.states.length ?? 0) > 0;

/** Measured signals with their place among themselves, from which each has its line; the second of a pair has the first's. */
export const linePlaces = ({ signals }: PlotModel): ReadonlyMap<PlotSignal, number> => {
  const names = [...new Set(signals.filter((one) => !isState(one)).map(({ name }) => name))];
  return new Map(
    signals.filter((one) => !isState(one)).map((signal) => [signal, names.indexOf(signal.name)]),
  );
};
