import { expect, test } from 'vitest';
import { type Coaching, createCoaching, type Stage } from '../../../src/daemon/coaching.ts';
import type { Finding } from '../../../src/judge/index.ts';
import { type Interval, instant, type Reading, type SignalId } from '../../../src/measure/index.ts';
import type { InterlockId } from '../../../src/rulebook/index.ts';
import { book } from './leg.ts';

const idOf = (name: string): InterlockId =>
  book.interlocks.find((one) => one.name === name)?.id ?? (-1 as never);
const STOP = idOf('E1.underspeed-stop');
const SWITCH = idOf('E1.misalignment-stop');
const SPEED = book.interlocks[STOP]?.cause.signal ?? (-1 as never);
const known = () => ({ normals: { [SPEED]: { low: 95.95, high: 96.05 } }, answers: [0.005] });

const at = (seconds: number) => instant(1_700_000_000_000_000 + Math.round(seconds * 1_000_000));
const rowAt = (seconds: number, value: Interval | undefined, signal: SignalId = SPEED): Reading => ({
  signal,
  at: { earliest: at(seconds - 0.03), latest: at(seconds) },
  response: 0,
  flags: 0,
  ...(value === undefined ? { absent: 'timed-out' as const } : { value }),
});
const rpm = (value: number): Interval => ({ low: value - 0.05, high: value + 0.05 });

interface Play {
  readonly coaching: Coaching;
  readonly stage?: Stage;
}

/** Readings of a speed, every 50 ms from `from` to `to`, with a look after each. */
const play = (
  { coaching, stage = 'trial' }: Play,
  from: number,
  to: number,
  speed: (t: number) => number,
) => {
  for (let t = from; t <= to + 1e-9; t += 0.05) {
    coaching.take(rowAt(t, rpm(speed(t))));
    coaching.look(at(t), () => stage, known);
  }
  return coaching.advice();
};

const stopAlone = (): Coaching => createCoaching(book, [{ interlock: STOP, method: 'injected' }]);
const codes = (coaching: Coaching) => coaching.advice().map(({ code }) => code);

const event = (interlock: InterlockId, code: string): Finding => ({
  kind: 'event',
  at: at(0),
  interlock,
  trial: 1,
  reason: { code, params: {} },
});

test('a ramp of 5 %/s near the set point is too fast, and the rate told is the true one', () => {
  const coaching = stopAlone();
  // 5 % of 96 rpm are 4.8 rpm in each second; 82 % are passed after 3.6 s.
  const advice = play({ coaching }, 0, 3.5, (t) => 96 - 4.8 * t);
  expect(advice).toMatchObject([{ interlock: 'E1.underspeed-stop', code: 'coach-slow-down' }]);
  const rate = advice[0]?.params['rate'] as Interval;
  expect(rate.low).toBeLessThanOrEqual(5);
  expect(rate.high).toBeGreaterThanOrEqual(5);
  expect(advice[0]?.params['allowed']).toBeLessThan(rate.low);
  expect(advice[0]?.text).toMatch(/^Slow down: .* %\/s, at most .* %\/s\.$/);
});

test('a ramp of 0.5 %/s is in range, and one that has not come near is told where the range begins', () => {
  const coaching = stopAlone();
  play({ coaching }, 0, 1, () => 96 * 0.85);
  expect(play({ coaching }, 1, 7, (t) => 96 * (0.85 - 0.005 * (t - 1)))).toMatchObject([
    { code: 'coach-in-range' },
  ]);
  expect(play({ coaching: stopAlone() }, 0, 2, (t) => 96 * (0.97 - 0.01 * t))).toMatchObject([
    { code: 'coach-approach' },
  ]);
});

test('a speed that is measured from pulses goes in jumps: its rate is told over many of them', () => {
  const coaching = stopAlone();
  // Two pulses a second: what is read stands for 0.5 s, and then jumps by what a ramp of 2 %/s has made of it.
  const stepped = (t: number): number => 96 * (0.845 - 0.02 * (Math.floor(2 * t + 1e-6) / 2));
  play({ coaching }, 0, 1.2, stepped);
  for (let t = 1.25; t < 1.85; t += 0.05) {
    play({ coaching }, t, t, stepped);
    expect(codes(coaching)).not.toContain('coach-slow-down');
  }
});

