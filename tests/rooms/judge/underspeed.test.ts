/** The under-speed stop over whole windows: what passes, what fails, what cannot be decided, and why. */
import { expect, test } from 'vitest';
import { type Finding, start, step } from '../../../src/judge/index.ts';
import { columnsOf, instant } from '../../../src/measure/index.ts';
import type { Interlock } from '../../../src/rulebook/index.ts';
import { profile, runController, type Stimulus, type Truth } from './controller.ts';
import { at, bookOf, codes, idOf, judged, type Run, sample, stopEffects, underspeed } from './rig.ts';

const GOOD: Truth = { level: 0.82, delay: 1, scan: 0.05, latched: true };

/** A ramp and a step on the injector, each followed by recovery, reset and start. */
const speed = profile(
  [0, 100],
  [12, 100],
  [12.0001, 90],
  [23, 79],
  [27, 79],
  [27.0001, 100],
  [46, 100],
  [46.0001, 72],
  [50, 72],
  [50.0001, 100],
  [60, 100],
);
const RAMP_AND_STEP: Stimulus = { speed, from: 0, to: 62, reset: [31, 31.4], start: [33, 33.4] };

const play = (
  truth: Truth,
  stimulus: Stimulus = RAMP_AND_STEP,
  more: Partial<Interlock> = {},
  marks = [] as never[],
): Run => {
  const plant = runController(truth, stimulus);
  const rows = sample(plant, { from: 0.5, to: stimulus.to, every: 0.1, phase: 0.037, age: 0.05 });
  return judged(bookOf([underspeed(more)], { age: 50_000 }), rows, { method: 'injected', marks });
};

test('a ramp and a step together separate level from delay and pass', () => {
  const verdict = play(GOOD).windows[0];
  expect(codes(verdict)).not.toContain('level-and-delay-not-separated');
  expect(verdict?.outcome).toBe('pass');
  expect(verdict?.trials.map((trial) => trial.standing)).toEqual(['complete', 'complete']);
  expect(verdict?.tripPercent?.low).toBeGreaterThan(81);
  expect(verdict?.tripPercent?.high).toBeLessThan(82.6);
  expect(verdict?.delay?.low).toBeLessThanOrEqual(1);
  expect(verdict?.delay?.high).toBeGreaterThanOrEqual(1);
  expect(verdict?.proved).toEqual(['wiring', 'input', 'logic', 'output', 'relay']);
});

test('the ramp alone is inconclusive, and says that level and delay are not separated', () => {
  const verdict = play(GOOD).windows[0]?.trials[0];
  expect(verdict?.outcome).toBe('inconclusive');
  expect(codes(verdict)).toContain('level-and-delay-not-separated');
});

test.each([
  ['a level of 76 %', { ...GOOD, level: 0.76 }, 'set-point-outside'],
  ['a level of 88 %', { ...GOOD, level: 0.88 }, 'set-point-outside'],
  ['a delay of 4 s', { ...GOOD, delay: 4 }, 'effect-late'],
  ['a command that is not wired', { ...GOOD, fault: 'run-not-wired' }, 'effect-missing'],
  ['a motor that runs on', { ...GOOD, fault: 'motor-runs-on' }, 'effect-missing'],
  ['a trip that releases on recovery', { ...GOOD, latched: false }, 'released-on-recovery'],
  ['another machine that trips instead', { ...GOOD, fault: 'other-machine' }, 'effect-missing'],
  ['a restart that nobody asked for', { ...GOOD, fault: 'auto-restart' }, 'restarted-without-start'],
] as [string, Truth, string][])('%s fails, for that reason', (_name, truth, code) => {
  const verdict = play(truth).windows[0];
  expect(verdict?.outcome).toBe('fail');
  const aspects = [verdict, ...(verdict?.trials ?? [])].flatMap((one) => one?.aspects ?? []);
  expect(aspects.filter((one) => one.outcome === 'fail').map((one) => one.reason.code)).toContain(code);
});

test('a press of start between two polls excuses a restart that is read only some polls later', () => {
  const stimulus: Stimulus = { ...RAMP_AND_STEP, start: [32.95, 33.2] };
  const all = sample(runController(GOOD, stimulus), {
    from: 0.5,
    to: 62,
    every: 0.1,
    phase: 0.037,
    age: 0.05,
  });
  // Two polls of everything are lost, and with them the press; the command comes by a request of its own, later.
  const read = all.filter(({ signal, at: { latest } }) => {
    const lost = latest > at(32.95) && latest < at(33.22);
    const late = signal === idOf('run') && latest > at(32.9) && latest < at(33.7);
    return !lost && !late;
  });
  expect(read.some(({ signal, value }) => signal === idOf('start') && value?.low === 1)).toBe(false);
  const verdict = judged(bookOf([underspeed()], { age: 50_000 }), read, { method: 'injected' }).windows[0];
  expect(codes(verdict)).not.toContain('restarted-without-start');
  expect(codes(verdict)).toContain('press-not-excluded');
});

