/** A page that checks itself spells numbers as the program does: its script, read without a browser, beside `formatInterval`. */
import { readFileSync } from 'node:fs';
import { runInNewContext } from 'node:vm';
import { expect, test } from 'vitest';
import { formatInterval } from '../../../src/words/index.ts';

const SCRIPT = readFileSync(new URL('../../../src/report/page/checking.client.js', import.meta.url), 'utf8');

/** The script does nothing on a page without evidence. */
const spelled = runInNewContext(`${SCRIPT}\ninterval`, {
  document: { getElementById: () => null },
}) as (one: { low: number | null; high: number | null }, unit: string) => string;

/** Park and Miller's minimal standard generator: the same numbers in every run. */
const randomFrom = (seed: number) => {
  let state = seed;
  return (): number => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
};

const UNITS = ['', 's', '%', 'rpm', 'degC', 'degF'];
const TENS = [1e-9, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 0.1, 1, 10, 100, 1e4, 1e6, 1e9, 1e16];

test('6,000 intervals of every size, sign and width, with one bound or none', () => {
  const random = randomFrom(20_251_125);
  const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)] as T;
  // As written by people too: bounds that are decimal numbers, not only any.
  const bound = (): number => {
    const value = (random() - 0.5) * 2 * pick(TENS);
    return random() < 0.4 ? Number(value.toPrecision(3)) : value;
  };
  const odd: string[] = [];
  for (let count = 0; count < 6_000; count += 1) {
    const low = random() < 0.05 ? 0 : bound();
    const width = random() < 0.1 ? 0 : Math.abs(bound());
    const unit = pick(UNITS);
    const one = {
      low: random() < 0.05 ? null : low,
      high: random() < 0.05 ? null : low + width,
    };
    const ours = formatInterval(one as { low: number; high: number }, unit);
    const theirs = spelled(one, unit);
    if (ours !== theirs) odd.push(`${JSON.stringify(one)} ${unit}: ${ours}, the page ${theirs}`);
  }
  expect(odd).toEqual([]);
});
