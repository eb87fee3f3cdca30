/** The offset of another clock: the true one is never outside, whatever the ways, and a clock that is set is noticed. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { instant, newOffset, offsetAt, takeExchange, whenShown } from '../../../src/measure/index.ts';

const S = 1_000_000;
const ZERO = 1_764_063_000 * S;

/** Delays of one exchange on the way there and back, and how long after the one before it is asked. µs. */
const exchange = fc.record({
  wait: fc.integer({ min: 0, max: 40 * S }),
  there: fc.integer({ min: 0, max: 3 * S }),
  back: fc.integer({ min: 0, max: 3 * S }),
});
const exchanges = fc.array(exchange, { minLength: 1, maxLength: 25 });

/** A clock that is ahead by `offset` and runs `ppm` fast, read at `at` to whole steps. */
const clockOf = (offset: number, ppm: number, tick: number) => {
  const ahead = (at: number): number => offset + (at - ZERO) * ppm * 1e-6;
  return { ahead, shown: (at: number) => Math.floor((at + ahead(at)) / tick) * tick };
};

test('the true offset, and the instant of any time that was shown, are inside', () => {
  fc.assert(
    fc.property(
      exchanges,
      fc.integer({ min: -3_600 * S, max: 3_600 * S }),
      // What two clocks can part by at most: 100 ppm each of its own, 500 ppm each by being slewed (from memory).
      fc.integer({ min: -1_200, max: 1_200 }),
      fc.constantFrom(1, 1_000, 10_000, 100_000, 1_000_000),
      fc.integer({ min: 0, max: 60 * S }),
      (all, offset, ppm, tick, later) => {
        const clock = clockOf(offset, ppm, tick);
        const track = newOffset();
        let at = ZERO;
        for (const { wait, there, back } of all) {
          const sent = at + wait;
          const theirs = instant(clock.shown(sent + there));
          at = sent + there + back;
          const told = takeExchange(track, { sent: instant(sent), received: instant(at), theirs });
          expect(told).toBe('kept');
          const now = offsetAt(track, at);
          expect(now?.low).toBeLessThanOrEqual(clock.ahead(at) + 1);
          expect(now?.high).toBeGreaterThanOrEqual(clock.ahead(at) - 1);
        }
        for (const then of [at + later, at - later / 2]) {
          const when = whenShown(track, clock.shown(then), at + later, tick);
          expect(when?.low).toBeLessThanOrEqual(then + 1);
          expect(when?.high).toBeGreaterThanOrEqual(then - 1);
        }
      },
    ),
    { numRuns: 2_000, seed: 10 },
  );
});

test('with quick answers the offset is known to little more than the quickest took', () => {
  const clock = clockOf(7_200 * S + 123_456, 40, 1);
  const track = newOffset();
  for (let index = 0; index < 20; index += 1) {
    const sent = ZERO + index * 2 * S;
    const theirs = instant(clock.shown(sent + 1_000));
    takeExchange(track, { sent: instant(sent), received: instant(sent + 2_000), theirs });
  }
  const { low, high } = offsetAt(track, ZERO + 40 * S)!;
  // 2 ms of delay, 1 ms that a clock is not trusted to show, 2 s × 1,200 ppm to either side.
  expect(high - low).toBeLessThan(2_000 + 1_000 + 2 * 2_400 + 10);
});

describe('a clock that is set', () => {
  const ask = (track: ReturnType<typeof newOffset>, at: number, offset: number) =>
    takeExchange(track, {
      sent: instant(ZERO + at),
      received: instant(ZERO + at + 4_000),
      theirs: instant(ZERO + at + 2_000 + offset),
    });

  test.each([-3_600 * S, -60_000, 60_000, 0.5 * S])(
    'by %s µs is told by how much, and believed from then on',
    (by) => {
      const track = newOffset();
      for (let at = 0; at < 20 * S; at += 2 * S + 7) expect(ask(track, at, 123)).toBe('kept');
      const told = ask(track, 22 * S + 5, 123 + by);
      expect(typeof told === 'object' && Math.abs(told.stepped - by)).toBeLessThan(10_000);
      const { low, high } = offsetAt(track, ZERO + 22 * S)!;
      expect(low).toBeLessThanOrEqual(123 + by);
      expect(high).toBeGreaterThanOrEqual(123 + by);
      expect(track.count).toBe(1);
      expect(ask(track, 24 * S + 5, 123 + by)).toBe('kept');
    },
  );

  test('one that counts in hidden steps of 16 ms is not taken for it, and trusted less instead', () => {
    const track = newOffset();
    const tick = 15_625;
    const late: number[] = [];
    for (let index = 0; index < 400; index += 1) {
      const sent = ZERO + index * (0.5 * S + 3_331);
      const shown = Math.floor((sent + 1_000 + 5 * S) / tick) * tick + 1;
      const told = takeExchange(track, {
        sent: instant(sent),
        received: instant(sent + 2_000),
        theirs: instant(shown),
      });
      expect(told).toBe('kept');
      const { low, high } = offsetAt(track, sent + 2_000)!;
      if (index > 100) late.push(Math.max(0, low - 5 * S, 5 * S - high));
    }
    expect(Math.max(...late)).toBe(0);
  });
});

test('an answer before its question tells nothing', () => {
  const track = newOffset();
  const back = { sent: instant(ZERO + 5), received: instant(ZERO), theirs: instant(ZERO) };
  expect(takeExchange(track, back)).toBe('impossible');
  expect(offsetAt(track, ZERO)).toBeUndefined();
});
