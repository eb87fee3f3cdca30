/** Sensor curves against printed tables: what a table prints, rounded to its last digit, must hold its own temperature. */
import { describe, expect, test } from 'vitest';
import type { Absence, Interval } from '../../src/measure/index.ts';
import { type CurveShape, decodeValue } from '../../src/signal/index.ts';
import { PLATINUM, THERMOCOUPLES, thermistorTemperature } from '../../src/signal/thermometers.ts';
import { curved } from '../rooms/signal/rig.ts';

/** What a number is read as, when its last printed digit is one step of it. */
const read = (shape: CurveShape, printed: number, step = 0): Interval | Absence => {
  const decoded = decodeValue(curved(shape, step), printed);
  return 'value' in decoded ? decoded.value : decoded.absent;
};

const holds = (found: Interval | Absence, t: number): boolean =>
  typeof found !== 'string' && found.low <= t && t <= found.high;

const wide = (found: Interval | Absence): number =>
  typeof found === 'string' ? Number.NaN : found.high - found.low;

const PT100: CurveShape = { as: 'platinum', nominal: 100 };

/** IEC 60751, rows of the 1-degree table as printed in a public copy of it (two decimals); recomputed. */
const PT_ROWS: readonly (readonly [number, number])[] = [
  [-200, 18.52],
  [-50, 80.31],
  [-40, 84.27],
  [-20, 92.16],
  [0, 100],
  [20, 107.79],
  [25, 109.73],
  [50, 119.4],
  [60, 123.24],
  [75, 128.99],
  [80, 130.9],
  [90, 134.71],
  [100, 138.51],
  [150, 157.33],
  [200, 175.86],
  [250, 194.1],
];

describe('platinum, IEC 60751', () => {
  test.each(PT_ROWS)('%f degC is printed as %f ohm', (t, ohms) => {
    expect(Math.round(PLATINUM.at(t) * 10_000) / 100).toBe(ohms);
    if (t === -200) return; // half a step below it the curve ends
    const found = read(PT100, ohms, 0.01);
    expect(holds(found, t)).toBe(true);
    expect(wide(found)).toBeLessThan(0.03);
    expect(holds(read({ as: 'platinum', nominal: 1_000 }, ohms * 10, 0.1), t)).toBe(true);
  });

  /** The inverse of a two-decimal table is only so good: 138.51 ohm is 100.0119, 119.40 is 50.0075, 157.33 is 150.0131. */
  test.each([
    [138.51, 100.0119],
    [119.4, 50.0075],
    [157.33, 150.0131],
  ])('%f ohm read exactly is %f degC', (ohms, t) => {
    const found = read(PT100, ohms);
    expect(holds(found, t)).toBe(false); // four decimals are coarser than the search
    expect(typeof found !== 'string' && found.low).toBeCloseTo(t, 4);
    expect(wide(found)).toBeLessThan(1e-8);
  });

  /** A vendor's table misprints 35.54 at −160 degC as 35.34; the others are of an older curve, printed beside the new coefficients. */
  test.each([
    [-160, 35.34],
    [100, 138.5],
    [200, 175.84],
    [-100, 60.2],
  ])('a wrong table: %f degC is not %f ohm', (t, ohms) => {
    expect(holds(read(PT100, ohms, 0.01), t)).toBe(false);
  });

  test('−160 degC is 35.54 ohm, and C = −4.2735e-12, as one page prints it, does not give the table', () => {
    expect(holds(read(PT100, 35.54, 0.01), -160)).toBe(true);
    const wrong = 100 * (PLATINUM.at(-200) + (4.183e-12 - 4.2735e-12) * -300 * -8e6);
    expect(Math.round(wrong * 100) / 100).not.toBe(18.52);
  });
});

/**
 * NIST ITS-90 Thermocouple Database (SRD 60), mV with the reference junction at 0 degC: type_k.tab, type_j.tab. Rows of K
 * at −200, −190, −150 from a public copy of the table; J at −100 and 300 from memory; all recomputed.
 */
const K_ROWS: readonly (readonly [number, number])[] = [
  [-190, -5.73],
  [-150, -4.913],
  [-50, -1.889],
  [0, 0],
  [10, 0.397],
  [25, 1],
  [50, 2.023],
  [75, 3.059],
  [80, 3.267],
  [100, 4.096],
  [120, 4.92],
  [150, 6.138],
  [200, 8.138],
  [250, 10.153],
  [300, 12.209],
];
const J_ROWS: readonly (readonly [number, number])[] = [
  [-100, -4.633],
  [-50, -2.431],
  [0, 0],
  [10, 0.507],
  [25, 1.277],
  [50, 2.585],
  [75, 3.918],
  [80, 4.187],
  [100, 5.269],
  [120, 6.36],
  [150, 8.01],
  [200, 10.779],
  [250, 13.555],
  [300, 16.327],
  [760, 42.919],
];

describe('thermocouples, NIST ITS-90', () => {
  test.each([
    ['K', K_ROWS],
    ['J', J_ROWS],
  ] as const)('type %s as printed', (letter, rows) => {
    for (const [t, mV] of rows) {
      expect(Math.abs(THERMOCOUPLES[letter].at(t) - mV), `${t}`).toBeLessThanOrEqual(0.000_500_1);
      const found = read({ as: 'thermocouple', letter, cold: 0 }, mV, 0.001);
      expect(holds(found, t), `${t}`).toBe(true);
      expect(wide(found)).toBeLessThan(0.07);
    }
  });

  test('the ends of the tables: K −200 is −5.891 and 1372 is 54.886, J 1200 is 69.553', () => {
    expect(THERMOCOUPLES.K.at(-200)).toBeCloseTo(-5.891, 3);
    expect(THERMOCOUPLES.K.at(1_372)).toBeCloseTo(54.886, 3);
    expect(THERMOCOUPLES.J.at(1_200)).toBeCloseTo(69.553, 3);
  });

  /** A public calculator's example: 4.096 mV with the terminals at 25 degC is 124.3 degC, not 100. */
  test('the other junction is made up for', () => {
    const found = read({ as: 'thermocouple', letter: 'K', cold: 25 }, 4.096);
    expect(typeof found !== 'string' && found.low).toBeCloseTo(124.3, 1);
  });

  test('beyond the tables there is no temperature', () => {
    expect(read({ as: 'thermocouple', letter: 'K', cold: 0 }, 55)).toBe('implausible');
    expect(read({ as: 'thermocouple', letter: 'J', cold: 0 }, -8.2)).toBe('implausible');
  });
});

