/** Which signal moved while a sensor was touched: noise, doubt and drift are no movement, and what follows a trip is not. */
import { expect, test } from 'vitest';
import { isSeen, movedBetween, suspectsOf } from '../../../src/guide/index.ts';
import { type Reading, SECOND, type SignalId, spanOf } from '../../../src/measure/index.ts';
import { book } from '../daemon/leg.ts';

const idOf = (name: string): SignalId => {
  const found = book.signals.find((one) => one.name === name);
  if (found === undefined) throw new Error(name);
  return found.id;
};

const STOP = book.interlocks.find(({ name }) => name === 'E1.underspeed-stop');
const CONTACT = book.interlocks.find(({ name }) => name === 'E1.misalignment-stop');
if (STOP === undefined || CONTACT === undefined) throw new Error('the leg has changed');

/** Readings ten times a second, ± 0.05 around what is told. */
const rows = (
  name: string,
  from: number,
  to: number,
  value: (t: number) => number,
  half = 0.05,
): Reading[] => {
  const all: Reading[] = [];
  for (let t = from; t < to; t += 0.1) {
    const at = spanOf(t * SECOND, (t + 0.002) * SECOND);
    const middle = value(t);
    const read = { low: middle - half, high: middle + half };
    all.push({ signal: idOf(name), at, value: read, response: 0, flags: 0 });
  }
  return all;
};

/** No randomness: a pattern that looks like noise, ± 0.3. */
const noise = (t: number): number => 0.3 * Math.sin(t * 97.3) * Math.cos(t * 13.7);

const suspects = suspectsOf(book, STOP);
const calm = (from: number, to: number, but: Record<string, (t: number) => number> = {}): Reading[] => {
  const measured = [...suspects.own, ...suspects.others].map((id) => book.signals[id]?.name ?? '');
  return [
    ...measured.flatMap((name) => rows(name, from, to, but[name] ?? ((t) => 96 + noise(t)))),
    ...rows('E1.run-command', from, to, but['E1.run-command'] ?? (() => 1), 0),
  ];
};

test('what can be mistaken for a speed are other speeds; for a contact, other states; never its own derivates', () => {
  expect(suspects.own.map((id) => book.signals[id]?.name)).toEqual(['E1.shaft-speed']);
  const names = suspects.others.map((id) => book.signals[id]?.name);
  expect(names).toContain('C2.shaft-speed');
  expect(names).not.toContain('E1.bearing-temperature');
  expect(suspectsOf(book, CONTACT).others.map((id) => book.signals[id]?.name)).toContain('C2.alignment');
});

test('only its own signal moved', () => {
  const during = calm(10, 20, { 'E1.shaft-speed': (t) => (t < 15 ? 96 : 91) });
  expect(movedBetween(book, suspects, calm(0, 10), during)).toEqual({
    moved: ['E1.shaft-speed'],
    alone: true,
  });
});

test('nothing moved: noise is none', () => {
  expect(movedBetween(book, suspects, calm(0, 10), calm(10, 20))).toEqual({ moved: [], alone: false });
});

test('the wrong sensor moved, and is named', () => {
  const during = calm(10, 20, { 'C2.shaft-speed': (t) => (t < 15 ? 96 : 60) });
  expect(movedBetween(book, suspects, calm(0, 10), during)).toEqual({
    moved: ['C2.shaft-speed'],
    alone: false,
  });
});

test('both moved', () => {
  const during = calm(10, 20, { 'E1.shaft-speed': () => 80, 'C2.shaft-speed': () => 60 });
  const found = movedBetween(book, suspects, calm(0, 10), during);
  expect(found).toEqual({ moved: ['E1.shaft-speed', 'C2.shaft-speed'], alone: false });
});

test('a neighbour that drifts on as it did before has not moved, although it ends far outside its readings of before', () => {
  const drift = (t: number): number => 60 + 0.2 * t + noise(t);
  const during = calm(10, 40, { 'C2.shaft-speed': drift, 'E1.shaft-speed': (t) => (t < 15 ? 96 : 90) });
  const before = calm(0, 10, { 'C2.shaft-speed': drift });
  expect(movedBetween(book, suspects, before, during)).toEqual({ moved: ['E1.shaft-speed'], alone: true });
});

test('what falls once the machine has stopped does not count', () => {
  const during = calm(10, 20, {
    'E1.shaft-speed': (t) => (t < 12 ? 96 : 70),
    'E1.run-command': (t) => (t < 13 ? 1 : 0),
    'C2.shaft-speed': (t) => (t < 15 ? 96 : 10),
  });
  expect(movedBetween(book, suspects, calm(0, 10), during).alone).toBe(true);
});

test('a signal that it could be mistaken for and that nobody sees leaves it open', () => {
  const hidden = (all: Reading[]): Reading[] => all.filter(({ signal }) => signal !== idOf('C2.shaft-speed'));
  const during = calm(10, 20, { 'E1.shaft-speed': () => 80 });
  expect(movedBetween(book, suspects, hidden(calm(0, 10)), during).alone).toBe(false);
  expect(movedBetween(book, suspects, calm(0, 10), hidden(during)).alone).toBe(false);
});

test('a contact has moved in any other certain state, and an uncertain one is none', () => {
  const own = suspectsOf(book, CONTACT);
  const all = [...own.own, ...own.others].map((id) => book.signals[id]?.name ?? '');
  const still = (from: number, to: number): Reading[] =>
    all.flatMap((name) => rows(name, from, to, () => 0, 0));
  const moved = (half: number): Reading[] => [
    ...still(10, 15),
    ...rows('E1.alignment', 15, 16, () => 1 - half, half),
    ...still(16, 20),
  ];
  expect(movedBetween(book, own, still(0, 10), moved(0))).toEqual({ moved: ['E1.alignment'], alone: true });
  expect(movedBetween(book, own, still(0, 10), moved(0.5)).moved).toEqual([]);
});

test('a few readings say nothing of what a signal does by itself', () => {
  expect(
    isSeen(
      book,
      rows('E1.shaft-speed', 0, 0.25, () => 96),
      idOf('E1.shaft-speed'),
    ),
  ).toBe(false);
  expect(
    isSeen(
      book,
      rows('E1.shaft-speed', 0, 1, () => 96),
      idOf('E1.shaft-speed'),
    ),
  ).toBe(true);
});
