import { describe, expect, test } from 'vitest';
import { type Book, feasibility, levelAt, needs, tripPointDoubt } from '../../../src/rulebook/index.ts';
import { bookOf } from './site-rig.ts';

const site = (source: string, extra = '', machine = '') => `site: mill
sources:
  s: { ${source} }
tags:
  E1.speed: { source: s, ${source.includes('trace') ? '' : 'address: hr:0, type: uint16, scale: 0.1, '}unit: rpm${extra} }
  E1.command: { source: s${source.includes('trace') ? '' : ', address: coil:0'} }
machines:
  E1: { kind: leg, nameplate: { speed: 96 rpm }${machine === '' ? '' : `, ${machine}`} }
rules: [leg.yaml]
`;
const leg = (cause: string, delay = '', limit = '', within = '1.5 s') => `kind: leg
roles:
  speed: { quantity: rotational-speed, purpose: measurement }
  command: { states: [stop, run], purpose: command }
interlocks:
  stop:
    hazard: belt slip
    cause: { signal: speed, ${cause} }
${delay}${limit}    effects: [{ signal: command, becomes: stop, within: ${within} }]
`;
const LEVEL = 'below: 82 % of normal, tolerance: 1.5 % of normal';
const MODBUS = (poll: string, scan: string, consistent = false) =>
  `protocol: modbus-tcp, host: h, poll: ${poll}, scan: ${scan}, scan-consistent: ${consistent}`;

const book = (source: string, pack: string, extra = '', machine = ''): Book =>
  bookOf(site(source, extra, machine), pack);
const one = (source: string, pack: string, extra = '', machine = '') => {
  const found = feasibility(book(source, pack, extra, machine))[0];
  if (found === undefined) throw new Error('no interlock');
  return found;
};
const codes = (source: string, pack: string, extra = '') =>
  one(source, pack, extra).undecidable.map(({ code }) => code);

describe('response time', () => {
  // Worked case 2 of the design, rebuilt here: polls every 250 ms give (0.75, 1.25) s, 50 ms of age (0.70, 1.30) s.
  test('is known to twice the poll interval', () => {
    expect(one(MODBUS('250 ms', '0 ms'), leg(LEVEL)).responseDoubt).toBeCloseTo(0.5, 9);
    expect(one(MODBUS('250 ms', '50 ms'), leg(LEVEL)).responseDoubt).toBeCloseTo(0.6, 9);
  });
  test('the age stays where one answer is of one scan: cause and effect come in different answers', () => {
    expect(one(MODBUS('250 ms', '50 ms', true), leg(LEVEL)).responseDoubt).toBeCloseTo(0.6, 9);
  });
  test('what a source takes to answer widens every look, where it is known', () => {
    const [found] = feasibility(book(MODBUS('250 ms', '50 ms'), leg(LEVEL)), { answers: [0.02] });
    expect(found?.responseDoubt).toBeCloseTo(0.64, 9);
  });
  test('a 250 ms poll passes within 1.5 s and cannot decide 1 s ± 0.2 s', () => {
    const delay = '    delay: { time: 1 s, tolerance: 0.2 s }\n';
    expect(codes(MODBUS('250 ms', '50 ms'), leg(LEVEL, delay, '', '2 s'))).toContain('delay-unresolvable');
    expect(codes(MODBUS('250 ms', '50 ms'), leg(LEVEL, delay, '', '2 s'))).not.toContain('within-too-tight');
    expect(codes(MODBUS('100 ms', '50 ms', true), leg(LEVEL, delay, '', '2 s'))).not.toContain(
      'delay-unresolvable',
    );
  });
  test('a deadline inside delay and doubt can never pass for certain', () => {
    expect(codes(MODBUS('1 s', '50 ms'), leg(LEVEL, '', '', '1.5 s'))).toContain('within-too-tight');
  });
  test('nothing is said of polling where readings come from a file', () => {
    expect(one('protocol: trace, scan: 50 ms', leg(LEVEL)).responseDoubt).toBeUndefined();
  });
});

const DECLARED = 'normal: { speed: { declared: 96 rpm, tolerance: 0 rpm } }';