test('nothing is told of a machine that runs steadily, of a cause on its way back, and once it has acted', () => {
  const coaching = stopAlone();
  play({ coaching, stage: 'ready' }, 0, 4, (t) => 96 + 0.1 * Math.sin(7 * t));
  expect(codes(coaching)).toEqual([]);
  play({ coaching }, 4, 5, (t) => 78 + 8 * (t - 4));
  expect(codes(coaching)).toEqual([]);
  const acted = stopAlone();
  play({ coaching: acted }, 0, 3.4, (t) => 96 - 4.8 * t);
  expect(codes(acted)).toEqual(['coach-slow-down']);
  acted.heard(event(STOP, 'effect-came'));
  play({ coaching: acted }, 3.45, 3.7, (t) => 96 - 4.8 * t);
  expect(codes(acted)).toEqual([]);
  // The next trial begins anew.
  acted.heard(event(STOP, 'trial-began'));
  play({ coaching: acted }, 3.75, 4, (t) => 96 - 4.8 * t);
  expect(codes(acted)).toHaveLength(1);
});

test('a machine that runs up is not advised on: it is not ready to be tested', () => {
  const coaching = stopAlone();
  play({ coaching, stage: 'waits' }, 0, 1, (t) => 48 * t);
  expect(codes(coaching)).toEqual([]);
  play({ coaching, stage: 'waits' }, 1.05, 2, (t) => 48 * t);
  play({ coaching, stage: 'ready' }, 2.05, 4.5, (t) => 96 - 4.8 * (t - 2));
  expect(codes(coaching)).toEqual(['coach-approach']);
});

test('between two jumps of a slow ramp nobody is told to hold', () => {
  const coaching = stopAlone();
  const stepped = (t: number): number => 96 * (0.834 - 0.01 * (Math.floor(5 * t + 1e-6) / 5));
  play({ coaching }, 0, 1.2, stepped);
  for (let t = 1.25; t < 2; t += 0.05) {
    play({ coaching }, t, t, stepped);
    expect(codes(coaching)).toEqual(['coach-in-range']);
  }
});

test('a hold counts down, and begins anew behind a gap', () => {
  const coaching = stopAlone();
  // 79.5 % is beyond 82 % less 1.5 %: it must act there.
  play({ coaching }, 0, 1, () => 96 * 0.795);
  const left = coaching.advice()[0];
  expect(left?.code).toBe('coach-hold');
  play({ coaching }, 1.05, 1.5, () => 96 * 0.795);
  const later = coaching.advice()[0]?.params['left'] as number;
  expect(later).toBeLessThan(left?.params['left'] as number);
  coaching.take(rowAt(1.55, undefined));
  coaching.look(at(1.8), () => 'trial', known);
  expect(codes(coaching)).toEqual(['coach-no-reading']);
  play({ coaching }, 1.85, 2.2, () => 96 * 0.795);
  expect(coaching.advice()[0]?.params['left'] as number).toBeGreaterThan(later);
  play({ coaching }, 2.25, 9, () => 96 * 0.795);
  expect(codes(coaching)).toEqual(['coach-held']);
  // Who leaves it for a moment begins anew.
  play({ coaching }, 9.05, 9.1, () => 96 * 0.815);
  play({ coaching }, 9.15, 9.6, () => 96 * 0.795);
  expect(codes(coaching)).toEqual(['coach-hold']);
});

test('of a contact only the hold is told, and only in a trial', () => {
  const coaching = createCoaching(book, [{ interlock: SWITCH, method: 'displaced' }]);
  const signal = book.interlocks[SWITCH]?.cause.signal ?? (-1 as never);
  const displaced = { low: 1, high: 1 };
  const look = (seconds: number, stage: Stage) => coaching.look(at(seconds), () => stage, known);
  coaching.take(rowAt(0, { low: 0, high: 0 }, signal));
  coaching.take(rowAt(0.05, { low: 0, high: 0 }, signal));
  look(0.05, 'trial');
  expect(codes(coaching)).toEqual([]);
  for (let t = 0.1; t < 1; t += 0.05) coaching.take(rowAt(t, displaced, signal));
  look(1, 'ready');
  expect(codes(coaching)).toEqual([]);
  look(1.3, 'trial');
  expect(codes(coaching)).toEqual(['coach-hold']);
});

test('it looks at most four times a second, and asks what is known only then', () => {
  const coaching = stopAlone();
  let asked = 0;
  for (let t = 0; t < 2; t += 0.01) {
    coaching.take(rowAt(t, rpm(96)));
    coaching.look(
      at(t),
      () => 'trial',
      () => {
        asked += 1;
        return known();
      },
    );
  }
  expect(asked).toBeGreaterThan(0);
  expect(asked).toBeLessThanOrEqual(8);
});
