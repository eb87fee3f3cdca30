import type { Reason } from '../measure/index.ts';
import type { Book, Feasibility, TripPlan } from '../rulebook/index.ts';
import { formatNumber, text, unitShown } from '../words/index.ts';
import { hung } from './hung.ts';

/** Three digits are enough to plan with, and a thousandth. */
const short = (value: number): string => {
  let tens = 1_000;
  while (tens > 1 && Math.abs(value) * tens >= 1_000) tens /= 10;
  return formatNumber(Math.round(value * tens) / tens);
};

const levelLine = (trip: TripPlan): string | undefined => {
  const { setPoint, band, normal } = trip;
  if (setPoint === undefined || band === undefined) return undefined;
  const unit = unitShown(trip.unit);
  const plain = `${short(setPoint)} ${unit} (${short(band.low)} … ${short(band.high)})`;
  if (normal === undefined) return `set point ${plain}`;
  const share = (value: number): string => short((100 * value) / normal);
  return `set point ${share(setPoint)} % (${share(band.low)} … ${share(band.high)}) = ${plain}`;
};

const doubtLine = ({ tripPoint: trip, responseDoubt, delayDoubt }: Feasibility): string | undefined => {
  const unit = unitShown(trip?.unit ?? '');
  const fixed = trip?.fixed === undefined ? undefined : `${short(trip.fixed)} ${unit}`;
  const moving = trip?.seconds === undefined ? '' : ` + ${short(trip.seconds)} s of ramp`;
  const reaction = trip?.reaction ? `, ${short(trip.reaction)} s more until its reaction is measured` : '';
  const parts = [
    fixed === undefined ? undefined : `trip point ${fixed}${moving}${reaction}`,
    responseDoubt === undefined ? undefined : `response ${short(responseDoubt)} s`,
    delayDoubt === undefined ? undefined : `delay ${short(delayDoubt)} s`,
  ].filter((part) => part !== undefined);
  return parts.length === 0 ? undefined : `known within: ${parts.join('; ')}`;
};

const pulseLine = ({ pulses, tripPoint }: Feasibility): string | undefined => {
  if (pulses === undefined) return undefined;
  const { step, share, beats } = pulses;
  const unit = unitShown(tripPoint?.unit ?? '');
  const worth = step === undefined ? '' : `; one count or tick is ${short(step)} ${unit}`;
  const narrow =
    share === undefined || share > 0.5 || beats !== undefined
      ? ''
      : `; a target narrower than ${short(100 * share)} % of its pitch is shorter than a cycle`;
  return `pulses ${short(pulses.frequency)} Hz at the set point${worth}${narrow}`;
};

const interlockLines = (book: Book, one: Feasibility): string[] => {
  const interlock = book.interlocks[one.interlock];
  if (interlock === undefined) return [];
  const { tripPoint } = one;
  const told = (reason: Reason): string => text(reason, { unit: tripPoint?.unit ?? '' });
  const figures = [tripPoint && levelLine(tripPoint), doubtLine(one), pulseLine(one)];
  return [
    ...hung(`${interlock.name}  ${interlock.title}`, '  ', '  '),
    ...figures.flatMap((line) => (line === undefined ? [] : hung(line, '    '))),
    ...one.advice.flatMap((reason) => hung(told(reason), '    > ')),
    ...one.undecidable.flatMap((reason) => hung(told(reason), '    ! ')),
    ...one.notes.flatMap((reason) => hung(told(reason), '    ? ')),
  ];
};

const LEGEND = '> how to test   ! undecidable, or unsafe   ? by luck only, or deceptive';

/** What can be decided of each interlock and how to test it, no line wider than 80 columns. */
export const decidedLines = (book: Book, feasible: readonly Feasibility[]): string[] => [
  LEGEND,
  ...feasible.flatMap((one) => interlockLines(book, one)),
];
