/** What was typed or scanned names the sensor, or it does not: case, blanks and hyphens are forgiven, nothing else. */
import { expect, test } from 'vitest';
import { expectedOf, names } from '../../../src/guide/index.ts';
import { book } from '../daemon/leg.ts';

const interlock = (name: string) => {
  const found = book.interlocks.find((one) => one.name === name);
  if (found === undefined) throw new Error(name);
  return found;
};

test('the tag of the device comes before the signal, where the site names one', () => {
  expect(expectedOf(book, interlock('E1.underspeed-stop'))).toEqual(['ST-101', 'E1.shaft-speed']);
  expect(expectedOf(book, interlock('E1.bearing-stop'))).toEqual(['E1.bearing-temperature']);
});

test.each(['ST-101', 'st 101', ' St101 ', 'ST‑101', 'ST–101', 'e1.shaftspeed'])('%j is ST-101', (typed) => {
  expect(names(typed, ['ST-101', 'E1.shaft-speed'])).toBe(true);
});

test.each([
  '',
  ' ',
  '-',
  'ST-102',
  'ST-1O1',
  'ST-10',
  'ST-1011',
  'E1-shaft-speed',
  'shaft-speed',
  'E2.shaft-speed',
])('%j is not ST-101', (typed) => {
  expect(names(typed, ['ST-101', 'E1.shaft-speed'])).toBe(false);
});