test('a short delay is no long one because the cause was back, unseen, while six polls were lost', () => {
  // Beyond from 46 s on, back from 46.2 to 46.8 s; a timer of 0.3 s acts at 47.1 s, as one of 1 s would have without that.
  const dips = profile(
    [0, 100],
    [12, 100],
    [12.0001, 90],
    [23, 79],
    [27, 79],
    [27.0001, 100],
    [46, 100],
    [46.0001, 81],
    [46.2, 81],
    [46.2001, 100],
    [46.8, 100],
    [46.8001, 72],
    [50, 72],
    [50.0001, 100],
    [60, 100],
  );
  const truth = { ...GOOD, delay: 0.3 };
  const plant = runController(truth, { ...RAMP_AND_STEP, speed: dips });
  const rows = sample(plant, { from: 0.5, to: 62, every: 0.1, phase: 0.037, age: 0.05 }).map((row) => {
    const lost = row.at.latest > at(46.2) && row.at.latest < at(46.8);
    if (!lost) return row;
    const { signal, at: when, response, flags } = row;
    return { signal, at: when, response, flags, absent: 'timed-out' as const };
  });
  const verdict = judged(bookOf([underspeed()], { age: 50_000 }), rows, { method: 'injected' }).windows[0];
  expect(verdict?.outcome).toBe('inconclusive');
  expect(codes(verdict)).toContain('evidence-gap');
});

test('the machine that tripped instead is named', () => {
  const book = bookOf([
    underspeed(),
    {
      ...underspeed(),
      name: 'C2.stop',
      machine: 1,
      cause: { kind: 'contact', signal: 11 as never, state: 1 },
      armed: { when: [], after: 0 },
      effects: [{ ...stopEffects[0], signal: 9 as never, name: 'C2.run' }],
    },
  ]);
  const rows = sample(runController({ ...GOOD, fault: 'other-machine' }, RAMP_AND_STEP), {
    from: 0.5,
    to: 62,
    every: 0.1,
    phase: 0.037,
  });
  const verdict = judged(book, rows, { method: 'injected' }).windows[0];
  expect(verdict?.outcome).toBe('fail');
  expect(verdict?.trials.flatMap((trial) => codes(trial))).toContain('other-machine-acted');
});

test('a stop pressed by hand during the ramp is no pass, and is named', () => {
  const verdict = play({ ...GOOD, level: 0.5 }, { ...RAMP_AND_STEP, stop: [20.5, 21] }).windows[0];
  expect(verdict?.outcome).not.toBe('pass');
  expect(verdict?.trials.flatMap((trial) => codes(trial))).toContain('stop-by-hand');
});

test('a command that drops in the band without trip bit and without a stop signal is no pass', () => {
  const verdict = play({ ...GOOD, fault: 'no-trip-bit' }).windows[0];
  expect(verdict?.outcome).not.toBe('pass');
});

test('a bypass left on is no pass and no fail, and is named', () => {
  const verdict = play(GOOD, { ...RAMP_AND_STEP, bypass: [0, 100] }).windows[0];
  expect(verdict?.outcome).toBe('inconclusive');
  expect(codes(verdict)).toContain('bypass-during-trial');
});

test('lost polls first widen; a long gap where it decides is inconclusive', () => {
  const plant = runController(GOOD, RAMP_AND_STEP);
  const blind = (from: number, to: number) => (t: number) =>
    t > from && t < to ? undefined : plant.speed!(t);
  const polling = { from: 0.5, to: 62, every: 0.1, phase: 0.037, age: 0.05 };
  const book = bookOf([underspeed()], { age: 50_000 });
  const short = judged(book, sample({ ...plant, speed: blind(20.3, 20.45) }, polling), { method: 'injected' })
    .windows[0];
  expect(short?.outcome).toBe('pass');
  const long = judged(book, sample({ ...plant, speed: blind(18.5, 21.2) }, polling), { method: 'injected' })
    .windows[0];
  expect(long?.trials[0]?.outcome).toBe('inconclusive');
  expect(codes(long?.trials[0])).toContain('evidence-gap');
});

