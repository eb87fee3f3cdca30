/** What is judged beside set point and effects: returns, holds, release, repetition, field readings, decision rules, derived values. */
import { expect, test } from 'vitest';
import type { Aspect, Mark, WindowVerdict } from '../../../src/judge/index.ts';
import type { Book, Effect, Interlock, InterlockId, Level } from '../../../src/rulebook/index.ts';
import type { Derivation, SignalDef } from '../../../src/signal/index.ts';
import { profile, runController, type Truth } from './controller.ts';
import { at, bookOf, effect, HEALTHY, idOf, judged, type Plant, S, sample, underspeed } from './rig.ts';

const absolute = (offset: number): Level => ({ of: 'absolute', factor: 0, offset });

const named = (verdict: WindowVerdict | undefined, name: string): Aspect | undefined =>
  verdict?.aspects.find((one) => one.name === name);

const judge = (book: Book, plant: Plant, to: number, marks: readonly Mark[] = [], every = 0.02) =>
  judged(book, sample({ ...HEALTHY, ...plant }, { from: 0, to, every, phase: 0.007 }), {
    method: 'injected',
    marks,
  }).windows[0];

const TRUTH: Truth = { level: 0.82, delay: 1, scan: 0.01, latched: true };

/** A dip shorter than the delay, a return for a moment, and a dip that lasts. */
const DIPS = profile(
  [0, 100],
  [10, 100],
  [10.01, 75],
  [10.6, 75],
  [10.61, 100],
  [11, 100],
  [11.01, 75],
  [16, 75],
  [16.01, 100],
);

const dipsOf = (acts: number): Plant => {
  const plant = runController({ ...TRUTH, delay: 99 }, { speed: DIPS, from: 0, to: 30 });
  const on = (t: number): boolean => t >= acts;
  return {
    ...plant,
    run: (t) => (on(t) ? 0 : 1),
    running: (t) => (on(t - 0.1) ? 0 : 1),
    tripped: (t) => (on(t) ? 1 : 0),
  };
};

const returning = (onReturn: 'resets' | 'accumulates'): Book =>
  bookOf([underspeed({ delay: { time: 1 * S, tolerance: 0.2 * S, onReturn } })]);

/** OPC 10000-9, 5.8.2: with an on-delay the value must stay beyond the limit for the whole of it. */
test('a delay that resets acts 1 s after the last return; one that accumulates acts sooner', () => {
  const resets = named(judge(returning('resets'), dipsOf(12.01), 25), 'on-return');
  expect([resets?.outcome, resets?.reason.params['found']]).toEqual(['pass', 'resets']);
  const sooner = judge(returning('resets'), dipsOf(11.42), 25);
  expect(named(sooner, 'on-return')?.outcome).toBe('fail');
  expect(sooner?.outcome).toBe('fail');
  const adds = named(judge(returning('accumulates'), dipsOf(11.42), 25), 'on-return');
  expect([adds?.outcome, adds?.reason.params['found']]).toEqual(['pass', 'accumulates']);
  expect(named(judge(returning('accumulates'), dipsOf(12.01), 25), 'on-return')?.outcome).toBe('fail');
});

test('without a return nothing is said of it', () => {
  const speed = profile([0, 100], [10, 100], [10.01, 75], [16, 75], [16.01, 100]);
  const plant = runController(TRUTH, { speed, from: 0, to: 30 });
  expect(named(judge(returning('resets'), plant, 25), 'on-return')).toBeUndefined();
});

test('an accumulating delay is measured like another: level and delay of a step and a ramp', () => {
  const speed = profile(
    [0, 100],
    [10, 100],
    [10.01, 70],
    [14, 70],
    [14.01, 100],
    [24, 100],
    [44, 70],
    [50, 70],
    [50.01, 100],
  );
  const plant = runController(TRUTH, { speed, from: 0, to: 60, reset: [16, 16.5], start: [18, 18.5] });
  const verdict = judge(returning('accumulates'), plant, 58);
  expect(named(verdict, 'delay')?.outcome).toBe('pass');
  expect(named(verdict, 'set-point')?.outcome).toBe('pass');
});

