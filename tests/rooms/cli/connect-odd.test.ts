/** What is said to be odd about a tag that was read, from raw words and readings made up here. */
import { describe, expect, test } from 'vitest';
import { odditiesOf, type Seen, wantsNeighbours } from '../../../src/cli/connect/odd.ts';
import { type Absence, instant, type QuantityKind, type SignalId } from '../../../src/measure/index.ts';
import { decodeWords, type NumberType, type SignalDef } from '../../../src/signal/index.ts';
import { text } from '../../../src/words/index.ts';

const defOf = (type: NumberType, more: Partial<SignalDef> = {}): SignalDef => ({
  id: 0 as SignalId,
  name: 's',
  source: 0,
  address: { kind: 'modbus', table: 'holding', at: 10 },
  decoding: { as: 'number', type, order: 'ABCD', scale: 1, offset: 0, faults: [] },
  quantity: 'temperature' as QuantityKind,
  unit: 'degC',
  states: [],
  resolution: 0,
  accuracy: 0,
  age: 0,
  agedAfter: 1_000_000,
  ...more,
});

const at = { earliest: instant(1e15), latest: instant(1e15) };

/** As the device answered it, read three times. */
const seen = (def: SignalDef, raw: readonly number[], more: Partial<Seen> = {}): Seen => {
  const reading = { signal: def.id, at, response: 0, flags: 0, ...decodeWords(def, raw) };
  return { def, newest: reading, reads: [reading, reading, reading], raw, life: false, ...more };
};

const lost = (def: SignalDef, why: Absence): Seen => {
  const reading = { signal: def.id, at, response: 0, flags: 0, absent: why };
  return { def, newest: reading, reads: [reading], raw: undefined, life: false };
};

const codes = (one: Seen): string[] => odditiesOf(one, 2_000_000).map(({ reason }) => reason.code);

const RANGE = { low: -40, high: 200 };
// IEEE 754: 42A0 0000 is 80.0; its words turned read 2.4e-41.
const EIGHTY = [0x42a0, 0x0000];
const TURNED = [0x0000, 0x42a0];

describe('nothing odd', () => {
  test.each([
    ['a plain value', seen(defOf('float32', { plausible: RANGE }), EIGHTY)],
    ['one without a range', seen(defOf('float32'), EIGHTY)],
    ['a small whole number', seen(defOf('int16', { plausible: RANGE }), [37])],
  ])('%s', (_, one) => expect(codes(one)).toEqual([]));
});

describe('odd', () => {
  test.each([
    [
      'turned words, with a range that begins below 0',
      seen(defOf('float32', { plausible: RANGE }), TURNED),
      ['odd-all-but-nothing', 'odd-order'],
    ],
    [
      'turned words, with a range that begins at 0',
      seen(defOf('float32', { plausible: { low: 0, high: 200 } }), TURNED),
      ['odd-all-but-nothing', 'odd-order'],
    ],
    ['turned words without a range', seen(defOf('float32'), TURNED), ['odd-all-but-nothing', 'odd-order']],
    ['turned bytes', seen(defOf('uint16', { plausible: RANGE }), [0x5000]), ['odd-implausible', 'odd-order']],
    [
      'outside its range, in every order',
      seen(defOf('int16', { plausible: RANGE }), [0x2020]),
      ['odd-implausible'],
    ],
    [
      'no number, and read with turned bytes -4.0',
      seen(defOf('float32'), [0x7fc0, 0x0000]),
      ['odd-not-a-number', 'odd-order'],
    ],
    ['the limit of its type', seen(defOf('int16'), [0x7fff]), ['odd-type-limit']],
    ['the lowest of its type', seen(defOf('int16'), [0x8000]), ['odd-type-limit']],
    ['at the end of its range', seen(defOf('int16', { plausible: RANGE }), [199]), ['odd-at-range-edge']],
    ['a temperature of exactly 0', seen(defOf('int16', { plausible: RANGE }), [0]), ['odd-zero']],
    [
      'a count of life that stands',
      seen(defOf('uint16', { quantity: 'count' }), [41], { life: true }),
      ['odd-constant'],
    ],
    ['no answer', lost(defOf('int16'), 'timed-out'), ['odd-absent']],
    ['an address that is refused', lost(defOf('int16'), 'refused'), ['odd-refused']],
  ] as [string, Seen, string[]][])('%s', (_, one, expected) => expect(codes(one)).toEqual(expected));

  test('a fault code that is declared is told as such, not as a limit', () => {
    const decoding = {
      as: 'number',
      type: 'int16',
      order: 'ABCD',
      scale: 0.1,
      offset: 0,
      faults: [32_767],
    } as const;
    expect(codes(seen(defOf('int16', { decoding }), [0x7fff]))).toEqual(['odd-fault-code']);
  });

  test('the order that would give a plausible value is named, with the value', () => {
    const [, odd] = odditiesOf(seen(defOf('float32', { plausible: RANGE }), TURNED), 0);
    expect(odd && text(odd.reason, { unit: 'degC' })).toContain(
      'Read as float32 CDAB the same words give 80 °C',
    );
  });
});

test('a speed of exactly 0 is worth a look, no more', () => {
  const one = seen(defOf('uint16', { quantity: 'rotational-speed', unit: 'rpm' }), [0]);
  expect(odditiesOf(one, 0)).toEqual([{ weight: 'look', reason: { code: 'look-zero', params: {} } }]);
});

test('neighbours are asked only of what cannot be meant', () => {
  expect(wantsNeighbours(seen(defOf('float32'), TURNED))).toBe(true);
  expect(wantsNeighbours(lost(defOf('int16'), 'refused'))).toBe(true);
  expect(wantsNeighbours(seen(defOf('float32', { plausible: RANGE }), EIGHTY))).toBe(false);
  expect(wantsNeighbours(lost(defOf('int16'), 'timed-out'))).toBe(false);
});
