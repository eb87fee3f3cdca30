/** The kinds of cause beside a plain level: each passes, fails and cannot decide where those exist. */
import { expect, test } from 'vitest';
import type { Mark, WindowVerdict } from '../../../src/judge/index.ts';
import type { Reading } from '../../../src/measure/index.ts';
import type { Cause, Effect, Interlock, Level } from '../../../src/rulebook/index.ts';
import { bookOf, codes, effect, HEALTHY, idOf, judged, type Plant, S, sample, underspeed } from './rig.ts';

const from =
  (when: number, before: number, after: number) =>
  (t: number): number =>
    t < when ? before : after;
const between =
  (on: number, off: number, active = 1, rest = 0) =>
  (t: number): number =>
    t >= on && t < off ? active : rest;

const of = (factor: number): Level => ({ of: 'normal', factor, offset: 0 });

const bare = (
  cause: Cause,
  effects: readonly [Effect, ...Effect[]],
  more: Partial<Interlock> = {},
): Interlock => {
  const { limit: _limit, delay: _delay, ...rest } = underspeed({ cause, effects, ...more });
  return { ...rest, ...more };
};

interface Options {
  readonly to?: number;
  readonly every?: number;
  readonly marks?: readonly Mark[];
  readonly change?: (rows: Reading[]) => Reading[];
}

const verdictOf = (interlock: Interlock, plant: Plant, options: Options = {}): WindowVerdict | undefined => {
  const every = options.every ?? 0.05;
  const rows = sample({ ...HEALTHY, ...plant }, { from: 0, to: options.to ?? 30, every, phase: 0.01 });
  const changed = options.change?.(rows) ?? rows;
  return judged(bookOf([interlock]), changed, options.marks === undefined ? {} : { marks: options.marks })
    .windows[0];
};

const outcome = (interlock: Interlock, plant: Plant, options?: Options): [string | undefined, string[]] => {
  const verdict = verdictOf(interlock, plant, options);
  return [verdict?.outcome, codes(verdict)];
};

/** Common practice, no source: a sensitive machine is bypassed, so both edges of the quiet zone are tested. */
const QUIET = bare(
  { kind: 'band', signal: idOf('speed'), side: 'below', near: of(0.96), far: of(0.92), hold: 5 * S },
  [
    effect('horn', 0, 5 * S, { class: 'alarm', becomes: { kind: 'stays', state: 0 } }),
    effect('run', 1, 5 * S, { becomes: { kind: 'stays', state: 1 } }),
  ],
);

test('held in the quiet band: nothing acts, something acts, held too briefly, gone too far', () => {
  const held = between(10, 17, 0.94 * 96, 96);
  expect(outcome(QUIET, { speed: held })[0]).toBe('pass');
  const alarm = outcome(QUIET, { speed: held, horn: between(13, 17) });
  expect(alarm[0]).toBe('fail');
  expect(alarm[1]).toContain('did-not-stay');
  const brief = outcome(QUIET, { speed: between(10, 13, 0.94 * 96, 96) });
  expect(brief[0]).toBe('inconclusive');
  expect(brief[1]).toContain('not-held-long-enough');
  const deep = (t: number): number => (t < 13 ? held(t) : between(13, 17, 0.85 * 96, 96)(t));
  const far = outcome(QUIET, { speed: deep, horn: between(13.5, 17) });
  expect(far[0]).toBe('inconclusive');
  expect(far[1]).toContain('band-overshot');
});

test('nothing that was not held counts as quiet', () => {
  expect(outcome(QUIET, {})[0]).toBe('not-tested');
});

/** 29 CFR 1926.555(a)(3) asks that a reset restarts nothing; that it is refused while the cause stands is common practice. */
const RESET_REFUSED = bare(
  { kind: 'contact', signal: idOf('reset'), state: 1 },
  [
    effect('tripped', 1, 2 * S, { class: 'trip', becomes: { kind: 'stays', state: 1 } }),
    effect('run', 0, 2 * S, { becomes: { kind: 'stays', state: 0 } }),
  ],
  {
    armed: {
      when: [
        { signal: idOf('tripped'), state: 1 },
        { signal: idOf('contact'), state: 1 },
      ],
      after: 1 * S,
    },
  },
);