test('a hold just inside shows that nothing acts there; the trial says how its cause was moved', () => {
  const speed = profile(
    [0, 100],
    [10, 100],
    [11, 84.5],
    [21, 84.5],
    [22, 100],
    [32, 100],
    [32.01, 75],
    [36, 75],
    [36.01, 100],
  );
  const plant = runController(TRUTH, { speed, from: 0, to: 50 });
  const verdict = judge(returning('resets'), plant, 45);
  const [hold, step] = verdict?.trials ?? [];
  expect(hold?.course?.kind).toBe('hold');
  expect(hold?.course?.seconds).toBeGreaterThan(9);
  expect(hold?.aspects.find(({ name }) => name === 'hold-inside')?.outcome).toBe('pass');
  expect(step?.course?.kind).toBe('step');
  // Held 10 s at 84.5 % without acting: no level above that is left.
  expect(verdict?.tripPoint?.high).toBeLessThanOrEqual(0.845 * 96 + 0.2);
  const region = verdict?.region ?? [];
  expect(region.length).toBeGreaterThan(0);
  expect(region.every(({ level }) => level.low <= level.high)).toBe(true);
});

/** A high alarm at 80 with a deadband of 3 that follows its cause (EEMUA 191 asks for a deadband; the figures are ours). */
const HIGH: Interlock = (() => {
  const {
    limit: _limit,
    delay: _delay,
    ...rest
  } = underspeed({
    cause: {
      kind: 'level',
      signal: idOf('temp'),
      side: 'above',
      setPoint: absolute(80),
      tolerance: absolute(1),
      clears: absolute(75),
    },
    effects: [effect('horn', 1, 3 * S, { class: 'alarm', until: 'cause-clears' })],
  });
  return { ...rest, release: { at: absolute(77), tolerance: absolute(0.5) }, dwell: 3 * S };
})();

const triangle = (t: number): number => (t < 60 ? Math.max(60, Math.min(85, 50 + t)) : Math.max(60, 145 - t));
const hornOf =
  (trip: number, release: number) =>
  (t: number): number =>
    t < 60 ? Number(triangle(t) >= trip) : Number(triangle(t) > release);

test('hysteresis: released at its level, at its set point, or never', () => {
  const outcomeOf = (horn: Plant['horn']) =>
    named(judge(bookOf([HIGH]), { temp: triangle, ...(horn && { horn }) }, 95, [], 0.1), 'release:E1.horn');
  expect(outcomeOf(hornOf(80, 77))?.outcome).toBe('pass');
  expect(outcomeOf(hornOf(80, 80))?.reason.code).toBe('release-outside');
  expect(outcomeOf((t) => Number(t > 30))?.reason.code).toBe('not-released');
});

const thrice =
  (trips: readonly number[]) =>
  (t: number): number => {
    const round = Math.floor(t / 60);
    const s = t - round * 60;
    return Number(s > 10 && s < 45 && ramp(t) >= (trips[round] ?? 200));
  };
const ramp = (t: number): number => {
  const s = t % 60;
  return s >= 40 ? 60 : Math.max(60, Math.min(84, 50 + s));
};

test('three trials within what is allowed, farther apart, too few', () => {
  const { release: _release, ...plain } = HIGH;
  const book = bookOf([{ ...plain, repeat: { trials: 3, within: absolute(0.8) } }]);
  const outcomeOf = (trips: readonly number[]) =>
    named(judge(book, { temp: ramp, horn: thrice(trips) }, trips.length * 60, [], 0.1), 'repeat');
  expect(outcomeOf([80, 80.3, 80.1])?.outcome).toBe('pass');
  expect(outcomeOf([79.2, 80.9, 80.1])?.reason.code).toBe('does-not-repeat');
  expect(outcomeOf([80, 80.3])?.outcome).toBe('not-tested');
});

const seen = (low: number, high: number): Mark => ({
  code: 'observed',
  at: at(62),
  by: 'tester',
  interlock: 0 as InterlockId,
  value: { low, high },
  instrument: 'thermometer',
});

