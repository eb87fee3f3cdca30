import { expect, test } from 'vitest';
import { PLANT_MAP } from '../../../src/plant/model/index.ts';
import { feasibility } from '../../../src/rulebook/index.ts';
import { bookOf, load, ROOT } from './load.ts';

const book = bookOf(load(`${ROOT}config/demo-site.yaml`));

test('every tag stands where the simulated plant shows it', () => {
  const map = new Map(PLANT_MAP.map((entry) => [entry.name, entry]));
  for (const signal of book.signals) {
    const entry = map.get(signal.name);
    const { address, decoding } = signal;
    if (address.kind === 'opc-ua') expect(address.id).toBe(`s=${entry?.name}`);
    else expect(address).toMatchObject({ at: entry?.register });
    if (decoding.as === 'bit') expect(decoding.bit).toBe(entry?.bit);
    if (decoding.as === 'number') {
      expect([decoding.type, decoding.scale]).toEqual([entry?.type, entry?.scale]);
    }
    expect(signal.unit).toBe(entry?.unit);
  }
});

test('its polling can decide every interlock, except that a delay needs more than one ramp', () => {
  const codes = new Set(feasibility(book).flatMap(({ undecidable }) => undecidable.map(({ code }) => code)));
  expect([...codes]).toEqual(['needs-step-or-hold']);
});

test('leg 1 can be judged in all its interlocks', () => {
  expect(book.interlocks.map(({ name }) => name).filter((name) => name.startsWith('E1.'))).toEqual([
    'E1.underspeed-alarm',
    'E1.underspeed-stop',
    'E1.pulse-loss-stop',
    'E1.bearing-alarm',
    'E1.bearing-stop',
    'E1.misalignment-alarm',
    'E1.misalignment-stop',
  ]);
});
