/** The planner's figures against the judge: never exceeded at any phase, and nearly reached at the worst. */
import { describe, expect, test } from 'vitest';
import { type Feasibility, tripPointDoubt } from '../../../src/rulebook/index.ts';
import { profile } from '../judge/controller.ts';
import { effect, S } from '../judge/rig.ts';
import { type Pace, planOf, stopAt, testOf } from './plan-rig.ts';

const PACES: readonly Pace[] = [
  { poll: 0.1, scan: 0.005, consistent: false },
  { poll: 0.1, scan: 0.02, consistent: true },
  { poll: 0.1, scan: 0.05, consistent: false },
  { poll: 0.25, scan: 0.1, consistent: true },
  { poll: 0.25, scan: 0.05, consistent: false },
];
const PHASES = 12;

/** From 88 % by `rate` rpm a second to 76 %, and there until it is late enough to act. */
const ramp = (rate: number, begin: number) => {
  const end = begin + (12 * 0.96) / rate;
  return { speed: profile([-4, 88], [begin, 88], [end, 76]), to: end + 2 };
};

/** Over the phases of polling, and of the ramp against polls, scans and register steps. */
const worst = (pace: Pace, of: (phase: number, begin: number) => number | undefined): number => {
  let most = 0;
  for (let n = 0; n < PHASES; n += 1) {
    const width = of((n * pace.poll) / PHASES + 0.0013, ((n * 0.618) % 1) * 0.3);
    if (width === undefined) throw new Error('the judge gave no interval');
    most = Math.max(most, width);
  }
  return most;
};

const widthOf = (interval: { low: number; high: number } | undefined): number | undefined =>
  interval && interval.high - interval.low;

/** A hull of readings is a whole number of register steps (0.1 rpm) wide. */
const inSteps = (width: number): number => Math.floor(width / 0.1 + 1e-9) * 0.1;

/** A step to half the speed at 0, reset and start; then a ramp of `rate` rpm a second. */
const stepAndRamp = (rate: number, begin: number, delay: number) => {
  const end = begin + 1 + (11 * 0.96) / rate;
  const points = [
    [-4, 100],
    [0.007, 100],
    [0.008, 50],
    [4, 50],
    [4.001, 100],
    [begin, 100],
    [begin + 1, 88],
    [end, 77],
  ] as const;
  return { speed: profile(...points), to: end + 4, delay, reset: [6, 6.5], start: [7, 7.5] } as const;
};

const percent = (rpm: number | undefined): number => (100 * (rpm ?? 0)) / 96;

/** The hold test as advised; first, where asked for, the shallowest step that is said to be deep enough. */
const holdCourse = ({ hold, step }: Feasibility, stepped: boolean, delay = 1.3) => {
  const [inside = 0, acting = 0] = [hold?.inside.level, hold?.acting.level].map(percent);
  const quiet = 15 + (hold?.inside.seconds ?? 0);
  const acts = quiet + (hold?.acting.seconds ?? 0);
  const deep = stepped ? percent(step) : 100;
  const speed = profile(
    ...([
      [-4, 100],
      [0.007, 100],
      [0.008, deep],
      [6, deep],
      [6.001, 100],
      [14, 100],
    ] as const),
    ...([
      [15, inside],
      [quiet, inside],
      [quiet + 0.001, acting],
      [acts, acting],
    ] as const),
    [acts + 0.001, 100],
  );
  return { speed, to: acts + 4, delay, reset: [8, 8.5], start: [9, 9.5] } as const;
};

const outcomeOf = (verdict: ReturnType<typeof testOf>, aspect: string): string | undefined =>
  verdict?.aspects.find(({ name }) => name === aspect)?.outcome;