test('a reset while the cause stands is refused, taken, or not seen out', () => {
  const tripped: Plant = { contact: () => 1, run: () => 0, running: () => 0, reset: between(10, 10.6) };
  expect(outcome(RESET_REFUSED, { ...tripped, tripped: () => 1 })[0]).toBe('pass');
  expect(outcome(RESET_REFUSED, { ...tripped, tripped: from(10.3, 1, 0) })[0]).toBe('fail');
  const cut = outcome(RESET_REFUSED, { ...tripped, tripped: () => 1 }, { to: 11.2 });
  expect(cut[0]).toBe('inconclusive');
  expect(cut[1]).toContain('stay-not-seen');
  expect(outcome(RESET_REFUSED, { ...tripped, tripped: () => 1, contact: () => 0 })[0]).toBe('not-tested');
});

const FAULT = bare({ kind: 'sensor-fault', signal: idOf('temp') }, [
  effect('horn', 1, 2 * S, { class: 'alarm' }),
]);

const broken =
  (on: number, off: number, why: 'sensor-fault' | 'timed-out' = 'sensor-fault') =>
  (rows: Reading[]): Reading[] =>
    rows.map((row) => {
      const t = row.at.latest / S - 1_000_000;
      if (row.signal !== idOf('temp') || t < on || t >= off) return row;
      const { value: _value, ...rest } = row;
      return { ...rest, absent: why };
    });

test('a wire-break is a cause: alarmed, not alarmed; a lost connection is none', () => {
  const sounds = outcome(FAULT, { horn: between(10.5, 25) }, { change: broken(10, 20) });
  expect(sounds[0]).toBe('pass');
  expect(
    verdictOf(FAULT, { horn: between(10.5, 25) }, { change: broken(10, 20) })?.tripPoint,
  ).toBeUndefined();
  const silent = outcome(FAULT, {}, { change: broken(10, 20) });
  expect(silent[0]).toBe('fail');
  expect(silent[1]).toContain('effect-missing');
  expect(outcome(FAULT, {}, { change: broken(10, 20, 'timed-out') })[0]).not.toBe('fail');
});

const SILENT = bare({ kind: 'silent', signal: idOf('temp'), after: 2 * S }, [
  effect('horn', 1, 5 * S, { class: 'alarm' }),
]);

test('loss of communication: acted on within its time, or not', () => {
  const lost = { change: broken(10, 20, 'timed-out') };
  expect(outcome(SILENT, { horn: between(13, 25) }, lost)[0]).toBe('pass');
  expect(outcome(SILENT, {}, lost)[0]).toBe('fail');
  expect(outcome(SILENT, { horn: between(16, 25) }, lost)[0]).toBe('fail');
  expect(outcome(SILENT, {}, { change: broken(10, 11, 'timed-out') })[0]).not.toBe('fail');
});

const STUCK = bare({ kind: 'stuck', signal: idOf('temp'), within: 0.3, after: 6 * S }, [
  effect('horn', 1, 8 * S, { class: 'alarm' }),
]);

test('a sensor that stands still', () => {
  const lively = (t: number): number => 60 + Math.sin(t);
  const stuck = (t: number): number => (t < 10 || t >= 22 ? lively(t) : lively(10));
  expect(outcome(STUCK, { temp: stuck, horn: between(16.5, 25) })[0]).toBe('pass');
  expect(outcome(STUCK, { temp: stuck })[0]).toBe('fail');
  expect(outcome(STUCK, { temp: lively })[0]).toBe('not-tested');
});

