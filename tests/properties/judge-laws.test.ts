/** Laws of the judge: more doubt decides nothing, the order inside an instant means nothing. */
import { expect, test } from 'vitest';
import type { Instant, Reading } from '../../src/measure/index.ts';
import { findingsOf, judgeOf } from '../campaigns/compare.ts';
import { draw } from '../campaigns/plants.ts';
import { poll } from '../campaigns/polling.ts';
import { seeded } from '../campaigns/random.ts';

const SEEDS = Array.from({ length: 24 }, (_, index) => 7_000 + index);

const widen = (row: Reading, value: number, time: number): Reading => ({
  ...row,
  at: { earliest: (row.at.earliest - time) as Instant, latest: row.at.latest },
  ...(row.value &&
    row.value.low !== row.value.high && {
      value: { low: row.value.low - value, high: row.value.high + value },
    }),
});

test.each(SEEDS)(
  'more doubt never turns inconclusive into a verdict, nor a verdict into its opposite (plant %i)',
  (seed) => {
    const drawn = draw(seed);
    const rows = poll(drawn);
    const before = judgeOf(drawn, rows).outcome;
    const wide = rows.map((row) => widen(row, 0.4, 60_000));
    const after = judgeOf(drawn, wide).outcome;
    const decided = ['pass', 'fail'];
    if (decided.includes(after)) expect(after).toBe(before);
  },
);

test.each(SEEDS.slice(0, 6))('the order of readings of one instant changes no finding (plant %i)', (seed) => {
  const drawn = draw(seed);
  const rows = poll(drawn);
  const random = seeded(seed);
  const groups = new Map<number, Reading[]>();
  for (const row of rows) groups.set(row.at.latest, [...(groups.get(row.at.latest) ?? []), row]);
  const shuffled = [...groups.values()].flatMap((group) =>
    group
      .map((row) => ({ row, key: random.next() }))
      .sort((a, b) => a.key - b.key)
      .map(({ row }) => row),
  );
  expect(JSON.stringify(findingsOf(drawn, shuffled))).toBe(JSON.stringify(findingsOf(drawn, rows)));
});
