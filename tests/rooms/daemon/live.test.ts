/** Readings followed live: what comes, what was before, and what it costs. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Declined, type LiveBegin, type Rows } from '../../../src/api/index.ts';
import { createLive } from '../../../src/daemon/live/live.ts';
import { createMemory } from '../../../src/daemon/live/memory.ts';
import { columnsOf, type Reading, SECOND, type SignalId, spanOf } from '../../../src/measure/index.ts';
import { book as demo } from './leg.ts';

const T0 = 1_700_000_000_000_000;
const SPEED = demo.signals.findIndex(({ name }) => name === 'E1.shaft-speed');
const RUN = demo.signals.findIndex(({ name }) => name === 'E1.run-command');
/** No interlock needs any of it. */
const quiet = { ...demo, interlocks: [], machines: [] };

let ms = 0;
const latest = new Map<number, Reading>();
const live = (book: typeof demo = demo) =>
  createLive(book, latest, { nowMs: () => ms, utc: () => T0 + ms * 1_000 });

const reading = (signal: number, atMs: number, value?: number): Reading => {
  const t = (T0 + atMs * 1_000) as Reading['at']['latest'];
  const base = { signal: signal as SignalId, at: spanOf(t, t), response: 0, flags: 0 };
  return value === undefined
    ? { ...base, absent: 'timed-out' }
    : { ...base, value: { low: value, high: value } };
};

interface Told {
  readonly name: string;
  readonly data: unknown;
}
const parsed = (text: string): Told => {
  const [, name = '', data = ''] = /^event: (\w+)\ndata: (.*)\n\n$/.exec(text) ?? [];
  return { name, data: JSON.parse(data) as unknown };
};
const rowsIn = (event: Buffer | undefined): Rows => parsed(String(event)).data as Rows;

beforeEach(() => {
  ms = 0;
  latest.clear();
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

const pass = (by: number): void => {
  ms += by;
  vi.advanceTimersByTime(by);
};

test('what was before comes first; then what is read, once, at most so often as asked', () => {
  const here = live();
  for (let at = 0; at < 1_000; at += 100) {
    ms = at;
    here.take(columnsOf([reading(SPEED, at, at), reading(RUN, at, at < 500 ? 0 : 1)]));
  }
  ms = 1_000;
  const events: Buffer[] = [];
  const follower = here.follow({ signals: ['E1.shaft-speed', 'E1.run-command'], every: 200 }, (event) =>
    events.push(event),
  );
  const begin = parsed(follower.begin(10));
  expect(begin.name).toBe('begin');
  const { zero, signals, before } = begin.data as LiveBegin;
  expect([zero, signals]).toEqual([T0 + 1_000_000, ['E1.shaft-speed', 'E1.run-command']]);
  const of = (rows: Rows, place: number) =>
    rows.t.flatMap((t, index) => (rows.signal[index] === place ? [[t / 1_000, rows.low[index]]] : []));
  expect(of(before, 0)).toEqual(Array.from({ length: 10 }, (_, index) => [index * 100 - 1_000, index * 100]));
  expect(of(before, 1)).toEqual([
    [-1_000, 0],
    [-600, 0],
    [-500, 1],
    [-100, 1],
  ]);
  for (const [at, value] of [
    [1_010, 5],
    [1_060, -3],
    [1_110, 90],
    [1_150, 4],
  ] as const) {
    pass(at - ms);
    here.take(columnsOf([reading(SPEED, at, value)]));
  }
  pass(1_300 - ms);
  // The first goes out at once; the others wait until the time that was asked for is over.
  expect(events.map((event) => rowsIn(event).low)).toEqual([[5], [-3, 90, 4]]);
  follower.stop();
  here.take(columnsOf([reading(SPEED, 1_400, 1)]));
  pass(1_000);
  expect(events.length).toBe(2);
});

test('all who ask the same get the same bytes, and whoever begins later nothing twice', () => {
  const here = live();
  const [first, second]: [Buffer[], Buffer[]] = [[], []];
  const question = { signals: ['E1.shaft-speed'], every: 50 };
  const one = here.follow(question, (event) => first.push(event));
  one.begin(10);
  here.take(columnsOf([reading(SPEED, 0, 1)]));
  const other = here.follow(question, (event) => second.push(event));
  const { before } = parsed(other.begin(10)).data as LiveBegin;
  expect(before.low).toEqual([1]);
  expect(first.map((event) => rowsIn(event).low)).toEqual([[1]]);
  pass(60);
  here.take(columnsOf([reading(SPEED, 60, 2)]));
  pass(60);
  expect(second.length).toBe(1);
  expect(second[0]).toBe(first[1]);
});

test('an absence comes with its reason, and a reason that is none is refused', () => {
  const here = live();
  const events: Buffer[] = [];
  here.follow({ signals: ['E1.shaft-speed'], every: 50 }, (event) => events.push(event)).begin(0);
  here.take(columnsOf([reading(SPEED, 0, 3), reading(SPEED, 1)]));
  pass(60);
  expect(rowsIn(events[0])).toMatchObject({ low: [3, null], high: [3, null], why: ['', 'timed-out'] });
  const follow = (signals: string[]) => here.follow({ signals, every: 50 }, () => undefined);
  expect(() => follow(['E1.nothing'])).toThrow(/no signal E1.nothing/);
  expect(() => follow([])).toThrow(Declined);
  const stops = Array.from({ length: 199 }, () => follow(['E1.shaft-speed']).stop);
  expect(() => follow(['E1.shaft-speed'])).toThrow(/Close one/);
  for (const stop of stops) stop();
  follow(['E1.shaft-speed']);
});

test('a signal that no interlock needs is remembered from when somebody asks, and forgotten ten minutes after', () => {
  const here = live(quiet);
  const ask = (): Rows => {
    const follower = here.follow({ signals: ['E1.shaft-speed'], every: 50 }, () => undefined);
    const { before } = parsed(follower.begin(600)).data as LiveBegin;
    follower.stop();
    return before;
  };
  here.take(columnsOf([reading(SPEED, 0, 1)]));
  expect(ask().t).toEqual([]);
  here.take(columnsOf([reading(SPEED, 10, 2)]));
  expect(ask().low).toEqual([2]);
  pass(300_000);
  here.take(columnsOf([reading(SPEED, ms, 3)]));
  expect(ask().low).toEqual([2, 3]);
  pass(600_100);
  here.take(columnsOf([reading(SPEED, ms, 4)]));
  latest.set(SPEED, reading(SPEED, ms, 4));
  expect(ask().low).toEqual([4]);
});

test('memory: the last minute as it was, up to ten minutes with every excursion, and never more', () => {
  const memory = createMemory(false);
  const hours = 3_600 * 20;
  let spike = 0;
  for (let index = 0; index < hours; index += 1) {
    const value = index === hours - 20 * 500 ? 1_000 : Math.sin(index);
    if (value === 1_000) spike = T0 + index * 50_000;
    memory.take(T0 + index * 50_000, value, value, 0);
  }
  const end = T0 + (hours - 1) * 50_000;
  const rows: [number, number][] = [];
  memory.since(end - 600 * SECOND, (t, low) => rows.push([t, low]));
  expect(rows.filter(([t]) => t > end - 59 * SECOND).length).toBe(59 * 20);
  expect(rows).toContainEqual([spike, 1_000]);
  expect(rows.length).toBeLessThan(8_192 + 2_048);
  expect(rows.map(([t]) => t)).toEqual(rows.map(([t]) => t).sort((a, b) => a - b));
  expect(new Set(rows.map(([t]) => t)).size).toBe(rows.length);
});