test('nothing moved: not tested, and says what it waits for', () => {
  const stimulus = { speed: profile([0, 100]), from: 0, to: 20 };
  const verdict = play(GOOD, stimulus).windows[0];
  expect(verdict?.outcome).toBe('not-tested');
  expect(codes(verdict)).toContain('no-trial');
});

test('held just inside, it must not act: not reached, never a pass', () => {
  const stimulus = {
    speed: profile([0, 100], [10, 100], [10.0001, 84], [16, 84], [16.0001, 100]),
    from: 0,
    to: 24,
  };
  const verdict = play(GOOD, stimulus).windows[0];
  expect(verdict?.outcome).toBe('inconclusive');
  expect(codes(verdict)).toContain('not-reached');
});

test('as-found stays: a fail, an adjustment, a pass; without the mark it stays a fail', () => {
  const stimulus: Stimulus = {
    speed: profile([0, 100], [10, 100], [10.0001, 72], [14, 72], [14.0001, 100]),
    from: 0,
    to: 20,
    reset: [16, 16.4],
    start: [17, 17.4],
  };
  const bad = sample(runController({ ...GOOD, delay: 3 }, stimulus), {
    from: 0.5,
    to: 20,
    every: 0.1,
    phase: 0.037,
    age: 0.05,
  });
  const shift = (t: number): number => t - 20;
  const plant = runController(GOOD, RAMP_AND_STEP);
  const moved = Object.fromEntries(
    Object.entries(plant).map(([name, of]) => [name, (t: number) => of(shift(t))]),
  );
  const good = sample(moved, { from: 20.5, to: 82, every: 0.1, phase: 0.037, age: 0.05 });
  const book = bookOf([underspeed()], { age: 50_000 });
  const mark = {
    code: 'adjusted',
    at: at(20.2),
    by: 'tester',
    interlock: 0 as never,
    text: 'delay set to 1 s',
  } as const;
  const adjusted = judged(book, [...bad, ...good], { method: 'injected', marks: [mark] }).windows[0];
  expect(adjusted?.asFound).toBe('fail');
  expect(adjusted?.asLeft).toBe('pass');
  expect(adjusted?.outcome).toBe('pass');
  const silent = judged(book, [...bad, ...good], { method: 'injected' }).windows[0];
  expect(silent?.outcome).toBe('fail');
});

/** Readings of a good interlock, ramp and step, as the judge takes them. */
const fed = () => ({
  rows: sample(runController(GOOD, RAMP_AND_STEP), {
    from: 0.5,
    to: 62,
    every: 0.1,
    phase: 0.037,
    age: 0.05,
  }),
  book: bookOf([underspeed()], { age: 50_000 }),
});

test('the same findings for any chunking', () => {
  const { rows, book } = fed();
  const whole = JSON.stringify(judged(book, rows).findings);
  for (const chunk of [1, 7, 1000])
    expect(JSON.stringify(judged(book, rows, { chunk }).findings)).toBe(whole);
});

test('told that an instant is over, the judge does not wait for the next one, and says the same', () => {
  const { rows, book } = fed();
  const told = (
    closing: boolean,
  ): { readonly all: readonly Finding[]; readonly with: ReadonlyMap<string, number> } => {
    const state = start(book);
    const all: Finding[] = [];
    const first = new Map<string, number>();
    const opened = instant((rows[0]?.at.earliest ?? 0) - 1);
    const stimuli = [{ interlock: 0 as never, method: 'injected' as const }];
    all.push(...step(state, { mark: { code: 'window-opened', at: opened, window: 'w', stimuli } }));
    for (let from = 0; from < rows.length; ) {
      const moment = rows[from]!.at.latest;
      const next = rows.findIndex((row, index) => index > from && row.at.latest !== moment);
      const end = next < 0 ? rows.length : next;
      const found = [...step(state, { readings: columnsOf(rows.slice(from, end)) })];
      if (closing) found.push(...step(state, { until: moment }));
      for (const one of found) if (one.kind === 'event') first.set(`${one.reason.code} ${one.trial}`, moment);
      all.push(...found);
      from = end;
    }
    const closed = instant((rows.at(-1)?.at.latest ?? 0) + 1);
    all.push(...step(state, { mark: { code: 'window-closed', at: closed } }));
    return { all, with: first };
  };
  const [late, soon] = [told(false), told(true)];
  expect(JSON.stringify(soon.all)).toBe(JSON.stringify(late.all));
  expect(soon.with.size).toBeGreaterThan(2);
  for (const [code, moment] of soon.with) expect(moment).toBeLessThan(late.with.get(code)!);
});