type Coefficients = { a: number; b: number; c: number };
const thermistor = (set: Coefficients): CurveShape => ({ as: 'thermistor', ...set });

describe('thermistors, Steinhart and Hart: 1/T = A + B ln R + C (ln R)^3', () => {
  /** Coefficients found in public course notes and a forum; temperatures recomputed. The second is popular, and is not 25. */
  test.each([
    [{ a: 1.129148e-3, b: 2.34125e-4, c: 8.76741e-8 }, 24.9997],
    [{ a: 1.009249522e-3, b: 2.378405444e-4, c: 2.019202697e-7 }, 24.6813],
  ])('10 kohm by %o is %f degC', (set, t) => {
    const found = read(thermistor(set), 10_000);
    expect(typeof found !== 'string' && found.low).toBeCloseTo(t, 4);
    expect(wide(found)).toBeLessThan(1e-8);
  });

  /** A table from an instrument's manual (vendor withheld), fitted through its rows at 0, 25 and 50 degC. */
  const MANUAL = { a: 1.10415912e-3, b: 2.38917947e-4, c: 6.93162653e-8 };
  test.each([
    [32_128, 0],
    [19_549, 10],
    [12_262, 20],
    [9_814, 25],
    [7_908, 30],
    [5_231, 40],
    [3_542, 50],
  ])('%i ohm is %i degC', (ohms, t) => {
    expect(Math.abs(thermistorTemperature(MANUAL, ohms) - t)).toBeLessThan(0.005);
  });

  test('the row that the manual misprints (5331 at 40 degC) is half a kelvin off', () => {
    expect(thermistorTemperature(MANUAL, 5_331)).toBeCloseTo(39.527, 3);
  });

  /** A journal's example prints coefficients too short to give its own point of 25 degC at 100 ohm. */
  test('coefficients cut too short are told by their own point', () => {
    const cut = { a: 1.75e-3, b: 339.9e-6, c: 308.9e-9 };
    const solved = { a: 1.74018e-3, b: 3.451896e-4, c: 2.47579e-7 };
    expect(thermistorTemperature(cut, 100)).toBeCloseTo(25.76, 2);
    for (const [ohms, t] of [
      [2_045, -50],
      [100, 25],
      [15, 100],
    ] as const)
      expect(Math.abs(thermistorTemperature(solved, ohms) - t)).toBeLessThan(0.01);
  });

  test('more ohms are less degrees: the doubt comes out the right way round', () => {
    const decoded = decodeValue(curved(thermistor(MANUAL), 200), 9_814);
    expect('value' in decoded && decoded.value.low < 25 && decoded.value.high > 25).toBe(true);
    expect(read(thermistor(MANUAL), 0)).toBe('implausible');
    expect(read(thermistor(MANUAL), -5)).toBe('implausible');
  });
});

/**
 * NAMUR NE 43: 3.8 to 20.5 mA measures, at most 3.6 or at least 21.0 mA is a failure (all four on two public pages); what
 * lies between is neither (from memory). Scaling recomputed: lo + (I − 4) / 16 × (hi − lo).
 */
describe('4-20 mA, NAMUR NE 43', () => {
  const loop = (from: number, to: number): CurveShape => ({ as: 'loop', from, to });

  test.each([
    [3.8, -1.25, -53.75, -1.875],
    [4, 0, -50, 0],
    [8, 25, 25, 37.5],
    [12, 50, 100, 75],
    [16, 75, 175, 112.5],
    [20, 100, 250, 150],
    [20.5, 103.125, 259.375, 154.6875],
  ])('%f mA over 0…100, −50…250 and 0…150', (mA, ...values) => {
    for (const [index, [from, to]] of (
      [
        [0, 100],
        [-50, 250],
        [0, 150],
      ] as const
    ).entries()) {
      const found = read(loop(from, to), mA);
      expect(typeof found !== 'string' && found.low).toBeCloseTo(values[index] ?? 0, 9);
      expect(wide(found)).toBe(0);
    }
  });

  test.each([
    [0, 'sensor-fault'],
    [3.59, 'sensor-fault'],
    [3.6, 'sensor-fault'],
    [3.61, 'implausible'],
    [3.79, 'implausible'],
    [20.51, 'implausible'],
    [20.99, 'implausible'],
    [21, 'sensor-fault'],
    [22.5, 'sensor-fault'],
  ])('%f mA is no value: %s', (mA, why) => {
    expect(read(loop(0, 100), mA)).toBe(why);
    expect(read(loop(100, 0), mA)).toBe(why);
  });

  test('a step of the current is a step of the value, also where it falls', () => {
    const rising = read(loop(0, 160), 12, 0.01) as Interval;
    expect([rising.low, rising.high].map((value) => Math.round(value * 1e9) / 1e9)).toEqual([79.95, 80.05]);
    const falling = read(loop(160, 0), 12, 0.01) as Interval;
    expect(falling.low).toBeLessThan(falling.high);
  });
});
