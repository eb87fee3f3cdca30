/**
 * What is measured, with its doubt: instants, intervals, quantities with units, absence with a reason,
 * readings in columns, and the algebra of verdicts. Pure; imports no other room.
 *
 * Times follow RFC 3339; intervals and their comparison follow design section "What a verdict means".
 * Proved by tests/rooms/measure.
 */
export { ABSENCES, type Absence, absenceAt, absenceIndex } from './absence.ts';
export { type Allowed, type Conformity, type DecisionRule, decide, type Shape } from './conformance.ts';
export {
  formatUtc,
  type Instant,
  instant,
  later,
  MILLISECOND,
  type Micros,
  parseUtc,
  SECOND,
  type Span,
  spanOf,
} from './instant.ts';
export {
  add,
  atMost,
  divide,
  exactly,
  type Interval,
  lessThan,
  type Place,
  place,
  scale,
} from './interval.ts';
export {
  COARSEST,
  exchangeOf,
  grainOf,
  hullOf,
  newOffset,
  type OffsetTrack,
  offsetAt,
  shownWithin,
  takeExchange,
  whenShown,
} from './offset.ts';
export {
  allUnits,
  convert,
  kindOfUnit,
  parseQuantity,
  QUANTITY_KINDS,
  type Quantity,
  type QuantityKind,
  unitsOf,
} from './quantity.ts';
export {
  addCopy,
  addRow,
  columnsOf,
  dropFirst,
  type Filling,
  FLAGS,
  newReadings,
  partOf,
  putCopy,
  type Reading,
  type Readings,
  readingAt,
  rowsIn,
  type SignalId,
} from './readings.ts';
export { createThinner, type TakeRow, type Thinner, type Thinning } from './thin.ts';
export {
  allOf,
  exitCodeOf,
  OUTCOMES,
  type Outcome,
  type Param,
  type Phrase,
  type Reason,
  SEGMENTS,
  type Segment,
} from './verdict.ts';
