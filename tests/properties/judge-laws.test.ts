/** Laws of the judge: more doubt decides nothing, the order inside an instant means nothing. */
import { expect, test } from 'vitest';
import type { Instant, Reading } from '../../src/measure/index.ts';
import { draw, seeded } from '../campaigns/underspeed-truth.ts';
import { runController } from '../rooms/judge/controller.ts';
import { bookOf, idOf, judged, sample, underspeed } from '../rooms/judge/rig.ts';

const SEEDS = Array.from({ length: 24 }, (_, index) => 7_000 + index);

const rowsOf = (seed: number): { rows: Reading[]; age: number } => {
  const { truth, stimulus, poll, phase } = draw(seed);
  const every = Math.max(poll, 0.05);
  const rows = sample(runController(truth, stimulus), {
    from: 0.5,
    to: stimulus.to - 1,
    every,
    phase,
    age: truth.scan,
  });
  return { rows, age: truth.scan * 1e6 };
};

const outcomeOf = (rows: readonly Reading[], age: number): string =>
  judged(bookOf([underspeed()], { age }), rows, { method: 'injected' }).windows[0]?.outcome ?? '';

const widen = (row: Reading, value: number, time: number): Reading => ({
  ...row,
  at: { earliest: (row.at.earliest - time) as Instant, latest: row.at.latest },
  ...(row.value &&
    row.signal === idOf('speed') && { value: { low: row.value.low - value, high: row.value.high + value } }),
});

test.each(SEEDS)(
  'more doubt never turns inconclusive into a verdict, nor a verdict into its opposite (plant %i)',
  (seed) => {
    const { rows, age } = rowsOf(seed);
    const before = outcomeOf(rows, age);
    const after = outcomeOf(
      rows.map((row) => widen(row, 0.4, 60_000)),
      age,
    );
    const decided = ['pass', 'fail'];
    if (decided.includes(after)) expect(after).toBe(before);
  },
);

test.each(SEEDS.slice(0, 6))('the order of readings of one instant changes no finding (plant %i)', (seed) => {
  const { rows, age } = rowsOf(seed);
  const random = seeded(seed);
  const groups = new Map<number, Reading[]>();
  for (const row of rows) groups.set(row.at.latest, [...(groups.get(row.at.latest) ?? []), row]);
  const shuffled = [...groups.values()].flatMap((group) =>
    group
      .map((row) => ({ row, key: random() }))
      .sort((a, b) => a.key - b.key)
      .map(({ row }) => row),
  );
  const book = bookOf([underspeed()], { age });
  expect(JSON.stringify(judged(book, shuffled).findings)).toBe(JSON.stringify(judged(book, rows).findings));
});
