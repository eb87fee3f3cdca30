/** Units that people may write, by the quantity they measure. `to` is the factor to the first unit of the kind. */
const UNITS = {
  'rotational-speed': { rpm: 1, 'rev/min': 1, 'rev/s': 60 },
  'pulse-rate': { 'pulses/min': 1, 'pulses/s': 60, Hz: 60 },
  'belt-speed': { 'm/s': 1, 'm/min': 1 / 60, 'ft/min': 0.00508 },
  temperature: { degC: 1, degF: 5 / 9, K: 1 },
  time: { s: 1, ms: 0.001, min: 60, h: 3600 },
  ratio: { '%': 1 },
  length: { mm: 1, cm: 10, m: 1000, in: 25.4 },
  current: { mA: 1, A: 1000 },
  count: { pulses: 1, count: 1 },
  state: {},
} as const;

export type QuantityKind = keyof typeof UNITS;

/** Offset of each temperature scale's zero, in degC. */
const ZERO: Readonly<Record<string, number>> = { degC: 0, degF: -160 / 9, K: -273.15 };

export const QUANTITY_KINDS = Object.keys(UNITS) as readonly QuantityKind[];

/** The units that may be written for a kind, the customary one first. */
export const unitsOf = (kind: QuantityKind): readonly string[] => Object.keys(UNITS[kind]);

/** Every unit, for suggestions. */
export const allUnits = (): readonly string[] => QUANTITY_KINDS.flatMap((kind) => unitsOf(kind));

/** The kind that a unit measures; undefined where the unit is unknown. */
export const kindOfUnit = (unit: string): QuantityKind | undefined =>
  QUANTITY_KINDS.find((kind) => Object.hasOwn(UNITS[kind], unit));

const factorOf = (kind: QuantityKind, unit: string): number | undefined =>
  (UNITS[kind] as Readonly<Record<string, number>>)[unit];

/**
 * `value` in `from` expressed in `to`; undefined where the two do not measure the same.
 * A difference converts without the offset: a rise of 40 degC is 72 degF, never 104.
 */
export const convert = (value: number, from: string, to: string, difference = false): number | undefined => {
  if (from === to) return value;
  const kind = kindOfUnit(from);
  if (kind === undefined) return undefined;
  const a = factorOf(kind, from);
  const b = factorOf(kind, to);
  if (a === undefined || b === undefined) return undefined;
  if (kind !== 'temperature' || difference) return (value * a) / b;
  return (value * a + (ZERO[from] ?? 0) - (ZERO[to] ?? 0)) / b;
};

/** A number with the unit that a person wrote behind it. */
export interface Quantity {
  readonly value: number;
  readonly unit: string;
}

const QUANTITY = /^([+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?)\s*([^\d\s.+-]\S*)$/;

/** Reads `2 s`, `82 %`, `80 degC`. Undefined for anything else; whether the unit is known is asked elsewhere. */
export const parseQuantity = (text: string): Quantity | undefined => {
  const found = QUANTITY.exec(text.trim());
  if (found === null) return undefined;
  return { value: Number(found[1]), unit: found[2] ?? '' };
};
