/**
 * The sums beneath the figures of an interlock, against sums made by hand: the three worked cases (see the tests of the
 * judge, tests/rooms/judge/worked-cases.test.ts) and single figures. The limits of the guard band by JCGM 106:2012, 8.3.
 */
import { describe, expect, test } from 'vitest';
import type { Aspect, WindowVerdict } from '../../../src/judge/index.ts';
import { arithmetic } from '../../../src/report/arithmetic/arithmetic.ts';
import { subjectsOf } from '../../../src/report/facts.ts';
import type { WindowReport } from '../../../src/report/index.ts';
import type { Book, Interlock, InterlockId } from '../../../src/rulebook/index.ts';
import { at, bookOf, effect, idOf, judged, S, sample, underspeed } from '../judge/rig.ts';
import { SAMPLE } from './sample.ts';

const sumsIn = (report: WindowReport): readonly string[] => {
  const [subject] = subjectsOf(report);
  return subject === undefined ? [] : arithmetic(report, subject);
};

/** Seconds on the page are 10 more than in the case. */
const sumsOf = (book: Book, verdict: WindowVerdict | undefined): readonly string[] =>
  sumsIn({
    ...SAMPLE,
    opened: at(-10),
    book,
    interlocks: verdict ? [{ interlock: 0 as InterlockId, method: 'unstated', verdict, traces: [] }] : [],
  });

const { delay: _delay, limit: _limit, ...PLAIN } = underspeed();

const CONTACT: Interlock = {
  ...PLAIN,
  cause: { kind: 'contact', signal: idOf('contact'), state: 1 },
  effects: [effect('run', 0, 1_500_000)],
};

const PROBE: Interlock = {
  ...PLAIN,
  cause: {
    kind: 'level',
    signal: idOf('temp'),
    side: 'above',
    setPoint: { of: 'absolute', factor: 0, offset: 120 },
    tolerance: { of: 'absolute', factor: 0, offset: 2 },
    clears: { of: 'absolute', factor: 0, offset: 115 },
  },
  effects: [effect('horn', 1, 2_000_000, { class: 'alarm' })],
};

