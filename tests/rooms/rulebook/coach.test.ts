/** What is told to whoever moves the cause: bounds on the rate that hold the truth, and times that are long enough. */
import { describe, expect, test } from 'vitest';
import { type CauseReading, coach, type Feasibility } from '../../../src/rulebook/index.ts';
import { text } from '../../../src/words/index.ts';
import { profile } from '../judge/controller.ts';
import { effect, idOf, S, sample, underspeed } from '../judge/rig.ts';
import { planOf, stopAt } from './plan-rig.ts';

const PACE = { poll: 0.1, scan: 0.05, consistent: false } as const;
const plan = planOf(stopAt(1.3), PACE);
const allowed = plan.tripPoint?.fastestPercent ?? 0;

const readings = (speed: (t: number) => number, to: number, phase = 0.013): CauseReading[] =>
  sample({ speed }, { from: 0, to, every: PACE.poll, phase, age: PACE.scan, scan: PACE.scan })
    .filter((row) => row.signal === idOf('speed'))
    .map(({ at, value }) => ({ ...at, low: value?.low ?? 0, high: value?.high ?? 0 }));

/** Falls from 86 % at 5 s by so many percent of normal a second; looked at while it is at 82 %. */
const ramping = (rate: number, phase?: number): CauseReading[] =>
  readings(profile([0, 86], [5, 86], [5 + 10 / rate, 76]), 5 + 4 / rate, phase);

describe('a ramp', () => {
  test('faster than allowed is told to slow down, slower is in range; the bounds hold the truth', () => {
    for (const factor of [0.3, 0.6, 1.5, 2, 5]) {
      for (const phase of [0, 0.02, 0.04, 0.06, 0.08]) {
        const found = coach(plan, ramping(allowed * factor, phase));
        expect(found.code).toBe(factor > 1 ? 'coach-slow-down' : 'coach-in-range');
        expect(found.rate?.low).toBeLessThanOrEqual(allowed * factor + 1e-9);
        expect(found.rate?.high).toBeGreaterThanOrEqual(allowed * factor - 1e-9);
        expect(found.allowed).toBeCloseTo(allowed, 9);
      }
    }
  });
  test('too fast is told within a second', () => {
    const rows = ramping(3 * allowed);
    const begun = 5 + 2 / (3 * allowed);
    const first = rows.findIndex((_, n) => coach(plan, rows.slice(0, n + 1)).code === 'coach-slow-down');
    const zero = rows[0]?.latest ?? 0;
    expect(((rows[first]?.latest ?? Number.NaN) - zero) / S).toBeLessThan(begun + 1);
  });
  test('at just the allowed rate no direction is claimed that the readings do not bear', () => {
    expect(coach(plan, ramping(allowed)).code).toMatch(/^coach-(unclear|in-range)$/);
  });
  test('far above the band any rate will do, and the place from which it matters is told', () => {
    const found = coach(plan, readings(profile([0, 100], [2, 100], [4, 90]), 3));
    expect(found.code).toBe('coach-approach');
    expect(found.params?.['level']).toBeGreaterThan(83.5);
    expect(found.params?.['level']).toBeLessThan(86);
  });
  test('its words carry rate and limit in percent of normal', () => {
    expect(text(coach(plan, ramping(5 * allowed)))).toMatch(
      /^Slow down: [\d.]+ … [\d.]+ %\/s, at most 1\.8 %\/s\.$/,
    );
  });
});