const RESTART = bare(
  { kind: 'restart', signal: idOf('count') },
  [
    effect('tripped', 1, 3 * S, { class: 'trip', becomes: { kind: 'stays', state: 1 } }),
    effect('run', 0, 3 * S, { becomes: { kind: 'stays', state: 0 } }),
  ],
  { armed: { when: [{ signal: idOf('tripped'), state: 1 }], after: 0 } },
);

test('a latch survives a restart of the controller, or does not', () => {
  const count = (t: number): number => (t < 12 ? Math.floor(t * 10) + 500 : Math.floor((t - 12) * 10));
  const plant: Plant = { count, run: () => 0, running: () => 0 };
  expect(outcome(RESTART, { ...plant, tripped: () => 1 })[0]).toBe('pass');
  expect(outcome(RESTART, { ...plant, tripped: from(12.1, 1, 0) })[0]).toBe('fail');
  expect(outcome(RESTART, { ...plant, tripped: () => 1, run: from(13, 0, 1) })[0]).toBe('fail');
});

/** No motion although the command is on: common practice, no source for its time. */
const NO_START = bare(
  {
    kind: 'group',
    signal: idOf('run'),
    need: 2,
    of: [
      { kind: 'contact', signal: idOf('run'), state: 1 },
      {
        kind: 'level',
        signal: idOf('speed'),
        side: 'below',
        setPoint: of(0.1),
        tolerance: of(0.02),
        clears: of(0.15),
      },
    ],
  },
  [effect('tripped', 1, 5 * S, { class: 'trip' })],
  { armed: { when: [], after: 0 }, delay: { time: 4 * S, tolerance: 0.5 * S, onReturn: 'resets' } },
);

test('all of: failure to start trips after its time; too early and not at all fail; a start that succeeds tests nothing', () => {
  const stopped: Plant = { speed: () => 0, run: between(10, 25), running: between(10, 25) };
  expect(outcome(NO_START, { ...stopped, tripped: between(14.1, 28) })[0]).toBe('pass');
  expect(outcome(NO_START, { ...stopped, tripped: between(12, 28) })[0]).toBe('fail');
  expect(outcome(NO_START, stopped)[0]).toBe('fail');
  const good: Plant = {
    run: from(10, 0, 1),
    running: from(10, 0, 1),
    speed: (t) => Math.min(96, Math.max(0, (t - 10) * 48)),
  };
  expect(outcome(NO_START, good)[0]).not.toBe('pass');
  expect(outcome(NO_START, good)[0]).not.toBe('fail');
});

/** Two of three above 80: the second highest decides. IEC 61508-6 names the voting; the levels are ours. */
const VOTED = bare(
  {
    kind: 'group',
    signal: idOf('temp'),
    need: 2,
    of: (['temp', 'temp2', 'setting'] as const).map((name) => ({
      kind: 'level',
      signal: idOf(name),
      side: 'above',
      setPoint: { of: 'absolute', factor: 0, offset: 80 },
      tolerance: { of: 'absolute', factor: 0, offset: 1 },
      clears: { of: 'absolute', factor: 0, offset: 78 },
    })),
  },
  [effect('tripped', 1, 1 * S, { class: 'trip' })],
);

test('two of three: one alone stops nothing, two do; a stop for one alone is none that the vote explains', () => {
  const hot = between(10, 20, 85, 60);
  expect(outcome(VOTED, { temp: hot, temp2: hot, setting: () => 60, tripped: between(10.3, 25) })[0]).toBe(
    'pass',
  );
  expect(outcome(VOTED, { temp: hot, temp2: hot, setting: () => 60 })[0]).toBe('fail');
  expect(outcome(VOTED, { temp: hot, setting: () => 60 })[0]).toBe('not-tested');
  expect(outcome(VOTED, { temp: hot, setting: () => 60, tripped: between(10.3, 25) })[0]).not.toBe('pass');
});