describe('the worked cases', () => {
  test('1: trip point, share of normal, set point, delay and limit', () => {
    const sums = sumsIn(SAMPLE);
    expect(sums.slice(0, 4)).toEqual([
      // 78.351 ÷ 96.05 = 0.81573, 79.149 ÷ 95.95 = 0.82490.
      'Trip point 78.35 … 79.15 rpm ÷ normal 95.95 … 96.05 rpm: 78.35 ÷ 96.05 … 79.15 ÷ 95.95 = 81.57 … 82.49 %.',
      'Trip point 81.57 … 82.49 % against 82 ± 1.5 % = 80.5 … 83.5 %: wholly inside.',
      'Delay 0.86 … 1.14 s against 1 ± 0.2 s = 0.8 … 1.2 s: wholly inside.',
      // 0.8 × 96 = 76.8; 78.35 − 76.8 = 1.55; 79.15 − 76.8 = 2.35.
      'Limit (29 CFR 1910.272(q)(5)): no lower than 80 % of nameplate 96 rpm = 76.8 rpm; trip level 78.35 … 79.15 rpm. To spare: 78.35 − 76.8 … 79.15 − 76.8 = 1.55 … 2.35 rpm: kept.',
    ]);
  });

  test('2: a contact, polled each 250 ms: response 0.75 … 1.25 s, which cannot decide 1 ± 0.2 s', () => {
    const rows = sample(
      { contact: (t) => Number(t >= 0), run: (t) => Number(t < 1), tripped: (t) => Number(t >= 1) },
      { from: -6, to: 4, every: 0.25, phase: 0.1, age: 0 },
    );
    // Contact in (−0.15, 0.10], output in (0.85, 1.10].
    const sum =
      'E1.run changed after 10.850 s and by 11.100 s; the cause reached its set point after 9.850 s and by 10.100 s: 10.850 − 10.100 … 11.100 − 9.850 = response 0.75 … 1.25 s.';
    const book = bookOf([CONTACT]);
    expect(sumsOf(book, judged(book, rows).windows[0])).toEqual([
      sum,
      'E1.run: 0.75 … 1.25 s, against at most 1.5 s: wholly inside.',
    ]);
    const strict = bookOf([{ ...CONTACT, delay: { time: S, tolerance: 0.2 * S, onReturn: 'resets' } }]);
    const sums = sumsOf(strict, judged(strict, rows).windows[0]);
    expect(sums).toContain(sum);
    expect(sums[0]).toBe('Delay 0.75 … 1.25 s against 1 ± 0.2 s = 0.8 … 1.2 s: across an edge, not decided.');
  });

  const heated = sample(
    { temp: (t) => 120 + 0.5 * t, horn: (t) => Number(t >= 0) },
    { from: -30, to: 5, every: 1, phase: 0.4, age: 0, consistent: true },
  );
  const probed = (one: Interlock): readonly string[] => {
    const book = bookOf([one], { consistent: true });
    return sumsOf(book, judged(book, heated, { method: 'heated' }).windows[0]);
  };

  test('3: a probe that is heated: 119.65 … 120.25 °F at 120 ± 2; a ramp’s response that begins at 0 has its sum', () => {
    const sums = probed(PROBE);
    expect(sums[0]).toBe('Trip point 119.65 … 120.25 °F against 120 ± 2 °F = 118 … 122 °F: wholly inside.');
    // The horn changed in (−0.6, 0.4].
    expect(sums[2]).toMatch(
      /^E1\.horn changed after 9\.400 s and by 10\.400 s; the cause reached its set point after (\d+\.\d{3}) s, perhaps only with the change itself: 0 … 10\.400 − \1 = response 0\.0 … (\d+\.\d) s\.$/,
    );
    expect(sums[3]).toContain('counted from the trip level itself, against at most 2 s: wholly inside.');
  });

  test('3, by guard band: best estimate, U, and limits drawn in and moved out', () => {
    // (119.65 + 120.25) ÷ 2 = 119.95; 0.6 ÷ √3 = 0.34641.
    expect(probed({ ...PROBE, decision: { rule: 'guard-band', r: 1 } })[0]).toBe(
      'Trip point: best estimate (119.65 + 120.25) ÷ 2 = 119.95 °F; U = (120.25 − 119.65) ÷ √3 = 0.34641 °F, w = 1 × U = 0.34641 °F; accepted within 118 + 0.34641 = 118.34641 … 122 − 0.34641 = 121.65359 °F, rejected beyond 118 − 0.34641 = 117.65359 … 122 + 0.34641 = 122.34641 °F: accepted; probability of conformance 100 %.',
    );
  });

  test('3, by simple acceptance: the limits themselves', () => {
    expect(probed({ ...PROBE, decision: { rule: 'simple' } })[0]).toBe(
      'Trip point: best estimate (119.65 + 120.25) ÷ 2 = 119.95 °F, against the limits themselves, 118 … 122 °F: accepted; probability of conformance 100 %.',
    );
  });
});