describe.each(PACES)('poll $poll s, scan $scan s, consistent $consistent', (pace) => {
  test.each([1.2, 2.9])('trip point of a ramp of %s rpm/s', (rate) => {
    const interlock = stopAt(undefined);
    const point = planOf(interlock, pace).tripPoint;
    const planned = tripPointDoubt(point?.fixed ?? 0, point?.seconds ?? 0, rate);
    const seen = worst(pace, (phase, begin) =>
      widthOf(testOf(interlock, pace, phase, ramp(rate, begin))?.tripPoint),
    );
    expect(seen).toBeLessThanOrEqual(planned + 1e-9);
    expect(seen).toBeGreaterThanOrEqual(0.8 * inSteps(planned) - 1e-9);
  });

  test('response to a step, and the delay and trip point that step and ramp leave together', () => {
    const interlock = stopAt(1.3);
    const plan = planOf(interlock, pace);
    const rate = plan.tripPoint?.fastestRamp ?? 0;
    const verdicts = Array.from({ length: PHASES }, (_, n) => {
      const begin = 14 + ((n * 0.618) % 1) * pace.poll;
      return testOf(interlock, pace, (n * pace.poll) / PHASES + 0.0013, stepAndRamp(rate, begin, 1.3));
    });
    const most = (of: (one: (typeof verdicts)[number]) => number | undefined): number =>
      Math.max(...verdicts.map((one) => of(one) ?? Number.NaN));
    const response = most((one) => widthOf(one?.response));
    const delay = most((one) => widthOf(one?.delay));
    const level = most((one) => widthOf(one?.tripPoint));
    const planned = tripPointDoubt(plan.tripPoint?.fixed ?? 0, plan.tripPoint?.seconds ?? 0, rate);
    expect(response).toBeLessThanOrEqual((plan.responseDoubt ?? 0) + 1e-6);
    expect(response).toBeGreaterThan(0.8 * (plan.responseDoubt ?? 0));
    expect(delay).toBeLessThanOrEqual((plan.delayDoubt ?? 0) + 1e-6);
    expect(delay).toBeGreaterThan(0.8 * (plan.delayDoubt ?? 0));
    expect(level).toBeLessThanOrEqual(planned + 1e-9);
    expect(level).toBeGreaterThanOrEqual(0.8 * inSteps(planned) - 1e-9);
  });

  /** A trip exactly at the set point, a limit far away: the fastest ramp is decided at every phase. */
  test.each([undefined, 1.3])('the fastest ramp decides the set point, with a delay of %s s', (delay) => {
    const interlock = stopAt(delay);
    const rate = planOf(interlock, pace).tripPoint?.fastestRamp ?? 0;
    for (let n = 0; n < PHASES; n += 1) {
      const phase = (n * pace.poll) / PHASES + 0.0013;
      const begin = 14 + ((n * 0.618) % 1) * pace.poll;
      const verdict = testOf(interlock, pace, phase, stepAndRamp(rate, begin, delay ?? 0));
      expect(outcomeOf(verdict, 'set-point')).toBe('pass');
    }
  });

  test('with a delay, a hold and the shallowest step decide the set point; the hold alone does not', () => {
    const interlock = stopAt(1.3);
    const plan = planOf(interlock, pace);
    const sure = (plan.delayDoubt ?? 9) <= 0.4;
    for (let n = 0; n < PHASES; n += 1) {
      const phase = (n * pace.poll) / PHASES + 0.0013;
      const both = testOf(interlock, pace, phase, holdCourse(plan, true));
      expect(outcomeOf(both, 'set-point')).toBe('pass');
      if (sure) expect(outcomeOf(both, 'delay')).toBe('pass');
      const alone = testOf(interlock, pace, phase, holdCourse(plan, false));
      expect(outcomeOf(alone, 'delay')).not.toBe('pass');
    }
  });

  test('an interlock that never acts has failed after the advised time at the level just outside', () => {
    const interlock = stopAt(1.3);
    const { hold } = planOf(interlock, pace);
    const { level = 0, seconds = 0 } = hold?.outside ?? {};
    for (let n = 0; n < PHASES; n += 1) {
      const phase = (n * pace.poll) / PHASES + 0.0013;
      const judgedFor = (time: number) =>
        testOf(interlock, pace, phase, {
          speed: profile(
            [-4, 100],
            [0, 100],
            [0.001, percent(level)],
            [time, percent(level)],
            [time + 0.001, 100],
          ),
          to: time + 4,
          level: 0.5,
        });
      expect(outcomeOf(judgedFor(seconds), 'effect:E1.run')).toBe('fail');
      expect(outcomeOf(judgedFor(seconds - 1), 'effect:E1.run')).toBe('inconclusive');
    }
  });
});

/** The judge cuts delays where the allowed ones begin and end: a cell that is half as wide as the tolerance loses none. */
test('a long delay that the looks tell to less than its tolerance is decided at every phase', () => {
  const pace = { poll: 0.1, scan: 0.05, consistent: false };
  const effects = [effect('run', 0, 70 * S), effect('tripped', 1, 70 * S, { class: 'trip' })] as const;
  const interlock = stopAt(60, { effects });
  const plan = planOf(interlock, pace);
  const rate = plan.tripPoint?.fastestRamp ?? 0;
  expect(plan.delayDoubt).toBeGreaterThan(0.4);
  expect([...plan.notes, ...plan.undecidable].map(({ code }) => code)).not.toContain('delay-by-luck');
  for (let n = 0; n < PHASES; n += 1) {
    const phase = (n * pace.poll) / PHASES + 0.0013;
    const speed = profile(
      ...([
        [-4, 100],
        [0.007, 100],
        [0.008, 50],
        [62, 50],
        [62.001, 100],
      ] as const),
      ...([
        [70, 100],
        [71, 88],
        [71 + (11 * 0.96) / rate, 77],
      ] as const),
    );
    const to = 71 + (11 * 0.96) / rate + 62;
    const hands = { reset: [63, 63.5], start: [64, 64.5] } as const;
    const verdict = testOf(interlock, pace, phase, { speed, to, delay: 60, ...hands });
    expect(outcomeOf(verdict, 'delay')).toBe('pass');
  }
});

describe.each([{ rule: 'guard-band', r: 1 }, { rule: 'guard-band', r: 0.5 }, { rule: 'simple' }] as const)(
  'decision by $rule, r $r',
  (decision) => {
    const pace = { poll: 0.1, scan: 0.05, consistent: false };
    test('the fastest ramp decides; a whole guard band is stricter than bounds', () => {
      const interlock = stopAt(1.3, { decision });
      const rate = planOf(interlock, pace).tripPoint?.fastestRamp ?? 0;
      const plain = planOf(stopAt(1.3), pace).tripPoint?.fastestRamp ?? 0;
      expect(rate < plain).toBe(decision.rule === 'guard-band' && decision.r === 1);
      for (let n = 0; n < PHASES; n += 1) {
        const begin = 14 + ((n * 0.618) % 1) * pace.poll;
        const verdict = testOf(
          interlock,
          pace,
          (n * pace.poll) / PHASES + 0.0013,
          stepAndRamp(rate, begin, 1.3),
        );
        expect(outcomeOf(verdict, 'set-point')).toBe('pass');
      }
    });
    test('the hold test decides', () => {
      const interlock = stopAt(1.3, { decision });
      const plan = planOf(interlock, pace);
      for (let n = 0; n < PHASES; n += 1) {
        const verdict = testOf(interlock, pace, (n * pace.poll) / PHASES + 0.0013, holdCourse(plan, true));
        expect(outcomeOf(verdict, 'set-point')).toBe('pass');
      }
    });
  },
);
