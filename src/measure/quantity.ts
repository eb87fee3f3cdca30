import Qty from 'js-quantities';

/**
 * Units that people may write, by the quantity they measure, the customary one first; beside each what the library calls
 * it. Turns and pulses are counted: as an angular velocity rpm would bring 2π with it.
 */
const UNITS = {
  'rotational-speed': { rpm: '1/min', 'rev/min': '1/min', 'rev/s': '1/s' },
  'pulse-rate': { 'pulses/min': '1/min', 'pulses/s': '1/s', Hz: 'Hz' },
  'belt-speed': { 'm/s': 'm/s', 'm/min': 'm/min', 'ft/min': 'ft/min' },
  temperature: { degC: 'degC', degF: 'degF', K: 'degK' },
  time: { s: 's', ms: 'ms', min: 'min', h: 'h', d: 'day' },
  ratio: { '%': '%' },
  length: { mm: 'mm', cm: 'cm', m: 'm', in: 'in' },
  current: { mA: 'mA', A: 'A' },
  voltage: { mV: 'mV', V: 'V' },
  resistance: { ohm: 'ohm', kohm: 'kohm' },
  count: { pulses: '', count: '' },
  state: {},
} as const satisfies Readonly<Record<string, Readonly<Record<string, string>>>>;

export type QuantityKind = keyof typeof UNITS;

/** Where each temperature scale has its zero, in degC (32 degF and 273.15 K are 0 degC by definition). */
const ZERO: Readonly<Record<string, number>> = { degC: 0, degF: -160 / 9, K: -273.15 };

export const QUANTITY_KINDS = Object.keys(UNITS) as readonly QuantityKind[];

/** The units that may be written for a kind, the customary one first. */
export const unitsOf = (kind: QuantityKind): readonly string[] => Object.keys(UNITS[kind]);

/** Every unit, for suggestions. */
export const allUnits = (): readonly string[] => QUANTITY_KINDS.flatMap((kind) => unitsOf(kind));

/** The kind that a unit measures; undefined where the unit is unknown. */
export const kindOfUnit = (unit: string): QuantityKind | undefined =>
  QUANTITY_KINDS.find((kind) => Object.hasOwn(UNITS[kind], unit));

/** Of each unit to the first of its kind, asked of the library once. */
const FACTORS: ReadonlyMap<string, number> = new Map(
  QUANTITY_KINDS.flatMap((kind) => {
    const [first = '', ...others] = Object.entries<string>(UNITS[kind]).map(([, name]) => name);
    const factors = [first, ...others].map((name) => (name === first ? 1 : Qty(1, name).to(first).scalar));
    return unitsOf(kind).map((unit, index) => [unit, factors[index] ?? Number.NaN] as const);
  }),
);

/**
 * `value` in `from` expressed in `to`; undefined where the two do not measure the same.
 * A difference converts without the offset: a rise of 40 degC is 72 degF, never 104.
 */
export const convert = (value: number, from: string, to: string, difference = false): number | undefined => {
  if (from === to) return value;
  const kind = kindOfUnit(from);
  if (kind === undefined || kind !== kindOfUnit(to)) return undefined;
  const a = FACTORS.get(from) ?? Number.NaN;
  const b = FACTORS.get(to) ?? Number.NaN;
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
