/**
 * The instant of a reading from an OPC UA server, held against what was so: with clocks that are wrong, drift and count
 * coarsely, words that are late, intervals that are granted longer, and connections that break. No span may leave out
 * every instant at which the value was there. `TRIPWITNESS_STORIES=200000` makes it a campaign; `TRIPWITNESS_SEED=n` tells
 * one story.
 */
import { expect, test } from 'vitest';
import { columnsOf, type Reading, rowsIn } from '../../src/measure/index.ts';
import { createDecoder, createMerge } from '../../src/signal/index.ts';
import { type Story, storyOf, WAYS, type Way } from './server.ts';

interface Told {
  readonly rows: readonly Reading[];
  readonly merged: readonly Reading[];
}

const tell = ({ source, signals, answers }: Story): Told => {
  const plan = { requests: [], items: new Map([[0, signals.map(({ id }) => id)]]) };
  const decoder = createDecoder(signals, [source], plan);
  const merge = createMerge([decoder.lag(0)]);
  const rows: Reading[] = [];
  const merged: Reading[] = [];
  for (const answer of answers) {
    const own = decoder.feed(answer);
    const lag = decoder.lag(0);
    if (lag !== undefined) merge.wait(0, lag);
    rows.push(...own);
    merge.push(0, columnsOf(own), answer.received);
    merged.push(...rowsIn(merge.release()));
  }
  return { rows, merged: [...merged, ...rowsIn(merge.flush())] };
};

/** By how much the value was not there at any instant of the span; 0: it was. */
const missedBy = ({ began }: Story, { signal, at, value }: Reading): number => {
  if (value === undefined) return 0;
  const from = began[signal]?.[value.low] ?? Number.NaN;
  const to = began[signal]?.[value.low + 1] ?? Number.POSITIVE_INFINITY;
  return Math.max(0, from - at.latest, at.earliest - to);
};

const problems = (story: Story): string[] => {
  const { rows, merged } = tell(story);
  const found: string[] = [];
  for (const row of [...rows, ...merged]) {
    const missed = missedBy(story, row);
    if (!(missed <= 0)) found.push(`signal ${row.signal} value ${row.value?.low} missed by ${missed} µs`);
    if (row.at.earliest > row.at.latest) found.push('a span that ends before it begins');
  }
  for (const { id } of story.signals) {
    const own = rows.filter(({ signal, value }) => signal === id && value !== undefined);
    own.forEach((row, index) => {
      const before = own[index - 1];
      if (before === undefined) return;
      if (row.at.earliest < before.at.earliest || row.at.latest < before.at.latest)
        found.push(`signal ${id}: value ${row.value?.low} stands before ${before.value?.low}`);
    });
  }
  return found;
};

const STORIES = Number(process.env['TRIPWITNESS_STORIES'] ?? 600);
const SEED = process.env['TRIPWITNESS_SEED'];

test('no reading stands where its value was not, and none before an older one', {
  timeout: 3_600_000,
}, () => {
  const seeds = SEED === undefined ? Array.from({ length: STORIES }, (_, index) => index) : [Number(SEED)];
  const told = new Map<Way, number>(WAYS.map((way) => [way, 0]));
  const wrong: string[] = [];
  for (const seed of seeds) {
    const story = storyOf(seed);
    told.set(story.way, (told.get(story.way) ?? 0) + tell(story).rows.length);
    const found = problems(story);
    if (found.length > 0) wrong.push(`seed ${seed} (${story.way}): ${found.length}, first: ${found[0]}`);
  }
  expect(wrong.slice(0, 10)).toEqual([]);
  if (SEED === undefined) for (const rows of told.values()) expect(rows).toBeGreaterThan(STORIES);
});
