/** What is entered of clocks: when something is first known, when it is news, and no more. */
import { expect, test } from 'vitest';
import type { Clock, ClockEvent } from '../../../src/daemon/clock.ts';
import { createClocks } from '../../../src/daemon/clocks.ts';
import type { Mark } from '../../../src/judge/index.ts';
import { instant } from '../../../src/measure/index.ts';
import type { ClockKnown } from '../../../src/signal/index.ts';

const S = 1_000_000;
const ZERO = 1_764_063_000 * S;

const rig = () => {
  const entries: { kind: string; subject: string; body: Record<string, unknown> }[] = [];
  const told: string[] = [];
  const marks: Mark[] = [];
  let events: ClockEvent[] = [];
  let away = 0;
  const clock: Clock = {
    now: () => instant(ZERO),
    monotonic: () => 0,
    look: () => events.splice(0),
    rate: () => ({ away, ppm: away / 3_600, doubt: 0.5 }),
    ahead: () => away,
  };
  const clocks = createClocks(clock, {
    enter: (kind, subject, body) => entries.push({ kind, subject, body: { ...body } }),
    tell: (_level, text) => told.push(text),
    mark: (mark) => marks.push(mark),
  });
  const happens = (event: ClockEvent): void => {
    events = [event];
    clocks.look();
  };
  const drift = (us: number): void => {
    away = us;
    clocks.look();
  };
  return { clocks, entries, told, marks, happens, drift };
};

const known = (at: number, offset: number, more: Partial<ClockKnown> = {}): ClockKnown => ({
  offset: { low: offset - 2_000, high: offset + 2_000 },
  since: instant(ZERO),
  samples: 1,
  last: instant(ZERO + at),
  steps: 0,
  stepped: 0,
  contradicts: false,
  ...more,
});

test('a clock that is asked every two seconds for a day and drifts by 2.6 s makes some fifty entries', () => {
  const { clocks, entries } = rig();
  for (let at = 0; at < 86_400 * S; at += 2 * S) clocks.source('plc', known(at, (at / 86_400) * 2.6));
  expect(entries[0]).toMatchObject({ kind: 'clock', subject: 'plc', body: { what: 'known', samples: 1 } });
  expect(entries.length).toBeGreaterThan(20);
  expect(entries.length).toBeLessThan(60);
  expect(new Set(entries.slice(1).map(({ body }) => body['what']))).toEqual(new Set(['moved']));
});

test('a clock that was set is entered; one that is set again and again, once a minute with how often', () => {
  const { clocks, entries, told } = rig();
  clocks.source('plc', known(0, 0));
  for (let steps = 1; steps <= 45; steps += 1)
    clocks.source('plc', known(steps * 2 * S, steps * S, { steps, stepped: S }));
  expect(entries.map(({ body }) => [body['what'], body['times']])).toEqual([
    ['known', undefined],
    ['set', 1],
    ['set', 30],
  ]);
  expect(entries[1]?.body['by']).toBe(1);
  expect(told[1]).toContain('was set');
});

test('a clock that is not where it was declared to be is told once, and again when it has been right meanwhile', () => {
  const { clocks, entries } = rig();
  const wrong = { contradicts: true, declaredBound: 20_000 };
  clocks.source('plc', known(0, 90_000, wrong));
  clocks.source('plc', known(2 * S, 90_100, wrong));
  clocks.source('plc', known(4 * S, 89_000, { ...wrong, contradicts: false }));
  clocks.source('plc', known(6 * S, 90_000, wrong));
  expect(entries.map(({ body }) => body['what'])).toEqual(['contradicts', 'contradicts']);
  expect(entries[0]?.body['declaredBound']).toBe(0.02);
});

test('our own: a step and a sleep are entered and marked, a slow drift is entered each half second', () => {
  const { entries, marks, happens, drift, clocks } = rig();
  happens({ kind: 'stepped', at: instant(ZERO + 5 * S), by: -2 * S });
  happens({ kind: 'away', at: instant(ZERO + 60 * S), from: instant(ZERO + 6 * S) });
  expect(entries.map(({ kind, body }) => [kind, body['what']])).toEqual([
    ['clock-stepped', undefined],
    ['clock', 'away'],
  ]);
  expect(marks).toEqual([
    { code: 'clock-stepped', at: ZERO + 5 * S, by: -2 * S },
    { code: 'interrupted', at: ZERO + 60 * S, from: ZERO + 6 * S },
  ]);
  for (let us = 0; us <= 1.2 * S; us += 10_000) drift(us);
  expect(entries.slice(2).map(({ body }) => body['what'])).toEqual(['rate', 'rate']);
  expect(clocks.own()).toMatchObject({ ahead: 1.2, rate: { doubt: 0.5 } });
});