describe('single figures', () => {
  const [FIRST] = SAMPLE.interlocks;
  const [STOP] = SAMPLE.book.interlocks;
  if (FIRST === undefined || STOP === undefined) throw new Error('The sample is empty.');

  /** The sums of the sample’s stop where it was judged so; `more`: what else its verdict carries. */
  const sumsFor = (
    aspect: Pick<Aspect, 'name'> & Partial<Aspect>,
    code: string,
    params: Aspect['reason']['params'],
    more: Partial<WindowVerdict> = {},
    interlock: Partial<Interlock> = {},
  ): readonly string[] => {
    const { tripPoint: _trip, tripPercent: _share, delay: _known, ...rest } = FIRST.verdict;
    const aspects: Aspect[] = [{ outcome: 'pass', ...aspect, reason: { code, params } }];
    const verdict = { ...rest, effects: [], trials: [], aspects, ...more };
    return sumsIn({
      ...SAMPLE,
      book: { ...SAMPLE.book, interlocks: [{ ...STOP, ...interlock }] },
      interlocks: [{ ...FIRST, verdict }],
    });
  };
  const ONE = (low: number, high = low) => ({ low, high });

  test.each<[string, readonly string[], string]>([
    [
      'set point outside',
      sumsFor({ name: 'set-point', outcome: 'fail' }, 'set-point-outside', {
        trip: ONE(84.1, 84.9),
        allowed: ONE(80.5, 83.5),
        unit: '%',
      }),
      'Trip point 84.10 … 84.90 % against 82 ± 1.5 % = 80.5 … 83.5 %: wholly outside.',
    ],
    [
      'a slow reaction',
      sumsFor({ name: 'set-point', outcome: 'inconclusive' }, 'reaction-not-measured', {
        trip: ONE(80.6, 81.4),
        within: ONE(80.6, 84.1),
        reaction: ONE(0, 1.5),
        allowed: ONE(80.5, 83.5),
        unit: '%',
      }),
      'Trip point 80.60 … 81.40 % if it acts at once, 80.6 … 84.1 % if it takes 0.0 … 1.5 s, against 82 ± 1.5 % = 80.5 … 83.5 %: across an edge, not decided.',
    ],
    [
      'level or delay outside',
      sumsFor({ name: 'set-point', outcome: 'fail' }, 'level-or-delay-outside', {
        trip: ONE(84.1, 84.9),
        allowed: ONE(80.5, 83.5),
        delay: ONE(0.8, 1.2),
        unit: '%',
      }),
      'With the delay as declared, 0.8 … 1.2 s, the trip point would be 84.10 … 84.90 %, against 82 ± 1.5 % = 80.5 … 83.5 %: wholly outside.',
    ],
    [
      'a pass that a doubt took back',
      sumsFor({ name: 'set-point', outcome: 'inconclusive' }, 'set-point-inside', {
        trip: ONE(81.6, 82.4),
        allowed: ONE(80.5, 83.5),
        unit: '%',
      }),
      'Trip point 81.60 … 82.40 % against 82 ± 1.5 % = 80.5 … 83.5 %: wholly inside, but not decided by this alone.',
    ],
    [
      'limit broken',
      sumsFor({ name: 'limit', outcome: 'fail' }, 'limit-violated', {
        trip: ONE(75.9, 76.5),
        limit: ONE(76.8),
        unit: 'rpm',
        basis: 'x',
      }),
      // 75.9 − 76.8 = −0.9, 76.5 − 76.8 = −0.3.
      'Limit (29 CFR 1910.272(q)(5)): no lower than 80 % of nameplate 96 rpm = 76.8 rpm; trip level 75.90 … 76.50 rpm. To spare: 75.90 − 76.8 … 76.50 − 76.8 = -0.90 … -0.30 rpm: broken.',
    ],
    [
      'held beyond the limit',
      sumsFor({ name: 'limit', outcome: 'fail' }, 'limit-without-action', {
        value: 70.2,
        seconds: 12.5,
        limit: ONE(76.8),
        unit: 'rpm',
        basis: 'x',
      }),
      'Limit (29 CFR 1910.272(q)(5)): no lower than 80 % of nameplate 96 rpm = 76.8 rpm. Held beyond 70.2 rpm for 12.5 s without action: broken.',
    ],
    [
      'normal and the drive',
      sumsFor({ name: 'normal:E1.drive', outcome: 'fail' }, 'normal-differs-from', {
        normal: ONE(90),
        signal: 'E1.drive',
        reference: ONE(100),
        allowance: 5,
      }),
      'Normal 90 rpm ÷ E1.drive 100 rpm = 90 %, against 100 ± 5 %: wholly outside.',
    ],
    [
      'normal and the last pass',
      sumsFor({ name: 'normal:earlier' }, 'normal-as-before', {
        normal: ONE(96, 99),
        earlier: ONE(96),
        window: 'w-3',
        allowance: 3,
      }),
      // 99 ÷ 96 = 103.125 %.
      'Normal 96.0 … 99.0 rpm ÷ normal in w-3 96 rpm = 100.0 … 103.2 %, against 100 ± 3 %: not certainly outside.',
    ],
    [
      'repetition',
      sumsFor({ name: 'repeat', outcome: 'inconclusive' }, 'repeat-undecided', {
        trials: 3,
        wanted: 3,
        apart: ONE(0.2, 0.7),
        allowed: ONE(0, 0.5),
        unit: 'rpm',
      }),
      'Trip points of 3 trials (3 asked for) lie 0.20 … 0.70 rpm apart, against at most 0.5 rpm: across an edge, not decided.',
    ],
    [
      'too few trials',
      sumsFor({ name: 'repeat', outcome: 'not-tested' }, 'repeat-more', {
        trials: 1,
        wanted: 3,
        unit: 'rpm',
      }),
      'Trip points that can be compared: 1, of 3 asked for.',
    ],
    [
      'an instrument',
      sumsFor(
        { name: 'observed' },
        'observed-agrees',
        {
          observed: ONE(78, 78.4),
          trip: ONE(78, 79),
          apart: ONE(-1, 0.4),
          instrument: 'i',
          by: 'b',
          unit: 'rpm',
        },
        { normal: ONE(100) },
      ),
      // 78 − 79 … 78.4 − 78; ± 0.015 × 100.
      'Instrument 78.00 … 78.40 rpm, controller 78.0 … 79.0 rpm: apart 78.00 − 79.0 … 78.40 − 78.0 = -1.0 … 0.4 rpm, against ± 1.5 rpm: wholly inside.',
    ],
    [
      'an effect that is early',
      sumsFor({ name: 'effect:E1.run-command', outcome: 'fail' }, 'effect-early', {
        effect: 'E1.run-command',
        response: ONE(0.1, 0.3),
        within: 1.5,
        notBefore: 0.5,
      }),
      'E1.run-command: 0.10 … 0.30 s, against 0.5 … 1.5 s: wholly outside.',
    ],
    [
      'an effect that did not come',
      sumsFor({ name: 'effect:E1.run-command', outcome: 'fail' }, 'effect-missing', {
        effect: 'E1.run-command',
        deadline: 1.5,
      }),
      'E1.run-command: at most 1.5 s, and it had not come when that had certainly passed.',
    ],
    [
      'a latch, with its instants',
      sumsFor({ name: 'held:E1.run-command' }, 'held-until-reset', {
        effect: 'E1.run-command',
        seconds: 3,
        clear: SAMPLE.opened + 80.25 * S,
        held: SAMPLE.opened + 84.5 * S,
      }),
      // 80.25 + 3 = 83.25; 84.5 − 80.25 = 4.25.
      'E1.run-command: asked to stay for 3 s after the cause had cleared, without reset or start; it stayed for at least 3 s; clear by 80.250 s, to be seen held until 80.250 + 3 = 83.250 s, seen held until 84.500 s, 4.250 s behind its clearing.',
    ],
    [
      'a latch that somebody reset too soon',
      sumsFor({ name: 'held:E1.run-command', outcome: 'not-tested' }, 'latch-not-tested', {
        effect: 'E1.run-command',
        seconds: 3,
        clear: SAMPLE.opened + 80.25 * S,
        held: SAMPLE.opened + 81 * S,
      }),
      'E1.run-command: asked to stay for 3 s after the cause had cleared, without reset or start; so long was not seen; clear by 80.250 s, to be seen held until 80.250 + 3 = 83.250 s, seen held until 81.000 s, 0.750 s behind its clearing.',
    ],
    [
      'a latch, in a verdict from before its instants were kept',
      sumsFor({ name: 'held:E1.run-command' }, 'held-until-reset', { effect: 'E1.run-command', seconds: 3 }),
      'E1.run-command: asked to stay for 3 s after the cause had cleared, without reset or start; it stayed for at least 3 s.',
    ],
    [
      'a value that was not held between its levels',
      sumsFor({ name: 'effect:E1.run-command', outcome: 'inconclusive' }, 'not-held-long-enough', {
        effect: 'E1.run-command',
        seconds: 4,
        wanted: 10,
      }),
      'E1.run-command: the value was held between its two levels for 4 s at most, of 10 s asked for.',
    ],
    [
      'a release',
      sumsFor({ name: 'release:E1.run-command' }, 'release-inside', {
        effect: 'E1.run-command',
        value: ONE(81.7, 81.9),
        allowed: ONE(81.6, 82.6),
        unit: 'rpm',
      }),
      'E1.run-command went away at 81.70 … 81.90 rpm, against 81.6 … 82.6 rpm: wholly inside.',
    ],
  ])('%s', (_, sums, line) => {
    expect(sums).toEqual([line]);
  });

  test('the order of two effects, from their changes', () => {
    const { effects } = FIRST.verdict;
    const sums = sumsFor(
      { name: 'order:E1.motor-running' },
      'order-kept',
      { effect: 'E1.motor-running', after: 'E1.run-command' },
      // 70.95 … 71.10, then 71.16 … 71.31.
      { effects: effects.map(({ response: _response, ...one }) => one) },
    );
    expect(sums).toEqual([
      'E1.run-command changed by 71.100 s, E1.motor-running after 71.160 s: in this order.',
    ]);
  });

  test('a hold: where, for how long, and how long was needed', () => {
    const [trial] = FIRST.verdict.trials;
    if (trial === undefined) throw new Error('The sample has no trial.');
    const course = { kind: 'hold', held: ONE(80.9, 81.1), seconds: 9.9, inside: true } as const;
    const sums = sumsFor(
      { name: 'x' },
      'x',
      {},
      { normal: ONE(96), trials: [{ ...trial, effects: [], course }] },
    );
    // 0.835 × 96 = 80.16; 1 + 0.2 s.
    expect(sums).toEqual([
      'Trial 1: held at 80.90 … 81.10 rpm (inside, the band begins at 80.16 rpm) for 9.9 s, and nothing acted; needed: 1.2 s, the longest that the declared delay may take.',
    ]);
  });

  test('what trials leave of the delay alone and together', () => {
    const told = (trial: number, low: number, high: number) => ({
      ...FIRST.verdict.trials[0],
      trial,
      effects: [],
      course: undefined,
      aspects: [
        {
          name: 'delay',
          outcome: 'inconclusive',
          reason: { code: 'delay-undecided', params: { delay: ONE(low, high), allowed: ONE(0.8, 1.2) } },
        },
      ],
    });
    const trials = [told(1, 0, 2.2), told(2, 0.86, 1.3)] as unknown as WindowVerdict['trials'];
    const params = { delay: ONE(0.86, 1.14), allowed: ONE(0.8, 1.2) };
    expect(sumsFor({ name: 'delay' }, 'delay-inside', params, { trials })).toEqual([
      'What the delay can be: trial 1 alone 0.0 … 2.2 s; trial 2 alone 0.86 … 1.30 s.',
      'Delay that explains all trials together 0.86 … 1.14 s against 1 ± 0.2 s = 0.8 … 1.2 s: wholly inside.',
    ]);
  });

  test('a limit by guard band: what is to spare, against nothing', () => {
    const sums = sumsFor(
      { name: 'limit', outcome: 'inconclusive' },
      'limit-undecided',
      { trip: ONE(76.7, 77.3), limit: ONE(76.8), unit: 'rpm', basis: 'x', probability: 0.8333 },
      {},
      { decision: { rule: 'guard-band', r: 1 } },
    );
    // −0.1 … 0.5: middle 0.2, U = 0.6 ÷ √3 = 0.34641.
    expect(sums[1]).toBe(
      'Spare to the limit: best estimate (-0.1 + 0.5) ÷ 2 = 0.2 rpm; U = (0.5 − -0.1) ÷ √3 = 0.34641 rpm, w = 1 × U = 0.34641 rpm; accepted within 0 + 0.34641 = 0.34641 rpm, rejected beyond 0 − 0.34641 = -0.34641 rpm: between the two, not decided; probability of conformance 83.33 %.',
    );
  });

  test('no line for a figure that is not there, as a log stores a bound that is none', () => {
    const open = { low: 0, high: null } as unknown as { low: number; high: number };
    expect(sumsFor({ name: 'delay' }, 'delay-undecided', { delay: open, allowed: ONE(0.8, 1.2) })).toEqual(
      [],
    );
    expect(sumsFor({ name: 'set-point' }, 'trials-disagree', {})).toEqual([]);
    const untested = SAMPLE.interlocks.filter(({ verdict }) => verdict.trials.length === 0);
    expect(sumsIn({ ...SAMPLE, interlocks: untested })).toEqual([]);
  });
});
