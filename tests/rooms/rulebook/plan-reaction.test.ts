/** Without a declared delay: what ramp, step and hold decide, although the interlock takes some time that nobody told. */
import { describe, expect, test } from 'vitest';
import { openRegion } from '../../../src/judge/region.ts';
import { type Feasibility, feasibility } from '../../../src/rulebook/index.ts';
import { cellOf } from '../../../src/rulebook/plan-trip.ts';
import { profile } from '../judge/controller.ts';
import { effect, S } from '../judge/rig.ts';
import { booksOf, type Pace, planOf, stopAt, testOf } from './plan-rig.ts';

const PACES: readonly Pace[] = [
  { poll: 0.1, scan: 0.02, consistent: true },
  { poll: 0.1, scan: 0.05, consistent: false },
  { poll: 0.25, scan: 0.1, consistent: true },
  { poll: 0.5, scan: 0.05, consistent: false },
];
const PHASES = 12;
const WITHIN = 2;

/** An under-speed stop within 2 s that declares no delay. */
const stop = () =>
  stopAt(undefined, {
    effects: [
      effect('run', 0, WITHIN * S, { until: 'reset' }),
      effect('running', 0, WITHIN * S, { class: 'feedback', until: 'reset' }),
      effect('tripped', 1, WITHIN * S, { class: 'trip', until: 'reset' }),
    ],
  });

const percent = (rpm: number | undefined): number => (100 * (rpm ?? 0)) / 96;

/** In one jump from normal to `from` percent, then down by `rate` percent a second to 74 %. */
const rampCourse = (from: number, rate: number, begin: number, delay: number) => {
  const end = begin + (from - 74) / rate;
  return { speed: profile([-4, 100], [begin, 100], [begin + 0.001, from], [end, 74]), to: end + 3, delay };
};

const phasesOf = (pace: Pace): { readonly phase: number; readonly begin: number }[] =>
  Array.from({ length: PHASES }, (_, n) => ({
    phase: (n * pace.poll) / PHASES + 0.0013,
    begin: ((n * 0.618) % 1) * pace.poll,
  }));

const setPoint = (verdict: ReturnType<typeof testOf>): string | undefined =>
  verdict?.aspects.find(({ name }) => name === 'set-point')?.outcome;

/** The controller needs up to a scan to see it, and one more to act. */
const reactions = (pace: Pace): readonly number[] => [0, 0.2, 0.5 - 2 * pace.scan];

describe.each(PACES)('poll $poll s, scan $scan s, consistent $consistent', (pace) => {
  const interlock = stop();
  const plan = planOf(interlock, pace);
  const rate = percent(plan.tripPoint?.fastestRamp);
  const from = percent(plan.tripPoint?.rampFrom);
  const outcomes = (rampFrom: number, perSecond: number, reaction: number) =>
    phasesOf(pace).map(({ phase, begin }) =>
      setPoint(testOf(interlock, pace, phase, rampCourse(rampFrom, perSecond, begin, reaction))),
    );

  test('the fastest ramp alone decides the set point, whatever it takes up to half a second', () => {
    for (const reaction of reactions(pace))
      expect(new Set(outcomes(from, rate, reaction))).toEqual(new Set(['pass']));
  });
  test('a ramp that is half as fast again does not at every phase', () => {
    const all = reactions(pace).flatMap((reaction) => outcomes(from, 1.5 * rate, reaction));
    expect(all).toContain('inconclusive');
    expect(all).not.toContain('fail');
  });
  test('a jump on the way leaves the same ramp open', () => {
    expect(new Set(outcomes(82.6, rate, 0))).toEqual(new Set(['inconclusive']));
  });
});

/** To the shallowest step that is said to be deep enough; after reset and start a jump and a ramp to 74 %. */
const steppedCourse = (deep: number, rate: number, begin: number, delay: number) => {
  const from = 84.5;
  const end = begin + (from - 74) / rate;
  const speed = profile(
    ...([
      [-4, 100],
      [0.007, 100],
      [0.008, deep],
      [4, deep],
      [4.001, 100],
    ] as const),
    ...([
      [begin, 100],
      [begin + 0.001, from],
      [end, 74],
    ] as const),
  );
  return { speed, to: end + 3, delay, reset: [6, 6.5], start: [7, 7.5] } as const;
};