/** A controller that scales by 0.9 shows 80 where the instrument shows 88.9: common practice is to compare the two. */
test('what the instrument at the sensor showed agrees, disagrees, or is too vague', () => {
  const outcomeOf = (low: number, high: number) =>
    named(
      judge(bookOf([HIGH]), { temp: triangle, horn: hornOf(80, 77) }, 95, [seen(low, high)], 0.1),
      'observed',
    );
  expect(outcomeOf(79.8, 80.2)?.outcome).toBe('pass');
  expect(outcomeOf(88.6, 89.2)?.reason.code).toBe('observed-disagrees');
  expect(outcomeOf(78, 83)?.outcome).toBe('inconclusive');
});

test('by bounds undecided, by simple acceptance decided, with the probability of conformance', () => {
  const coarse = (decision: Interlock['decision']) => {
    const { release: _release, ...plain } = HIGH;
    const book = bookOf([{ ...plain, ...(decision && { decision }) }]);
    const rows: Plant = {
      temp: (t) => (t < 10 ? 60 : Math.min(95, 60 + (t - 10) * 1.8)),
      horn: (t) => Number(t >= 21.5),
    };
    return named(judge(book, rows, 60, [], 1), 'set-point');
  };
  expect(coarse(undefined)?.outcome).toBe('inconclusive');
  const simple = coarse({ rule: 'simple' });
  expect(simple?.outcome).toBe('pass');
  expect(Number(simple?.reason.params['probability'])).toBeGreaterThan(0.5);
  expect(coarse({ rule: 'guard-band', r: 1 })?.outcome).toBe('inconclusive');
});

const derivedBook = (from: Derivation, interlock: Interlock, unit: string): Book => {
  const book = bookOf([interlock]);
  const template = book.signals[idOf('temp')] as SignalDef;
  const id = book.signals.length as SignalDef['id'];
  const derived: SignalDef = {
    ...template,
    id,
    name: 'E1.derived',
    source: -1,
    address: { kind: 'derived', from },
    unit,
  };
  const cause = { ...interlock.cause, signal: id } as Interlock['cause'];
  return {
    ...book,
    signals: [...book.signals, derived],
    interlocks: [{ ...interlock, cause, id: 0 as InterlockId }],
  };
};

const above = (
  set: number,
  tolerance: number,
  clears: number,
  effects: readonly [Effect, ...Effect[]],
): Interlock => {
  const { release: _release, ...plain } = HIGH;
  return {
    ...plain,
    cause: {
      kind: 'level',
      signal: idOf('temp'),
      side: 'above',
      setPoint: absolute(set),
      tolerance: absolute(tolerance),
      clears: absolute(clears),
    },
    effects,
  };
};

const HORN: readonly [Effect, ...Effect[]] = [effect('horn', 1, 2 * S, { class: 'alarm' })];

test('a bearing above ambient: the difference counts, not the temperature', () => {
  const book = derivedBook(
    { as: 'difference', of: [idOf('temp'), idOf('temp2')] },
    above(40, 1, 35, HORN),
    'degF',
  );
  const ambient = (t: number): number => 60 + 0.1 * t;
  const bearing = (t: number): number => ambient(t) + (t < 10 ? 10 : Math.min(45, 10 + (t - 10)));
  const at40 = (t: number): number => Number(t >= 40 && t < 90);
  expect(judge(book, { temp: bearing, temp2: ambient, horn: at40 }, 60, [], 0.1)?.outcome).not.toBe('fail');
  const point = judge(book, { temp: bearing, temp2: ambient, horn: at40 }, 60, [], 0.1)?.tripPoint;
  expect(point?.low).toBeLessThanOrEqual(40);
  expect(point?.high).toBeGreaterThanOrEqual(40);
  expect((point?.high ?? 9) - (point?.low ?? 0)).toBeLessThan(1);
  const late = (t: number): number => Number(t >= 44);
  expect(
    named(judge(book, { temp: bearing, temp2: ambient, horn: late }, 60, [], 0.1), 'set-point')?.outcome,
  ).toBe('fail');
});