/** Another cause and the stop are seen in one answer: who asks first in the book must not matter. */
test('another cause that appears with the stop competes, in either order of the book', () => {
  const { limit: _limit, delay: _delay, ...plain } = underspeed();
  const own: Interlock = {
    ...plain,
    name: 'E1.bearing-stop',
    cause: {
      kind: 'level',
      signal: idOf('temp'),
      side: 'above',
      setPoint: { of: 'absolute', factor: 0, offset: 80 },
      tolerance: { of: 'absolute', factor: 0, offset: 1.5 },
      clears: { of: 'absolute', factor: 0, offset: 75 },
    },
  };
  const other: Interlock = {
    ...plain,
    name: 'E1.misalignment-stop',
    cause: { kind: 'contact', signal: idOf('contact'), state: 1 },
  };
  const plant: Plant = {
    temp: (t) => (t < 10 ? 60 : Math.min(82, 60 + (t - 10))),
    contact: from(29.97, 0, 1),
    run: from(29.97, 1, 0),
    running: from(29.97, 1, 0),
    tripped: from(29.97, 0, 1),
  };
  for (const book of [bookOf([own, other]), bookOf([other, own])]) {
    const rows = sample({ ...HEALTHY, ...plant }, { from: 0, to: 40, every: 0.1, phase: 0.01 });
    const at = book.interlocks.findIndex(({ name }) => name === 'E1.bearing-stop');
    const verdict = judged(book, rows, { method: 'heated' }).windows[at];
    expect(codes(verdict)).toContain('competing-cause');
    expect(verdict?.outcome).toBe('inconclusive');
  }
});

/** Readings that stop coming, with nobody to say so, are a gap all the same: the last value is not held. */
test('a cause that nobody read for longer than it may go without decides nothing', () => {
  const contact: Cause = { kind: 'contact', signal: idOf('contact'), state: 1 };
  const stop = bare(contact, [effect('run', 0, 3 * S)], {
    delay: { time: 2 * S, tolerance: 0.3 * S, onReturn: 'resets' },
  });
  const plant: Plant = {
    contact: between(10, 20),
    run: from(12, 1, 0),
    running: from(12.1, 1, 0),
    tripped: from(12, 0, 1),
  };
  const unread = (rows: Reading[]): Reading[] =>
    rows.filter(({ signal, at }) => {
      const t = at.latest / S - 1_000_000;
      return signal !== idOf('contact') || t < 10.4 || t > 13;
    });
  expect(outcome(stop, plant)[0]).toBe('pass');
  const blind = outcome(stop, plant, { change: unread });
  expect(blind[0]).toBe('inconclusive');
  expect(blind[1]).toContain('evidence-gap');
});

/** A gateway that keeps answers gives an older one after a newer one now and then: spans overlap, and nothing returned. */
test('an older answer behind a newer one is no release', () => {
  const contact: Cause = { kind: 'contact', signal: idOf('contact'), state: 1 };
  const stop = bare(contact, [effect('run', 0, 3 * S, { until: 'reset' })]);
  const plant: Plant = {
    contact: between(10, 14),
    run: from(10.1, 1, 0),
    running: from(10.1, 1, 0),
    tripped: from(10.1, 0, 1),
  };
  const rows = sample({ ...HEALTHY, ...plant }, { from: 0, to: 30, every: 0.05, phase: 0.01, age: 0.09 });
  const first = rows.findIndex(({ signal, value }) => signal === idOf('run') && value?.low === 0);
  const next = rows.findIndex(({ signal }, index) => index > first && signal === idOf('run'));
  const verdictWith = (at: number): WindowVerdict | undefined => {
    const changed = rows.map((row, index) => (index === at ? { ...row, value: { low: 1, high: 1 } } : row));
    return judged(bookOf([stop]), changed).windows[0];
  };
  expect(verdictWith(-1)?.outcome).toBe('pass');
  expect(verdictWith(next)?.outcome).toBe('pass');
  const later = rows.findIndex(({ signal, at }) => signal === idOf('run') && at.latest > 1_000_015 * S);
  expect(codes(verdictWith(later))).toContain('released-on-recovery');
});
