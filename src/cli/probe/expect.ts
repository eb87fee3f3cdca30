import { convert, kindOfUnit, unitsOf } from '../../measure/index.ts';
import { type ByteOrder, type NumberType, numberIn } from '../../signal/index.ts';

/** What a person reads on a display: `96.3 rpm`. */
export interface Expected {
  readonly value: number;
  readonly unit: string;
  /** Worth of the last digit that was written. */
  readonly step: number;
}

export const expectedOf = (text: string): Expected | undefined => {
  const [, number, decimals = '', unit = ''] = /^\s*([+-]?\d+(?:\.(\d+))?)\s*(\S*)\s*$/.exec(text) ?? [];
  if (number === undefined) return undefined;
  return { value: Number(number), unit, step: Number(`1e-${decimals.length}`) };
};

/** A type and an order at an address. */
export interface Way {
  readonly at: number;
  readonly type: NumberType;
  readonly order: ByteOrder;
}

/** One way to read the words that comes near to what is expected. */
export interface Fit extends Way {
  /** Other ways that give the same number from the same words: a sign that is not used, words that are zero. */
  readonly same: readonly Way[];
  readonly scale: number;
  /** In `unit`. */
  readonly value: number;
  readonly unit: string;
  /** It is a real number whose lowest word moved. */
  readonly alive: boolean;
  /** The lower, the fewer assumptions it needs. */
  readonly cost: number;
}

interface Shape {
  readonly type: NumberType;
  readonly width: number;
  readonly orders: readonly ByteOrder[];
  readonly cost: number;
  readonly real: boolean;
}

const ALL: readonly ByteOrder[] = ['ABCD', 'CDAB', 'BADC', 'DCBA'];
const ONE: readonly ByteOrder[] = ['ABCD', 'BADC'];

/** How common each is in controllers of the trade (common practice, no source); signed behind unsigned. */
const SHAPES: readonly Shape[] = [
  { type: 'uint16', width: 1, orders: ONE, cost: 0, real: false },
  { type: 'int16', width: 1, orders: ONE, cost: 0, real: false },
  { type: 'float32', width: 2, orders: ALL, cost: 0, real: true },
  { type: 'uint32', width: 2, orders: ALL, cost: 0.5, real: false },
  { type: 'int32', width: 2, orders: ALL, cost: 0.5, real: false },
  { type: 'bcd16', width: 1, orders: ONE, cost: 2, real: false },
  { type: 'bcd32', width: 2, orders: ALL, cost: 2.5, real: false },
  { type: 'float64', width: 4, orders: ALL, cost: 1, real: true },
  { type: 'uint64', width: 4, orders: ALL, cost: 3, real: false },
  { type: 'int64', width: 4, orders: ALL, cost: 3, real: false },
];

const ORDER_COSTS: Readonly<Record<ByteOrder, number>> = { ABCD: 0, CDAB: 0.5, BADC: 1.5, DCBA: 1.5 };

/** Scale, as what the raw number is divided by or multiplied with, and how unusual it is. */
const SCALES: readonly (readonly [scale: number, divisor: number, cost: number])[] = [
  [1, 1, 0],
  [0.1, 10, 0.5],
  [0.01, 100, 1],
  [0.001, 1_000, 2],
  [10, 0.1, 3],
  [100, 0.01, 5],
];
const REAL_SCALED = 2;

/** A value moves while a person looks from the display to the screen: so much of it is allowed for. */
const SHARE = 0.02;

const toleranceOf = ({ value, step }: Expected): number => Math.max(1.5 * step, Math.abs(value) * SHARE);

/** What would show as something else on the display costs; each doubling of the distance costs one more. */
const distanceCost = (value: number, { value: wanted, step }: Expected): number => {
  const beyond = Math.abs(value - wanted) / step - 0.5;
  return beyond <= 1e-9 ? 0 : 1.5 + Math.log2(1 + beyond);
};

/**
 * The lowest word of a real number moves all the time while the machine runs. Of two ways that share the highest word
 * the one whose lowest word moved is the better one by so much.
 */
const ALIVE = 2;

const lowest = (index: number, width: number, order: ByteOrder): number =>
  order === 'CDAB' || order === 'DCBA' ? index : index + width - 1;