/** Slip = 100 × (1 − driven / driving): the definition of the US mine-safety letter on belt slippage. */
test('slip between two shafts trips at its percentage', () => {
  const from: Derivation = { as: 'slip', of: [idOf('head'), idOf('speed')], gear: 1 };
  const book = derivedBook(from, above(10, 1, 6, HORN), '%');
  const speed = (t: number): number => 96 * (1 - (t < 10 ? 0.02 : Math.min(0.15, 0.02 + (t - 10) * 0.005)));
  const acts = (t: number): number => Number(t >= 26.02);
  const verdict = judge(book, { speed, head: () => 96, horn: acts }, 60, [], 0.05);
  expect(named(verdict, 'set-point')?.outcome).toBe('pass');
});

test('a rate of rise: per minute, over the time that is declared', () => {
  const from: Derivation = { as: 'rate', of: [idOf('temp')], over: 20 * S, per: 60 * S };
  const book = derivedBook(from, above(5, 0.5, 2, HORN), 'degF');
  const temp = (t: number): number => 60 + Math.max(0, t - 40) * (6 / 60);
  // 6 per minute, as a mean over 20 s: passes 5 after 16.7 s.
  const good = judge(book, { temp, horn: (t) => Number(t >= 56.9) }, 90, [], 0.2);
  expect(good?.outcome).not.toBe('fail');
  expect(judge(book, { temp }, 90, [], 0.2)?.outcome).toBe('fail');
});

test('a derived value has no evidence while one of its inputs has none', () => {
  const book = derivedBook(
    { as: 'spread', of: [idOf('temp'), idOf('temp2')] },
    above(15, 1, 10, HORN),
    'degF',
  );
  const temp = (t: number): number => (t < 10 ? 60 : 80);
  expect(judge(book, { temp, horn: (t) => Number(t >= 10.2) }, 20, [], 0.1)?.outcome).not.toBe('not-tested');
  const blind = judge(book, { temp, temp2: (t) => (t > 8 && t < 25 ? undefined : 60) }, 20, [], 0.1);
  expect(blind?.outcome).not.toBe('fail');
  expect(blind?.outcome).not.toBe('pass');
});

/** Common practice, no source: a normal that moves by more than 3 % between two tests asks for a reason. */
test('a normal that has moved since the last passed window is no pass; one that has not is', () => {
  const speed = profile([0, 100], [10, 100], [10.01, 75], [16, 75], [16.01, 100]);
  const plant = runController(TRUTH, { speed, from: 0, to: 30 });
  const earlier = (rpm: number): Mark => ({
    code: 'earlier-normal',
    at: at(1),
    interlock: 0 as InterlockId,
    value: { low: rpm - 0.05, high: rpm + 0.05 },
    window: 'w1',
  });
  const outcomeOf = (rpm: number) => {
    const verdict = judge(returning('resets'), plant, 25, [earlier(rpm)]);
    return [named(verdict, 'normal:earlier')?.outcome, verdict?.outcome === 'pass'];
  };
  expect(outcomeOf(97)[0]).toBe('pass');
  expect(outcomeOf(90)).toEqual(['inconclusive', false]);
});

/** A drive's reference times its gear gives the speed, unless the belt slips: 40.2 Hz × 2.4 = 96.5 rpm. */
test('normal is held against what the drive says', () => {
  const speed = profile([0, 100], [10, 100], [10.01, 75], [16, 75], [16.01, 100]);
  const plant = runController(TRUTH, { speed, from: 0, to: 30 });
  const [book] = [returning('resets')];
  const machines = book.machines.map((machine) => ({
    ...machine,
    normals: machine.normals.map((normal) => ({
      ...normal,
      against: [{ signal: idOf('setting'), factor: 2.4 }],
    })),
  }));
  const outcomeOf = (hertz: number | undefined) =>
    named(judge({ ...book, machines }, { ...plant, setting: () => hertz }, 25), 'normal:E1.setting')?.reason
      .code;
  expect(outcomeOf(40.2)).toBe('normal-agrees-with');
  expect(outcomeOf(48)).toBe('normal-differs-from');
  expect(outcomeOf(42.1)).toBe('normal-unsure-against');
  expect(outcomeOf(undefined)).toBe('normal-without-reference');
});
