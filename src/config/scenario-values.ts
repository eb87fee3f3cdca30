import { convert, kindOfUnit, type Micros, parseQuantity, SECOND, unitsOf } from '../measure/index.ts';
import type { SignalDef } from '../signal/index.ts';
import { percentOf, type ScenarioDesk } from './scenario-desk.ts';
import type { Piece } from './scenario-text.ts';
import { nearest } from './suggest.ts';

const TIMES = unitsOf('time');

/** `27.4 s`, `250 ms`, `2 min`; told where it is no length of time. */
export const timeOf = (desk: Pick<ScenarioDesk, 'tell'>, piece: Piece): Micros | undefined => {
  const read = parseQuantity(piece.text);
  if (read === undefined) {
    const bare = /^\d+(\.\d+)?$/.test(piece.text);
    desk.tell(piece.place, bare ? 'unit-missing' : 'not-a-quantity', { text: piece.text, units: TIMES });
    return undefined;
  }
  const seconds = kindOfUnit(read.unit) === 'time' ? convert(read.value, read.unit, 's') : undefined;
  if (seconds === undefined) {
    desk.tell(piece.place, 'unknown-unit', { unit: read.unit, units: TIMES }, nearest(read.unit, TIMES));
    return undefined;
  }
  if (seconds < 0) {
    desk.tell(piece.place, 'negative-time', { text: piece.text });
    return undefined;
  }
  return Math.round(seconds * SECOND);
};

const PERCENT = /^([+-]?\d+(?:\.\d+)?)\s*%(?:\s+of\s+(normal|nameplate))?$/;

const stateOf = (desk: ScenarioDesk, piece: Piece, signal: SignalDef): number | undefined => {
  const found = signal.states.indexOf(piece.text);
  if (found >= 0) return found;
  const known = signal.states;
  desk.tell(
    piece.place,
    'unknown-state',
    { role: signal.name, state: piece.text, known },
    nearest(piece.text, known),
  );
  return undefined;
};

const quantityOf = (
  desk: ScenarioDesk,
  piece: Piece,
  signal: SignalDef,
  difference: boolean,
): number | undefined => {
  const units = unitsOf(signal.quantity);
  const read = parseQuantity(piece.text);
  if (read === undefined) {
    const bare = /^[+-]?\d+(\.\d+)?$/.test(piece.text);
    if (bare && signal.quantity === 'count') return Number(piece.text);
    desk.tell(piece.place, bare ? 'unit-missing' : 'not-a-quantity', { text: piece.text, units });
    return undefined;
  }
  const value = convert(read.value, read.unit, signal.unit, difference);
  if (value === undefined) {
    desk.tell(piece.place, 'unknown-unit', { unit: read.unit, units }, nearest(read.unit, units));
  }
  return value;
};

/** A state, `96 rpm`, `82 %` (of normal), `5 % of nameplate`: in the unit of the signal, or its state code. */
export const valueFor = (
  desk: ScenarioDesk,
  piece: Piece,
  signal: SignalDef,
  difference = false,
): number | undefined => {
  if (signal.states.length > 0) return stateOf(desk, piece, signal);
  const share = signal.unit === '%' ? null : PERCENT.exec(piece.text);
  if (share === null) return quantityOf(desk, piece, signal, difference);
  const of = share[2] === 'nameplate' ? 'nameplate' : 'normal';
  const reference = percentOf(desk.book, signal.id, of);
  if (reference === undefined) {
    desk.tell(piece.place, 'scenario-no-normal', { signal: signal.name, of });
    return undefined;
  }
  return (Number(share[1]) / 100) * reference;
};

const RATE = /^(.+?)\s*\/\s*(s|min|h)$/;

/** `1 rpm/s`, `0.5 degC/min`, `2 %/s`: in the unit of the signal per second. */
export const slopeFor = (desk: ScenarioDesk, piece: Piece, signal: SignalDef): number | undefined => {
  const found = RATE.exec(piece.text);
  if (found === null || signal.states.length > 0) {
    desk.tell(piece.place, 'scenario-slope', { text: piece.text, unit: signal.unit });
    return undefined;
  }
  const per = convert(1, found[2] ?? 's', 's') ?? 1;
  const value = valueFor(desk, { text: (found[1] ?? '').trim(), place: piece.place }, signal, true);
  if (value === undefined) return undefined;
  if (value <= 0) desk.tell(piece.place, 'scenario-slope', { text: piece.text, unit: signal.unit });
  return value <= 0 ? undefined : value / per;
};