/** Many raw numbers would have fitted, or it is a small one such as stands everywhere: half a point for each doubling. */
const chanceCost = (raw: number, width: number, { step }: Expected, scale: number): number => {
  const fitting = Math.max(1, step / scale) / 4;
  const small = Math.abs(raw) < 16 ? 4 - Math.log2(Math.abs(raw) + 1) : 0;
  return 0.5 * Math.max(0, Math.log2(fitting)) * (width === 1 ? 1 : 0.5) + small;
};

/** What `wanted` would be in other units of its kind: a device may hold degF where the display shows degC. */
const otherUnits = (wanted: Expected): readonly Expected[] => {
  const kind = kindOfUnit(wanted.unit);
  if (kind === undefined) return [];
  return unitsOf(kind)
    .filter((unit) => unit !== wanted.unit)
    .flatMap((unit) => {
      const value = convert(wanted.value, wanted.unit, unit);
      const step = convert(wanted.step, wanted.unit, unit, true);
      return value === undefined || step === undefined ? [] : [{ value, unit, step }];
    });
};

interface Found extends Omit<Fit, 'same'> {
  /** Addresses of the words that say something: neither zero nor the sign carried on. */
  readonly telling: string;
}

/** What was read around the address asked for. */
export interface Seen {
  /** The first stands at address `from`; -1 does not exist. */
  readonly words: readonly number[];
  readonly from: number;
  /** The address asked for. */
  readonly at: number;
  /** Addresses that changed while they were read a few times. */
  readonly moved?: ReadonlySet<number>;
}

const fitsOfShape = (
  { words, from, at, moved }: Seen,
  index: number,
  shape: Shape,
  wanted: Expected,
): readonly Found[] => {
  const own = words.slice(index, index + shape.width);
  const telling = own
    .flatMap((word, offset) => (word === 0 || word === 0xffff ? [] : [index + offset]))
    .join(' ');
  const away = Math.abs(from + index - at);
  return shape.orders.flatMap((order) => {
    const raw = own.some((word) => word < 0) ? undefined : numberIn(words, shape.type, order, index);
    if (raw === undefined || !Number.isFinite(raw)) return [];
    return SCALES.flatMap(([scale, divisor, scaleCost]) => {
      const value = raw / divisor;
      if (Math.abs(value - wanted.value) > toleranceOf(wanted)) return [];
      const alive = shape.real && moved?.has(from + lowest(index, shape.width, order)) === true;
      const cost =
        shape.cost -
        (alive ? ALIVE : 0) +
        ORDER_COSTS[order] +
        scaleCost +
        (shape.real && scale !== 1 ? REAL_SCALED : 0) +
        (away > 1 ? 1 + 0.75 * away : away) +
        distanceCost(value, wanted) +
        (shape.real ? 0 : chanceCost(raw, shape.width, wanted, scale));
      return [
        { at: from + index, type: shape.type, order, scale, value, unit: wanted.unit, alive, cost, telling },
      ];
    });
  });
};

/** Ways that read the same number from the same words cannot be told apart now, and are one: the plainest stands for it. */
const merged = (sorted: readonly Found[]): Fit[] => {
  const families = new Map<string, Fit & { readonly same: Way[] }>();
  for (const { telling, ...fit } of sorted) {
    const key = `${telling} ${fit.scale} ${fit.unit} ${fit.value}`;
    const family = families.get(key);
    if (family === undefined) families.set(key, { ...fit, same: [] });
    else family.same.push({ at: fit.at, type: fit.type, order: fit.order });
  }
  return [...families.values()];
};

/** In another unit only what is plain is believed: there are many units, and by chance one of them fits. */
const PLAIN = 2;

/**
 * Every way to read what was seen that gives about what a person reads on the display, at most `around` addresses away,
 * the one with the fewest assumptions first. Several may fit: that is for the caller to say.
 */
export const fitsOf = (seen: Seen, around: number, wanted: Expected): readonly Fit[] => {
  const { words, from, at } = seen;
  const search = (one: Expected): Found[] =>
    words.flatMap((_, index) =>
      Math.abs(from + index - at) > around
        ? []
        : SHAPES.flatMap((shape) => fitsOfShape(seen, index, shape, one)),
    );
  const own = search(wanted);
  const all =
    own.length > 0
      ? own
      : otherUnits(wanted)
          .flatMap(search)
          .filter(({ cost }) => cost <= PLAIN);
  return merged(all.sort((a, b) => a.cost - b.cost || Math.abs(a.at - at) - Math.abs(b.at - at)));
};
