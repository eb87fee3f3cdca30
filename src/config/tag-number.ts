import type { BitField, Conversion, NumberType } from '../signal/index.ts';
import { inUnit } from './quantities.ts';
import { perPulse } from './tag-pulses.ts';
import { clash, type TagDesk, tellAlone } from './tag-use.ts';

/** Least and greatest raw value of the types that have few. */
const RANGES: Readonly<Record<string, readonly [number, number]>> = {
  uint16: [0, 65_535],
  int16: [-32_768, 32_767],
  uint32: [0, 4_294_967_295],
  int32: [-2_147_483_648, 2_147_483_647],
  bcd16: [0, 9_999],
  bcd32: [0, 99_999_999],
};

/** Raw values that mean a fault. One that the type can never hold would guard nothing. */
const faultCodes = (desk: TagDesk, type: NumberType | undefined, field: BitField | undefined): number[] => {
  const codes = (desk.tag.faults ?? []).filter((raw) => raw !== undefined);
  const range = type === undefined || field !== undefined ? undefined : RANGES[type];
  if (range === undefined) return codes;
  const [low, high] = range;
  for (const code of codes) {
    if (code < low || code > high || !Number.isInteger(code))
      desk.tell(desk.at.of('faults'), 'fault-code-never', { code, type: type ?? '', low, high });
  }
  return codes;
};

/** What the scaled number is multiplied by: it is a percentage of something, or turns a minute of a pulley. */
const timesOf = (desk: TagDesk, unit: string): number | undefined => {
  const { tag, at, tell } = desk;
  if (tag.pulses === 'per-minute' || tag.pulses === 'per-second') {
    if (clash(desk, 'pulses', 'percent-of')) return undefined;
    const one = perPulse(desk, unit);
    return one === undefined ? undefined : one / (tag.pulses === 'per-minute' ? 60 : 1);
  }
  const belt = inUnit('1 m/s', unit);
  if (belt === undefined) tellAlone(desk, ['pulley'], 'a speed of a belt');
  const around = belt === undefined ? undefined : inUnit(tag.pulley, 'm');
  const share = inUnit(tag['percent-of'], around === undefined ? unit : 'rpm');
  if (tag['percent-of'] !== undefined && share === undefined) {
    const wanted = around === undefined ? unit : 'rpm';
    tell(at.of('percent-of'), 'wrong-unit', { unit: tag['percent-of'], wanted, units: [wanted] });
    return undefined;
  }
  const perTurn = around === undefined || belt === undefined ? 1 : (Math.PI * around * belt) / 60;
  return (share === undefined ? 1 : share / 100) * perTurn;
};

/** Keys that turn a number into something else than its scaled value; of a state there is none. */
export const MEASURE_KEYS = ['curve', 'loop', 'percent-of', 'pulley', 'pulses'] as const;

/** From the raw number on; undefined where it cannot be said (and has been told). */
export const conversionOf = (
  desk: TagDesk,
  unit: string,
  type: NumberType | undefined,
  field: BitField | undefined,
): Conversion | undefined => {
  const { tag } = desk;
  const faults = faultCodes(desk, type, field);
  for (const one of ['curve', 'loop'] as const)
    for (const other of ['percent-of', 'pulley', 'pulses'] as const)
      if (clash(desk, one, other)) return undefined;
  const times = unit === '' ? 1 : timesOf(desk, unit);
  if (times === undefined) return undefined;
  return {
    ...(field !== undefined && { field }),
    faults,
    scale: (tag.scale ?? 1) * times,
    offset: (tag.offset ?? 0) * times,
  };
};
