/**
 * Belt slip protection, South African Mine Health and Safety Act, guideline R1024, annexure B. Constant speed: trips
 * below 80 % of full speed, bypassed during starting and stopping. Variable speed: trips below 80 % of the set speed,
 * active during starting, running and stopping.
 */
import { expect, test } from 'vitest';
import type { WindowVerdict } from '../../src/judge/index.ts';
import type { Book, Interlock } from '../../src/rulebook/index.ts';
import { bookOf, codes, effect, idOf, judged, type Plant, sample, underspeed } from '../rooms/judge/rig.ts';

const { limit: _limit, delay: _delay, ...bare } = underspeed();
const ofNormal = (factor: number) => ({ of: 'normal' as const, factor, offset: 0 });
const masked: Interlock = {
  ...bare,
  cause: {
    kind: 'level',
    signal: idOf('speed'),
    side: 'below',
    setPoint: ofNormal(0.8),
    tolerance: ofNormal(0.02),
    clears: ofNormal(0.85),
  },
  effects: [effect('run', 0, 1.5e6), effect('tripped', 1, 1.5e6, { class: 'trip' })],
  armed: { when: [{ signal: idOf('running'), state: 1 }], after: 10e6 },
};
const always: Interlock = { ...masked, armed: { when: [], after: 0 } };

/** Full speed is 96 rpm. */
const constantSpeed = bookOf([masked]);

/** The set speed is a tag of the drive; here the elevator's second measured signal stands for it. */
const variableSpeed = (): Book => {
  const speed = idOf('speed');
  const set = idOf('temp');
  const book = bookOf([always], {
    machine: { normals: [{ signal: speed, from: { kind: 'tag', signal: set }, allowance: 1 }] },
  });
  const signals = book.signals.map((one) =>
    one.id === set ? { ...one, unit: 'rpm', quantity: 'rotational-speed' as const } : one,
  );
  return { ...book, signals };
};

const windowOf = (book: Book, plant: Plant): WindowVerdict | undefined =>
  judged(book, sample(plant, { from: 0, to: 60, every: 0.05, phase: 0.013 }), { method: 'real' }).windows[0];

const between = (from: number, to: number) => (t: number) => (t >= from && t < to ? 1 : 0);
const stopping = (when: number): Plant => ({ run: between(0, when), running: between(0, when + 0.2) });
const tripping = (when: number): Plant => ({ ...stopping(when), tripped: between(when, 99) });

test('constant speed: running up through 80 % is masked, nothing is said of the interlock', () => {
  const speed = (t: number) => Math.max(0, Math.min(96, 12 * (t - 2)));
  const verdict = windowOf(constantSpeed, { run: between(2, 99), running: between(2, 99), speed });
  expect(verdict?.outcome).toBe('not-tested');
  expect(verdict?.trials).toEqual([]);
});

test('constant speed: a dip below 80 % while the start is masked asks for nothing, the same dip unmasked does', () => {
  const speed = (t: number) => (t >= 8 && t < 11 ? 70 : Math.max(0, Math.min(96, 48 * (t - 2))));
  const belt: Plant = { run: between(2, 99), running: between(2, 99), speed };
  expect(windowOf(constantSpeed, belt)?.trials).toEqual([]);
  expect(windowOf(bookOf([{ ...masked, armed: { ...masked.armed, after: 1e6 } }]), belt)?.outcome).toBe(
    'fail',
  );
});

test('constant speed: coasting down through 80 % after a stop is masked', () => {
  const speed = (t: number) => (t < 20 ? 96 : Math.max(0, 96 - 10 * (t - 20.2)));
  for (const stop of [between(20, 21), between(99, 99)]) {
    const verdict = windowOf(constantSpeed, { ...stopping(20), stop, speed });
    expect(verdict?.outcome).toBe('not-tested');
    expect(verdict?.trials).toEqual([]);
  }
});

/** Falls from `full` at 20 s to 73 % of it in 27 s; crosses 80 % at 40 s. */
const slipping = (full: number) => (t: number) =>
  t < 20 || t >= 50 ? full : full * Math.max(0.73, 1 - 0.01 * (t - 20));

test.each([
  ['constant', 96],
  ['variable', 50],
])('%s speed of %i rpm: a slip to 0.73 of it must trip at 0.80', (kind, full) => {
  const book = kind === 'constant' ? constantSpeed : variableSpeed();
  const belt: Plant = { speed: slipping(full), temp: () => full };
  const good = windowOf(book, { ...belt, ...tripping(40) });
  expect(good?.outcome).toBe('pass');
  expect(good?.tripPercent?.low).toBeLessThan(80);
  expect(good?.tripPercent?.high).toBeGreaterThan(80);
  const early = windowOf(book, { ...belt, ...tripping(35) });
  expect(early?.outcome).toBe('fail');
  expect(codes(early)).toContain('set-point-outside');
  const silent = windowOf(book, belt);
  expect(silent?.outcome).toBe('fail');
  expect(codes(silent)).toContain('effect-missing');
});

/** 90 % of a set speed of 50 rpm is 47 % of full speed: against the set speed there is nothing to trip on. */
test('the same slow belt is healthy against its set speed, and lost against full speed', () => {
  const slowing = (t: number) => Math.max(50, 96 - 4.6 * Math.max(0, t - 12));
  const belt: Plant = { temp: slowing, speed: (t) => 0.98 * slowing(t) };
  expect(windowOf(variableSpeed(), belt)?.trials).toEqual([]);
  expect(windowOf(bookOf([masked]), belt)?.outcome).toBe('fail');
});

/** Active during starting: the set speed runs away from a belt that stands. What moved is the reference. */
test('a set speed that moves through the trip leaves no certainty', () => {
  const set = (t: number) => (t < 30 ? Math.min(96, 20 + 2 * Math.max(0, t - 10)) : 20);
  for (const when of [12.5, 20, 99]) {
    const verdict = windowOf(variableSpeed(), { temp: set, speed: () => 20, ...tripping(when) });
    expect(verdict?.outcome).toBe('inconclusive');
  }
});
