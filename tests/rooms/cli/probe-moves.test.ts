/** Counting what moves while a shaft is turned. */
import { expect, test } from 'vitest';
import { directionOf, moved, notMoved, ranking } from '../../../src/cli/probe/moves.ts';

const after = (address: number, ...values: readonly number[]) =>
  values.reduce(moved, notMoved(address, values[0] ?? 0));

test('changes, lowest and highest, direction', () => {
  expect(after(4, 10, 12, 12, 15)).toMatchObject({ changes: 2, low: 10, high: 15, value: 15, first: 10 });
  expect(directionOf(after(4, 10, 12, 15))).toBe('up');
  expect(directionOf(after(4, 15, 12))).toBe('down');
  expect(directionOf(after(4, 10, 12, 11))).toBe('both ways');
  expect(directionOf(after(4, 10, 10))).toBe('still');
});

test('a counter that starts again at 0 has gone up', () =>
  expect(directionOf(after(6, 65_534, 65_535, 1))).toBe('up'));

test('the most restless first; what stood still is not among them', () => {
  const all = [after(1, 5, 5), after(2, 1, 2), after(3, 1, 2, 3)];
  expect(ranking(all).map(({ address }) => address)).toEqual([3, 2]);
});
