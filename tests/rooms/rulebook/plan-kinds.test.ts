/** The plan of causes that are no plain levels, of signals worked out from others, and of what becomes known later. */
import { describe, expect, test } from 'vitest';
import type { SignalId } from '../../../src/measure/index.ts';
import { type Book, type Feasibility, feasibility, type Interlock } from '../../../src/rulebook/index.ts';
import type { Derivation } from '../../../src/signal/index.ts';
import { effect, idOf, S, underspeed } from '../judge/rig.ts';
import { booksOf, planOf, stopAt } from './plan-rig.ts';

const PACE = { poll: 0.1, scan: 0.05, consistent: false } as const;

const withCause = (cause: Interlock['cause'], more: Partial<Interlock> = {}): Interlock => {
  const { delay: _delay, limit: _limit, ...bare } = underspeed({ cause, ...more });
  return bare;
};

const absolute = (offset: number) => ({ of: 'absolute', factor: 0, offset }) as const;
const ofNormal = (factor: number) => ({ of: 'normal', factor, offset: 0 }) as const;

/** The speed is worked out instead of read. */
const derivedFrom = (from: Derivation, book: Book): Book => ({
  ...book,
  signals: book.signals.map((one) =>
    one.id === idOf('speed') ? { ...one, source: -1, address: { kind: 'derived', from } } : one,
  ),
});

const first = (found: readonly Feasibility[]): Feasibility => {
  const [one] = found;
  if (one === undefined) throw new Error('no plan');
  return one;
};

describe('a band', () => {
  const band = (near: number, far: number) =>
    withCause({
      kind: 'band',
      signal: idOf('speed'),
      side: 'below',
      near: ofNormal(near),
      far: ofNormal(far),
      hold: 3 * S,
    });
  test('is held a reading inside its edges, and a look longer than it must last', () => {
    const found = planOf(band(0.89, 0.85), PACE);
    expect(found.band?.within.low).toBeCloseTo(0.85 * 96 + 0.1, 9);
    expect(found.band?.within.high).toBeCloseTo(0.89 * 96 - 0.1, 9);
    expect(found.band?.seconds).toBeCloseTo(3.15, 9);
    expect(found.advice.map(({ code }) => code)).toEqual(['plan-band']);
  });
  test('narrower than a reading cannot be held', () => {
    const found = planOf(band(0.8505, 0.85), PACE);
    expect(found).not.toHaveProperty('band');
    expect(found.undecidable.map(({ code }) => code)).toContain('resolution-too-coarse');
  });
});

describe('what must last', () => {
  const own = (cause: Interlock['cause']) => planOf(withCause(cause), PACE).keep?.own;
  // Latest own output after 2 s, two brackets of 0.15 s.
  test('a contact, a fault: until the outputs are late; silence and standstill: their time before', () => {
    expect(own({ kind: 'contact', signal: idOf('contact'), state: 1 })).toBeCloseTo(2.3, 9);
    expect(own({ kind: 'sensor-fault', signal: idOf('temp') })).toBeCloseTo(2.3, 9);
    expect(own({ kind: 'no-pulses', signal: idOf('speed'), after: 0.5 * S })).toBeCloseTo(2.8, 9);
    expect(own({ kind: 'silent', signal: idOf('speed'), after: 5 * S })).toBeCloseTo(7.3, 9);
    expect(own({ kind: 'stuck', signal: idOf('temp'), within: 0.1, after: 60 * S })).toBeCloseTo(62.3, 9);
  });
  test('a cause that nobody holds has no advice', () => {
    const found = planOf(withCause({ kind: 'restart', signal: idOf('temp') }), PACE);
    expect(found).not.toHaveProperty('keep');
    expect(found.advice).toEqual([]);
  });
  test('coasting down and feeders make it longer for a missing effect only', () => {
    const slow = effect('c2', 0, 20 * S, { class: 'feed' });
    const other = effect('c2', 0, 10 * S, { cascade: true });
    const cause = { kind: 'contact', signal: idOf('contact'), state: 1 } as const;
    const found = planOf(withCause(cause, { effects: [effect('run', 0, S), slow, other] }), PACE);
    expect(found.keep?.own).toBeCloseTo(1.3, 9);
    expect(found.keep?.all).toBeCloseTo(20.3, 9);
  });
  test('an effect that the book says goes with its cause is warned of; others are not', () => {
    const horn = effect('horn', 1, S, { class: 'alarm', until: 'cause-clears' });
    const cause = { kind: 'contact', signal: idOf('contact'), state: 1 } as const;
    const notes = (one: Interlock) => planOf(one, PACE).notes.map(({ code }) => code);
    expect(notes(withCause(cause, { effects: [horn] }))).toEqual(['effect-is-momentary']);
    expect(notes(withCause(cause))).toEqual([]);
  });
});

