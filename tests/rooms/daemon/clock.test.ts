/** Our clock over made-up clocks of a machine: nothing waits, and what happened is known. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type ClockEvent, createClock } from '../../../src/daemon/clock.ts';

const S = 1_000_000;
const ZERO = 1_764_063_000 * S;

/** A machine whose true time, in µs, is moved by hand. */
const machineOf = () => {
  let truth = 0;
  let asleep = 0;
  let set = 0;
  let rate = 1;
  return {
    clocks: {
      // UTC is read to the millisecond, the time since boot to a hundredth of a second.
      monotonic: () => Math.floor(truth - asleep),
      utc: () => Math.floor((ZERO + truth * rate + set) / 1_000) * 1_000,
      boot: () => Math.floor(truth / 10_000) * 10_000,
    },
    pass: (us: number) => {
      truth += us;
    },
    sleep: (us: number) => {
      truth += us;
      asleep += us;
    },
    set: (us: number) => {
      set += us;
    },
    /** The machine's UTC runs so fast against its monotonic clock. */
    drift: (ppm: number) => {
      rate = 1 + ppm * 1e-6;
    },
    truth: () => ZERO + truth,
  };
};

type Machine = ReturnType<typeof machineOf>;

/** Four looks a second for so many seconds; events on the way. */
const run = (machine: Machine, clock: ReturnType<typeof createClock>, seconds: number): ClockEvent[] => {
  const events: ClockEvent[] = [];
  for (let index = 0; index < seconds * 4; index += 1) {
    machine.pass(S / 4);
    events.push(...clock.look());
  }
  return events;
};

describe('the machine’s clock is set', () => {
  test.each([-3_600, -0.2, 0.2, 3_600])('by %s s: told once, and ours goes on as it was', (by) => {
    const machine = machineOf();
    const clock = createClock(machine.clocks);
    expect(run(machine, clock, 10)).toEqual([]);
    machine.set(by * S);
    const events = run(machine, clock, 10);
    expect(events.map(({ kind }) => kind)).toEqual(['stepped']);
    const [event] = events;
    expect(event?.kind === 'stepped' && Math.abs(event.by - by * S)).toBeLessThanOrEqual(2_000);
    expect(Math.abs(clock.now() - machine.truth())).toBeLessThan(3_000);
    expect(Math.abs(clock.ahead() - by * S)).toBeLessThanOrEqual(3_000);
  });

  // RFC 5905, step threshold 0.128 s (from memory).
  test('by less than 0.128 s: no step; ours is led there, by 500 ppm at most', () => {
    const machine = machineOf();
    const clock = createClock(machine.clocks);
    machine.set(0.1 * S);
    expect(run(machine, clock, 20)).toEqual([]);
    expect(Math.abs(clock.now() - machine.truth() - 0.01 * S)).toBeLessThan(2_000);
    expect(run(machine, clock, 300)).toEqual([]);
    expect(Math.abs(clock.now() - machine.truth() - 0.1 * S)).toBeLessThan(3_000);
  });
});

test('a machine that sleeps: the time was there all the same, and whoever asks first afterwards is told so', () => {
  const machine = machineOf();
  const clock = createClock(machine.clocks);
  run(machine, clock, 10);
  const before = clock.now();
  machine.sleep(30 * S);
  expect(clock.now() - before).toBeGreaterThan(29.99 * S);
  const events = run(machine, clock, 10);
  expect(events.map(({ kind }) => kind)).toEqual(['away']);
  expect(Math.abs(clock.now() - machine.truth())).toBeLessThan(5_000);
  // The monotonic clock of the entries does not count sleep.
  expect(Math.abs(clock.monotonic() - 20 * S)).toBeLessThan(1_000);
});

test('a program that stood still for so long that nothing was read says so', () => {
  const machine = machineOf();
  const clock = createClock(machine.clocks);
  run(machine, clock, 3);
  machine.pass(7 * S);
  const [event, ...more] = run(machine, clock, 3);
  expect(more).toEqual([]);
  expect(event?.kind === 'away' && event.at - event.from).toBeGreaterThan(6.9 * S);
});

test.each([-120, 25])('a machine whose UTC runs %s ppm off is told as such, and followed', (ppm) => {
  const machine = machineOf();
  const clock = createClock(machine.clocks);
  machine.drift(ppm);
  run(machine, clock, 300);
  expect(clock.rate()).toBeUndefined();
  expect(run(machine, clock, 1_000)).toEqual([]);
  const rate = clock.rate();
  expect(Math.abs((rate?.ppm ?? 0) - ppm)).toBeLessThanOrEqual(rate?.doubt ?? 0);
  expect(Math.abs(clock.ahead())).toBeLessThan(5_000);
});

test('whatever happens to the machine, our time never goes back, and two looks are never read crookedly', () => {
  const happening = fc.oneof(
    fc.record({ what: fc.constant('pass' as const), us: fc.integer({ min: 1, max: 8 * S }) }),
    fc.record({ what: fc.constant('sleep' as const), us: fc.integer({ min: 1, max: 100 * S }) }),
    fc.record({ what: fc.constant('set' as const), us: fc.integer({ min: -100 * S, max: 100 * S }) }),
    fc.record({ what: fc.constant('drift' as const), us: fc.integer({ min: -400, max: 400 }) }),
    fc.record({ what: fc.constant('look' as const), us: fc.constant(0) }),
  );
  fc.assert(
    fc.property(fc.array(happening, { maxLength: 60 }), (story) => {
      const machine = machineOf();
      const clock = createClock(machine.clocks);
      let last = clock.now();
      let mono = clock.monotonic();
      for (const { what, us } of story) {
        if (what === 'look') clock.look();
        else machine[what](us);
        const [now, own] = [clock.now(), clock.monotonic()];
        expect(now).toBeGreaterThanOrEqual(last);
        expect(own).toBeGreaterThanOrEqual(mono);
        [last, mono] = [now, own];
      }
    }),
    { numRuns: 500, seed: 4 },
  );
});