describe('trip point', () => {
  // Worked case 3 of the design: 0.5 degrees a second, one poll a second, resolution 0.1: 0.6 at that phase; where the
  // value falls otherwise on the steps of the register, and the scan on the polls, a step and a scan more.
  test('one scan-consistent answer: resolution and one poll of ramp', () => {
    const point = one(MODBUS('1 s', '100 ms', true), leg(LEVEL)).tripPoint;
    expect(point?.fixed).toBeCloseTo(0.2, 9);
    expect(point?.reach).toBeCloseTo(0.1, 9);
    expect(point?.seconds).toBeCloseTo(1.1, 9);
  });
  // The same with age: the bracketing readings move out by one poll on each side.
  test('without a shared instant: three polls of ramp', () => {
    const point = one(MODBUS('1 s', '100 ms'), leg(LEVEL)).tripPoint;
    expect(point?.seconds).toBeCloseTo(3.1, 9);
    expect(tripPointDoubt(point?.fixed ?? 0, point?.seconds ?? 0, 0.5)).toBeCloseTo(1.75, 9);
  });
  test('at the fastest ramp neither bound leaves the band', () => {
    const point = one(MODBUS('100 ms', '50 ms'), leg(LEVEL), '', DECLARED).tripPoint;
    expect(point?.band?.low).toBeCloseTo(77.28, 9);
    expect(point?.band?.high).toBeCloseTo(80.16, 9);
    const { reach = 0, seconds = 0, reaction = 0, fastestRamp = 0, steppedRamp = 0 } = point ?? {};
    // Half a second that an interlock may take although no delay is declared: five looks of ramp more.
    expect(reaction).toBe(0.5);
    expect(reach + (seconds + reaction) * fastestRamp).toBeCloseTo(1.44, 9);
    // A step measures it to 0.3 s.
    expect(reach + 0.75 * steppedRamp).toBeCloseTo(1.44, 9);
    expect(point?.fastestPercent).toBeCloseTo(fastestRamp / 0.96, 9);
  });
  test('a normal that is in doubt makes the band smaller at both ends', () => {
    const at = (normal: string) => one(MODBUS('100 ms', '50 ms'), leg(LEVEL), '', normal).tripPoint?.edges;
    expect(at(DECLARED)?.inside).toBeCloseTo(80.16, 9);
    // Learned from readings that may fall on two steps of 0.1: 0.835 × (96 − 0.1).
    expect(at('')?.inside).toBeCloseTo(80.0765, 9);
    // 0.835 × (96 − 0.5) and 0.805 × (96 − 0.5): the lowest that either edge can be.
    const doubtful = at('normal: { speed: { declared: 96 rpm, tolerance: 0.5 rpm } }');
    expect(doubtful?.inside).toBeCloseTo(79.7425, 9);
    expect(doubtful?.outside).toBeCloseTo(76.8775, 9);
  });
  test('a register that is coarser than the band decides nothing, however slow the ramp', () => {
    const found = one(MODBUS('100 ms', '50 ms'), leg(LEVEL), ', resolution: 5 rpm');
    expect(found.undecidable.map(({ code }) => code)).toContain('resolution-too-coarse');
    expect(found.tripPoint).not.toHaveProperty('fastestRamp');
  });
  test('a set point that equals its limit is mostly undecidable; 18 % below normal is not', () => {
    const limit = '    limit: { no-lower-than: 80 % of nameplate, basis: 29 CFR 1910.272(q)(5) }\n';
    const at = (below: string, tolerance: string) =>
      codes(
        MODBUS('100 ms', '50 ms'),
        leg(`below: ${below} of normal, tolerance: ${tolerance} of normal`, '', limit),
      );
    expect(at('80 %', '1 %')).toContain('set-point-at-limit');
    expect(at('82 %', '2.5 %')).toContain('tolerance-beyond-limit');
    expect(at('82 %', '1.5 %')).toEqual(['hand-stop-not-excluded', 'bypass-not-visible']);
  });
  test('level and delay need a step', () => {
    expect(
      codes(MODBUS('100 ms', '0 s'), leg(LEVEL, '    delay: { time: 1 s, tolerance: 0.2 s }\n', '', '2 s')),
    ).toContain('needs-step-or-hold');
  });
});

test('levels follow their reference with its doubt', () => {
  const refs = { normal: { low: 95, high: 97 }, nameplate: { low: 96, high: 96 } };
  expect(levelAt({ of: 'normal', factor: 0.5, offset: 0 }, refs)).toEqual({ low: 47.5, high: 48.5 });
  expect(levelAt({ of: 'normal', factor: 1, offset: -10 }, refs)).toEqual({ low: 85, high: 87 });
  expect(levelAt({ of: 'nameplate', factor: 0.75, offset: 0 }, refs)).toEqual({ low: 72, high: 72 });
  expect(levelAt({ of: 'absolute', factor: 0, offset: 80 }, {})).toEqual({ low: 80, high: 80 });
  expect(levelAt({ of: 'normal', factor: 0.5, offset: 0 }, {})).toBeUndefined();
});

test('cause, effects and what tells causes apart are wanted together', () => {
  const found = needs(book(MODBUS('100 ms', '50 ms'), leg(LEVEL)));
  expect(found.signals).toEqual([0, 1]);
  expect(found.together).toEqual([[0, 1]]);
});