describe.each(PACES.slice(0, 2))(
  'behind a step: poll $poll s, scan $scan s, consistent $consistent',
  (pace) => {
    const interlock = stop();
    const plan = planOf(interlock, pace);
    const { steppedRamp = 0, fastestRamp = 0 } = plan.tripPoint ?? {};
    const outcomes = (rate: number, reaction: number) =>
      phasesOf(pace).map(({ phase, begin }) =>
        setPoint(
          testOf(interlock, pace, phase, steppedCourse(percent(plan.step), rate, 14 + begin, reaction)),
        ),
      );
    test('a faster ramp decides, even after a jump', () => {
      expect(steppedRamp).toBeGreaterThan(1.1 * fastestRamp);
      for (const reaction of [0, 0.3, 1])
        expect(new Set(outcomes(percent(steppedRamp), reaction))).toEqual(new Set(['pass']));
    });
    test('twice as fast does not at every phase', () => {
      expect(outcomes(percent(2 * steppedRamp), 0.3)).toContain('inconclusive');
    });
    test('is advised beside the slower one', () => {
      const codes = plan.advice.map(({ code }) => code);
      expect(codes).toEqual(['plan-ramp', 'plan-or-hold', 'plan-step-first']);
    });
  },
);

test('where a step is measured no better than half a second, none is advised', () => {
  const plan = planOf(stop(), { poll: 0.5, scan: 0.05, consistent: false });
  expect(plan.tripPoint?.steppedRamp).toBeUndefined();
  expect(plan.step).toBeUndefined();
  expect(plan.advice.map(({ code }) => code)).toEqual(['plan-ramp', 'plan-or-hold']);
});

describe.each(PACES)('hold test: poll $poll s, scan $scan s, consistent $consistent', (pace) => {
  const interlock = stop();
  const plan = planOf(interlock, pace);
  /** Held inside for so long, then where acting passes, as advised; back to normal. */
  const held = ({ hold }: Feasibility, insideFor: number, delay: number, phase: number) => {
    const quiet = insideFor;
    const acts = quiet + (hold?.acting.seconds ?? 0);
    const [inside, acting] = [percent(hold?.inside.level), percent(hold?.acting.level)];
    const speed = profile(
      ...([
        [-4, 100],
        [0, 100],
        [0.001, inside],
        [quiet, inside],
      ] as const),
      ...([
        [quiet + 0.001, acting],
        [acts, acting],
        [acts + 0.001, 100],
      ] as const),
    );
    return setPoint(testOf(interlock, pace, phase, { speed, to: acts + 4, delay }));
  };
  test('decides, whatever it takes up to what is allowed; held for half a second inside it does not', () => {
    for (const { phase } of phasesOf(pace)) {
      for (const delay of [0, 0.4, WITHIN - 2 * pace.scan - 0.05])
        expect(held(plan, plan.hold?.inside.seconds ?? 0, delay, phase)).toBe('pass');
      expect(held(plan, 0.5, 0, phase)).toBe('inconclusive');
    }
  });
});

// The cells of the judge: the planner reckons with the same width.
test.each([
  [0, 0],
  [1, 0.2],
  [1.3, 0.4],
  [60, 1],
  [2, 0],
  [5, 7],
])('cells for %s ± %s s', (time, tolerance) => {
  const delay = { time: time * S, tolerance: tolerance * S, onReturn: 'resets' } as const;
  expect(cellOf(time === 0 ? {} : { delay })).toBeCloseTo(
    openRegion(delay.time, delay.tolerance).width / S,
    12,
  );
});

test('by another decision than by bounds the reading at the effect decides, and nothing is added', () => {
  const pace = { poll: 0.1, scan: 0.05, consistent: false };
  const { plan } = booksOf({ ...stop(), decision: { rule: 'simple' } }, pace);
  const [found] = feasibility(plan);
  expect(found?.tripPoint).not.toHaveProperty('reaction');
  expect(found?.tripPoint?.steppedRamp).toBeUndefined();
  expect(found?.hold?.inside.seconds).toBeCloseTo(0.3, 9);
});
