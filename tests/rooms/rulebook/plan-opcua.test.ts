/** The planner's figures for a server that samples and publishes, against decoder, merge and judge. */
import { describe, expect, test } from 'vitest';
import { columnsOf, instant, type Reading, rowsIn, type SignalId } from '../../../src/measure/index.ts';
import { type Book, feasibility, tripPointDoubt } from '../../../src/rulebook/index.ts';
import {
  createDecoder,
  createMerge,
  type Item,
  type OpcUaSource,
  planReads,
} from '../../../src/signal/index.ts';
import { profile, runController } from '../judge/controller.ts';
import { bookOf, effect, HEALTHY, judged, NAMES, type Plant, S } from '../judge/rig.ts';
import { stopAt } from './plan-rig.ts';

const SCAN = 0.01;

const sourceOf = (sampling: number, publishing: number, clockBound: number | undefined): OpcUaSource => ({
  protocol: 'opc-ua',
  name: 'ua',
  endpoint: 'opc.tcp://h',
  access: { mode: 'none', policy: 'Basic256Sha256', user: { kind: 'anonymous' } },
  sampling: sampling * S,
  publishing: publishing * S,
  queue: 10,
  timeout: 5 * S,
  scan: SCAN * S,
  ...(clockBound !== undefined && { clockBound: clockBound * S }),
});

const bookWith = (source: OpcUaSource): Book => {
  const plain = bookOf([stopAt(undefined, { effects: [effect('run', 0, 2 * S)] })], { age: SCAN * S });
  return {
    ...plain,
    sources: [source],
    // Speed changes in every sample of a ramp, so that the server speaks in every interval, as a heartbeat makes it do.
    machines: plain.machines.map((one) => ({ ...one, heartbeat: 0 as SignalId })),
    signals: plain.signals.map((one) => ({
      ...one,
      agedAfter: 60 * S,
      address: { kind: 'opc-ua', namespace: '', id: `s=${one.name}` },
    })),
  };
};

const at = (t: number) => instant((1_000_000 + t) * S);

/** What a client is told by a server whose clock is wrong by `error`: changed samples at each publishing, and what has not changed since, up to that word. */
const toldOf = (
  plant: Plant,
  source: OpcUaSource,
  book: Book,
  phase: number,
  error: number,
  to: number,
): Reading[] => {
  const decoder = createDecoder(book.signals, book.sources, planReads(book.signals, book.sources, []));
  const merge = createMerge([0]);
  const [sampling, publishing] = [source.sampling / S, source.publishing / S];
  const last = new Map<number, { value: number; sampled: number }>();
  const tell = (received: number, items: Item[]): void =>
    merge.push(
      0,
      columnsOf(decoder.feed({ kind: 'items', source: 0, received: at(received), items })),
      at(-1e3),
    );
  let sample = -12 + phase;
  for (let word = -12 + publishing; word < to; word += publishing) {
    for (; sample <= word; sample += sampling) {
      const items = NAMES.flatMap((name, id): Item[] => {
        const raw = (plant[name] ?? HEALTHY[name])?.(Math.floor(sample / SCAN) * SCAN) ?? 0;
        const value = name === 'speed' ? Math.round(raw * 10) / 10 : raw;
        if (last.get(id)?.value === value) return [];
        last.set(id, { value, sampled: sample });
        const sourceTime = at(sample + error);
        return [{ signal: id as SignalId, status: 0, value, sourceTime, serverTime: at(word + error) }];
      });
      tell(word, items);
    }
    const still = [...last].filter(([, { sampled }]) => sampled <= word - sampling);
    tell(
      word,
      still.map(([id, { value }]) => ({
        signal: id as SignalId,
        status: 0,
        value,
        serverTime: at(word + error),
        unchanged: true,
      })),
    );
  }
  return rowsIn(merge.flush());
};

describe.each([
  { sampling: 0.05, publishing: 0.2, bound: 0.02 },
  { sampling: 0.1, publishing: 0.1, bound: 0.005 },
  { sampling: 0.05, publishing: 0.2, bound: undefined },
])(
  'sampling $sampling s, publishing $publishing s, clock bound $bound s',
  ({ sampling, publishing, bound }) => {
    const source = sourceOf(sampling, publishing, bound);
    const book = bookWith(source);
    const [plan] = feasibility(book);
    const widest = (speed: (t: number) => number, to: number, of: 'response' | 'tripPoint'): number => {
      let most = 0;
      for (let n = 0; n < 12; n += 1) {
        // The machine itself begins at another time against the server's publishing.
        const shift = (n / 12) * publishing;
        const truth = { level: 0.82, delay: of === 'response' ? 2 : 0, scan: SCAN, latched: true };
        const plant = runController(truth, { speed: (t) => speed(t - shift), from: -20, to });
        const rows = toldOf(
          plant,
          source,
          book,
          ((n * 0.618) % 1) * sampling,
          Math.sin(n) * (bound ?? 0),
          to,
        );
        const verdict = judged(book, rows).windows[0];
        const found = verdict?.[of];
        if (found === undefined) throw new Error(`no ${of}: ${JSON.stringify(verdict?.reasons)}`);
        most = Math.max(most, found.high - found.low);
      }
      return most;
    };

    test('the fastest ramp alone decides the set point', () => {
      const { rampFrom = 0, fastestRamp = 0 } = plan?.tripPoint ?? {};
      const end = (0.88 * 96 - 75) / fastestRamp;
      expect(rampFrom).toBeLessThan(0.88 * 96);
      for (let n = 0; n < 12; n += 1) {
        const shift = (n / 12) * publishing;
        const speed = (t: number) => profile([-4, 100], [0, 100], [0.001, 88], [end, 7_500 / 96])(t - shift);
        const to = end + 3;
        const plant = runController(
          { level: 0.82, delay: 0, scan: SCAN, latched: true },
          { speed, from: -20, to },
        );
        const rows = toldOf(
          plant,
          source,
          book,
          ((n * 0.618) % 1) * sampling,
          Math.sin(n) * (bound ?? 0),
          to,
        );
        const verdict = judged(book, rows).windows[0];
        expect(verdict?.aspects.find(({ name }) => name === 'set-point')?.outcome).toBe('pass');
      }
    });
    test('response to a step', () => {
      const seen = widest(profile([-4, 100], [0, 100], [0.001, 50]), 8, 'response');
      const planned = plan?.responseDoubt ?? 0;
      expect(seen).toBeLessThanOrEqual(planned + 1e-6);
      expect(seen).toBeGreaterThan(0.8 * planned);
    });
    test('trip point of a ramp', () => {
      const seen = widest(profile([-4, 88], [0, 88], [5, 78]), 8, 'tripPoint');
      const point = plan?.tripPoint;
      const planned = tripPointDoubt(point?.fixed ?? 0, point?.seconds ?? 0, 2 * 0.96);
      expect(seen).toBeLessThanOrEqual(planned + 1e-6);
      // What adds up in the worst case seldom comes together.
      expect(seen).toBeGreaterThan(0.55 * planned);
    });
  },
);