describe('a hold', () => {
  const { hold } = plan;
  const percent = (rpm = 0) => (100 * rpm) / 96;
  const at = (level: number, seconds: number) =>
    coach(plan, readings(profile([0, 100], [5, 100], [5.001, level], [60, level]), 5 + seconds));

  test.each([
    ['inside', hold?.inside],
    ['acting', hold?.acting],
    ['outside', hold?.outside],
  ])('%s counts down to nothing at the advised time and not before', (_, zone) => {
    const { level, seconds = 0 } = zone ?? {};
    const left = (after: number): number => {
      const found = at(percent(level), after);
      if (found.code === 'coach-held') return 0;
      expect(found.code).toBe('coach-hold');
      return found.params?.['left'] as number;
    };
    for (const after of [0.5, seconds / 2, seconds - 0.3]) {
      expect(left(after)).toBeGreaterThanOrEqual(seconds - after - 1e-9);
      expect(left(after)).toBeLessThanOrEqual(seconds - after + 0.3 + 1e-9);
    }
    // A look at either end, and a scan.
    expect(left(seconds + 0.25)).toBe(0);
  });
  test('begins anew when the value leaves', () => {
    const out = percent(hold?.outside.level) - 1;
    const rows = readings(
      profile([0, out], [30, out], [30.001, 84], [30.5, 84], [30.501, out], [60, out]),
      32.5,
    );
    expect(coach(plan, rows.slice(0, 295)).code).toBe('coach-held');
    expect(coach(plan, rows).params?.['left']).toBeGreaterThan((hold?.outside.seconds ?? 0) - 2.2);
  });
  test('a cause that rises is mirrored', () => {
    const hot = planOf(
      stopAt(undefined, {
        cause: {
          kind: 'level',
          signal: idOf('temp'),
          side: 'above',
          setPoint: { of: 'absolute', factor: 0, offset: 120 },
          tolerance: { of: 'absolute', factor: 0, offset: 2 },
          clears: { of: 'absolute', factor: 0, offset: 115 },
        },
        effects: [effect('run', 0, 1 * S)],
      }),
      PACE,
    );
    const heating = (rate: number, to: number): CauseReading[] =>
      sample({ temp: (t) => 120 + rate * (t - 5) }, { from: 0, to, every: 0.1, phase: 0 })
        .filter((row) => row.signal === idOf('temp'))
        .map((row) => ({ ...row.at, low: row.value?.low ?? 0, high: row.value?.high ?? 0 }));
    const most = hot.tripPoint?.fastestRamp ?? 0;
    expect(coach(hot, heating(2 * most, 5)).code).toBe('coach-slow-down');
    expect(coach(hot, heating(most / 2, 5)).code).toBe('coach-in-range');
    expect(coach(hot, heating(most / 2, 5.8 + 4 / most)).code).toBe('coach-hold');
    expect(coach(hot, heating(most / 2, 0.5)).code).toBe('coach-approach');
  });
});

test('a contact must be there, and stay', () => {
  const {
    delay: _delay,
    limit: _limit,
    ...bare
  } = underspeed({
    cause: { kind: 'contact', signal: idOf('contact'), state: 1 },
    effects: [effect('run', 0, 1.5 * S)],
  });
  const found = planOf(bare, PACE);
  const rows = (from: number, to: number): CauseReading[] =>
    Array.from({ length: Math.round(to * 10) }, (_, n) => {
      const state = n / 10 >= from ? 1 : 0;
      return { earliest: n * S * 0.1, latest: n * S * 0.1, low: state, high: state };
    });
  expect(coach(found, rows(9, 2)).code).toBe('coach-not-there');
  expect(coach(found, rows(1, 2)).params?.['left']).toBeCloseTo(Math.ceil(10 * (1.8 - 0.9)) / 10, 9);
  expect(coach(found, rows(1, 4)).code).toBe('coach-held');
});

test('without readings, or without a plan, nothing is claimed', () => {
  expect(coach(plan, []).code).toBe('coach-no-reading');
  expect(coach({ interlock: plan.interlock, undecidable: [], notes: [], advice: [] }, ramping(1)).code).toBe(
    'coach-no-reading',
  );
});

test('it is cheap: ten minutes of readings cost no more looks than ten seconds of them', () => {
  let looks = 0;
  const rows = readings(profile([0, 82], [600, 81.9]), 600);
  const counted = new Proxy(rows, {
    get: (target, key) => {
      if (typeof key === 'string' && /^\d+$/.test(key)) looks += 1;
      return Reflect.get(target, key) as unknown;
    },
  });
  const shallow: Feasibility = { ...plan, hold: undefined as never };
  coach(shallow, counted);
  expect(looks).toBeLessThan(110);
});