describe('a signal worked out from others', () => {
  const [speed, temp] = [idOf('speed'), idOf('temp')];
  const reading = (from: Derivation): number | undefined => {
    const { plan } = booksOf(stopAt(undefined), PACE);
    return first(feasibility(derivedFrom(from, plan))).tripPoint?.reach;
  };
  // Interval arithmetic by hand; both parts are known to 0.1.
  test.each([
    ['difference', { as: 'difference', of: [temp, temp] }, 0.2],
    ['spread', { as: 'spread', of: [temp, temp, temp] }, 0.2],
    ['mean', { as: 'mean', of: [temp, temp] }, 0.1],
    ['second highest', { as: 'rank', of: [temp, temp, temp], rank: 2 }, 0.1],
    ['rate per minute over 20 s', { as: 'rate', of: [temp], over: 20 * S, per: 60 * S }, 0.6],
  ] as const)('%s', (_, from, width) => {
    expect(reading(from)).toBeCloseTo(width, 9);
  });
  test('a ratio needs to know what its parts read', () => {
    expect(reading({ as: 'ratio', of: [temp, temp], scale: 100 })).toBeUndefined();
  });
  test('slip: percent of a shaft that turns at 96 rpm', () => {
    const { plan } = booksOf(stopAt(undefined), PACE);
    const other = plan.signals.length as SignalId;
    const shaft = plan.signals.find(({ id }) => id === speed);
    if (shaft === undefined) throw new Error('no speed');
    const book: Book = {
      ...plan,
      signals: [
        ...plan.signals,
        {
          ...shaft,
          id: other,
          source: -1,
          address: { kind: 'derived', from: { as: 'slip', of: [speed, speed], gear: 1 } },
        },
      ],
      interlocks: [
        withCause({
          kind: 'level',
          signal: other,
          side: 'above',
          setPoint: absolute(15),
          tolerance: absolute(1),
          clears: absolute(10),
        }),
      ],
    };
    // 100 × (96.05 / 95.95 − 95.95 / 96.05)
    expect(first(feasibility(book)).tripPoint?.reach).toBeCloseTo(0.2083, 4);
  });
});

describe('what becomes known when the plant is read', () => {
  test('the true normal moves set point, levels and ramp', () => {
    const { plan } = booksOf(stopAt(undefined), PACE);
    const found = first(feasibility(plan, { normals: { [idOf('speed')]: { low: 48, high: 48 } } })).tripPoint;
    expect(found?.setPoint).toBeCloseTo(0.82 * 48, 9);
    // A look at the effect and one for its age, six for half a second of reaction and the age, and a scan.
    expect(found?.fastestRamp).toBeCloseTo((0.015 * 48 - 0.1) / 0.85, 9);
  });
  test('a set point in a tag is planned once the tag is read', () => {
    const tag = idOf('temp');
    const interlock = withCause({
      kind: 'level',
      signal: idOf('speed'),
      side: 'below',
      setPoint: { of: 'tag', tag, factor: 1, offset: 0 },
      tolerance: absolute(1),
      clears: { of: 'tag', tag, factor: 1, offset: 3 },
    });
    const { plan } = booksOf(interlock, PACE);
    expect(first(feasibility(plan)).undecidable.map(({ code }) => code)).toContain('normal-not-known-yet');
    const found = first(feasibility(plan, { tags: { [tag]: { low: 79, high: 79 } } }));
    expect(found.tripPoint?.setPoint).toBe(79);
    expect(found.undecidable.map(({ code }) => code)).not.toContain('normal-not-known-yet');
  });
});

test('a limit that is judged where the effect comes leaves less room for a ramp', () => {
  const { limit } = underspeed();
  if (limit === undefined) throw new Error('no limit');
  const ramp = (judgedAt: 'level' | 'effect') =>
    planOf(stopAt(1.3, { limit: { ...limit, judgedAt } }), PACE).tripPoint?.fastestRamp ?? 0;
  const seconds = planOf(stopAt(1.3), PACE).tripPoint?.seconds ?? 0;
  // From 82 % to 80 % of 96 rpm, less a reading; the ramp goes on for 1.3 + 0.4 s of delay.
  expect(ramp('effect')).toBeCloseTo((1.92 - 0.1) / (seconds + 1.7), 9);
  expect(ramp('effect')).toBeLessThan(ramp('level'));
});

describe('the pace that would do', () => {
  const contact = (poll: number, delay: number, tolerance: number): Feasibility => {
    const interlock: Interlock = {
      ...withCause(
        { kind: 'contact', signal: idOf('contact'), state: 1 },
        { effects: [effect('run', 0, 20 * S)] },
      ),
      delay: { time: delay * S, tolerance: tolerance * S, onReturn: 'resets' },
    };
    return planOf(interlock, { poll, scan: 0, consistent: false });
  };
  // Common practice, by calculation: polling once a second cannot prove 3.0 ± 0.5 s; twice a second is the edge.
  test('3.0 ± 0.5 s: a second never, half a second is the edge, and the poll that is named does', () => {
    const codes = (poll: number) => {
      const { undecidable, notes } = contact(poll, 3, 0.5);
      return [...undecidable, ...notes].map(({ code }) => code);
    };
    expect(codes(1)).toContain('delay-unresolvable');
    expect(codes(0.5)).toContain('delay-unresolvable');
    expect(codes(0.499)).toContain('delay-by-luck');
    const named = contact(0.499, 3, 0.5).notes[0]?.params?.['poll'] as number;
    expect(named).toBeGreaterThan(0.2);
    expect(codes(named)).toEqual([]);
    expect(codes(named * 1.2)).toContain('delay-by-luck');
  });
});
