import type { ArithmeticLine, RecordNow, TraceNow, TrialRecord } from '../../../api/index.ts';
import { bandsOf, type PlotMark, type PlotModel, type PlotSignal } from '../../plot/model.ts';
import { createSeries } from '../../plot/series.ts';
import { signalNamed } from '../../state/book.ts';
import { say } from '../../text/say.ts';
import { marksOf } from '../live/marks.ts';
import { type Align, shiftOf } from './aligned.ts';
import { type Loaded, show, WIDTH } from './detail.ts';

export { WIDTH };

/** A trial with all that was read of it. */
export interface Tried {
  readonly window: string;
  readonly record: RecordNow;
  readonly interlock: RecordNow['interlocks'][number];
  readonly trial: TrialRecord;
  readonly trace: TraceNow;
  /** Cause first. */
  readonly signals: readonly string[];
}

/** A plot of one trial, or of two over each other. */
export interface Laid {
  readonly model: PlotModel;
  readonly loaded: readonly Loaded[];
  readonly cause: string;
  readonly arithmetic: readonly ArithmeticLine[];
  readonly readings: number;
  /** Seconds by which the second one is moved. */
  readonly shift?: number;
}

/** What was before and after belongs to the picture. */
export const spanAround = ({ from, to }: TrialRecord): { readonly from: number; readonly to: number } => {
  const around = Math.max(3, (to - from) * 0.12);
  return { from: from - around, to: to + around };
};

const isStateNamed = (name: string): boolean => (signalNamed(name)?.states.length ?? 0) > 0;

const triedFor = ({ trial, interlock, trace }: Tried): Parameters<typeof shiftOf>[0] => ({
  trial,
  setPoint: interlock.levels.setPoint,
  rows: trace.rows,
  isState: isStateNamed(interlock.signal),
});

const load = ({ window, signals, trace, trial }: Tried, shift: number): Loaded => {
  const loaded = {
    window,
    signals,
    series: signals.map(createSeries),
    rows: trace.rows,
    ...spanAround(trial),
    shift,
  };
  show(loaded, trace.rows);
  return loaded;
};

const signalsFor = ({ signals, series }: Loaded, second: boolean): readonly PlotSignal[] =>
  signals.flatMap((name, place) => {
    const own = series[place];
    const key = `${place + 1}${second ? '′' : ''}`;
    return own === undefined ? [] : [{ key, name, shown: signalNamed(name), series: own, second }];
  });

/** Each signal of the first with the second's beneath it. */
const paired = ([first = [], second = []]: readonly (readonly PlotSignal[])[]): readonly PlotSignal[] =>
  first.flatMap((one) => [one, ...second.filter(({ name }) => name === one.name)]);

/** Where a look at a trial begins: where the first effect came, or at its beginning. */
export const firstLook = ({ effects, from }: TrialRecord): number => {
  const came = effects.flatMap(({ to }) => (to === undefined ? [] : [to]));
  return came.length === 0 ? from : Math.min(...came);
};

const trialMarks = ({ trial, from, to }: TrialRecord): readonly PlotMark[] => [
  { t: from, kind: 'trial', text: say('records', 'trial-begins', { n: trial }) },
  { t: to, kind: 'trial', text: say('records', 'trial-ends', { n: trial }) },
];

/** Times are seconds after the opening of the first one's window, as its arithmetic tells them. */
export const laidOut = (first: Tried, second: Tried | undefined, align: Align): Laid => {
  const { record, interlock, trial } = first;
  const shift = second && shiftOf(triedFor(first), triedFor(second), align);
  const loaded = [load(first, 0), ...(second && shift !== undefined ? [load(second, shift)] : [])];
  return {
    model: {
      zero: record.zero,
      times: 'elapsed',
      signals: paired(loaded.map((one, place) => signalsFor(one, place === 1))),
      bands: bandsOf(interlock.signal, interlock.levels),
      marks: [...trialMarks(trial), ...marksOf(record, record.zero)],
    },
    loaded,
    cause: interlock.signal,
    arithmetic: trial.arithmetic,
    readings: first.trace.readings,
    ...(shift !== undefined && { shift }),
  };
};
