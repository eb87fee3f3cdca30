/** What counting pulses can resolve, held against published figures and against the decoder. */
import { describe, expect, test } from 'vitest';
import { instant } from '../../../src/measure/index.ts';
import { feasibility } from '../../../src/rulebook/index.ts';
import { createDecoder, planReads } from '../../../src/signal/index.ts';
import { bookOf } from './site-rig.ts';

const pack = (cause: string) => `kind: leg
roles:
  speed: { quantity: [rotational-speed, pulse-rate], purpose: measurement }
  command: { states: [stop, run], purpose: command }
interlocks:
  stop:
    hazard: belt slip
    cause: { signal: speed, ${cause} }
    effects: [{ signal: command, becomes: stop, within: 30 s }]
`;
const AT_80 = pack('below: 80 % of normal, tolerance: 1 % of normal');

interface Pulsed {
  readonly tag: string;
  readonly rpm?: number;
  readonly poll?: string;
  readonly scan?: string;
  readonly cause?: string;
}

const site = ({ tag, rpm = 41, poll = '100 ms', scan = '10 ms' }: Pulsed) => `site: mill
sources:
  s: { protocol: modbus-tcp, host: h, poll: ${poll}, scan: ${scan} }
tags:
  E1.speed: { source: s, address: hr:0, ${tag} }
  E1.command: { source: s, address: coil:0 }
machines:
  E1:
    kind: leg
    nameplate: { speed: ${rpm} ${tag.includes('Hz') ? 'Hz' : 'rpm'} }
    normal: { speed: { declared: ${rpm} ${tag.includes('Hz') ? 'Hz' : 'rpm'}, tolerance: 0 ${tag.includes('Hz') ? 'Hz' : 'rpm'} } }
rules: [leg.yaml]
`;

const book = (pulsed: Pulsed) => bookOf(site(pulsed), pulsed.cause ?? AT_80);
const planOf = (pulsed: Pulsed) => {
  const [found] = feasibility(book(pulsed));
  if (found === undefined) throw new Error('no interlock');
  return found;
};
const counted = (targets: number, gate: string) =>
  `pulses: count, unit: rpm, targets-per-revolution: ${targets}, gate: ${gate}`;
const codesOf = (pulsed: Pulsed) => {
  const { undecidable, notes } = planOf(pulsed);
  return [...undecidable, ...notes].map(({ code }) => code);
};

describe('frequency counting', () => {
  // dn = 60 / (P Tg) and f = P n / 60: textbook formulas of frequency counting, computed for 41 rpm, the row of a 24 in
  // head pulley in a chemical engineers' handbook (from memory). The last column is the time to the next pulse at 80 %.
  test.each([
    [1, 60, 1.8293],
    [2, 30, 0.9146],
    [4, 15, 0.4573],
    [8, 7.5, 0.2287],
    [60, 1, 0.0305],
  ])(
    '%s targets, 1 s gate, 41 rpm: a count is %s rpm, the next is overdue after %s s',
    (targets, step, overdue) => {
      const { pulses } = planOf({ tag: counted(targets, '1 s') });
      expect(pulses?.step).toBeCloseTo(step, 9);
      expect(pulses?.distance).toBeCloseTo(overdue, 4);
      expect(pulses?.frequency).toBeCloseTo((0.8 * 41 * targets) / 60, 9);
    },
  );
  // Practice: 60 rpm with one target is 1 Hz; a gate of 10 s is good for 10 %, 2 % take 50 s.
  test.each([
    ['10 s', 0.1],
    ['50 s', 0.02],
  ])('60 rpm, one target, gate %s: a count is worth %s of it', (gate, share) => {
    expect((planOf({ tag: counted(1, gate), rpm: 60 }).pulses?.step ?? 0) / 60).toBeCloseTo(share, 9);
  });

  const remedyOf = (pulsed: Pulsed): Readonly<Record<string, number>> => {
    const found = planOf(pulsed).undecidable.find(({ code }) => code === 'pulses-too-coarse');
    if (found === undefined) throw new Error('not told to be too coarse');
    return found.params as Record<string, number>;
  };
  const unresolved = (pulsed: Pulsed) => codesOf(pulsed).filter((code) => /^pulses|^resolution/.test(code));
  const ROOM = 0.41 / 2;
  const reach = (pulsed: Pulsed) => planOf(pulsed).tripPoint?.reach ?? 0;

  test('± 1 % with one target and a gate of 1 s is undecidable; the gate and the tick given would do', () => {
    const { gate = 0, tick = 0 } = remedyOf({ tag: counted(1, '1 s') });
    expect(unresolved({ tag: counted(1, `${gate} s`) })).toEqual([]);
    expect(reach({ tag: counted(1, `${gate} s`) })).toBeLessThanOrEqual(ROOM + 1e-9);
    expect(reach({ tag: counted(1, `${0.9 * gate} s`) })).toBeGreaterThan(ROOM);
    const period = `pulses: period, type: uint32, unit: rpm, targets-per-revolution: 1, tick: ${tick / 1e3} ms`;
    expect(unresolved({ tag: period })).toEqual([]);
    expect(reach({ tag: period })).toBeLessThanOrEqual(ROOM);
  });
  test('more targets help only while a cycle of the controller is short against the gate', () => {
    expect(remedyOf({ tag: counted(1, '1 s') })).not.toHaveProperty('targets');
    const { targets = 0 } = remedyOf({ tag: counted(1, '1 s'), scan: '1 ms' });
    expect(reach({ tag: counted(targets, '1 s'), scan: '1 ms' })).toBeLessThanOrEqual(ROOM + 1e-9);
    expect(reach({ tag: counted(Math.floor(0.8 * targets), '1 s'), scan: '1 ms' })).toBeGreaterThan(ROOM);
  });

  test('60 targets and a gate of 1 s do not decide ± 1 % of 41 rpm either', () => {
    expect(codesOf({ tag: counted(60, '1 s') })).toContain('pulses-too-coarse');
  });

  test('a reading of a steady speed is never wider than planned, nor farther off', () => {
    const pulsed = { tag: counted(8, '2 s') };
    const plan = planOf(pulsed).tripPoint;
    const { signals, sources } = book(pulsed);
    const reads = planReads(signals, sources, []);
    const rpm = 0.8 * 41;
    let [widest, farthest] = [0, 0];
    for (let phase = 0; phase < 100; phase += 1) {
      const decoder = createDecoder(signals, sources, reads);
      const request = reads.requests.findIndex(({ table }) => table === 'holding');
      for (let n = 0; n < 40; n += 1) {
        const at = instant(1e12 + (n * 100 + phase * 3.7) * 1_000);
        // Up to one scan old, by turns.
        const seen = at - 1e12 - ((n * 7 + phase) % 11) * 1_000;
        const count = Math.floor((((rpm * 8) / 60) * seen) / 1e6 + phase / 100) + 10;
        const rows = decoder.feed({
          kind: 'words',
          source: 0,
          request,
          sent: at,
          received: at,
          words: [count],
        });
        for (const { value } of rows) {
          if (value === undefined) continue;
          widest = Math.max(widest, value.high - value.low);
          farthest = Math.max(farthest, rpm - value.low, value.high - rpm);
        }
      }
    }
    // By hand: 4.3733 Hz, 21 polls, 10 ms of age at either end: 7.5 × (4.3733 × 2.11 + 2) / 2.09 − 32.8.
    expect(plan?.reach).toBeCloseTo(7.491, 3);
    expect(farthest).toBeLessThanOrEqual((plan?.reach ?? 0) + 1e-9);
    expect(farthest).toBeGreaterThan(0.85 * (plan?.reach ?? 0));
    expect(widest).toBeLessThanOrEqual((plan?.fixed ?? 0) + 1e-9);
  });
});

describe('period', () => {
  // Relative error f / fc, one tick: 50 Hz against 16 MHz is 1 of 320 000 counts (published worked example; it prints
  // the percentage ten times too large, the counts are right). Ticks are whole microseconds here: 1 of 20 000.
  test('one tick of a period of 20 ms is worth 1 / 20 000 of the speed', () => {
    const { pulses } = planOf({
      tag: 'pulses: period, type: uint32, unit: rpm, targets-per-revolution: 1, tick: 0.001 ms',
      rpm: 3_750,
    });
    expect(pulses?.frequency).toBeCloseTo(50, 9);
    expect((pulses?.step ?? 0) / 3_000).toBeCloseTo(1 / 20_000, 12);
  });
});

describe('the controller looks at the input once a cycle', () => {
  // A public case: one target, a task of 100 ms, 10 Hz at 80 % of speed: the input read constant, and was right again a
  // percent or two to either side.
  const rate = (scan: string, hertz: number) =>
    codesOf({
      tag: 'type: uint16, scale: 0.01, unit: Hz',
      rpm: hertz / 0.8,
      scan,
      cause: AT_80.replace('1 % of normal', '0.5 % of normal'),
    });
  test('10 Hz at the trip speed and a cycle of 100 ms: it stands still', () => {
    expect(rate('100 ms', 10)).toContain('pulses-beat');
    expect(rate('100 ms', 20)).toContain('pulses-beat');
    expect(rate('50 ms', 20)).toContain('pulses-beat');
  });
  test('a few percent beside it pulses are missed, and below half a cycle they are not', () => {
    expect(rate('100 ms', 10.4)).toContain('pulses-missed');
    expect(rate('100 ms', 10.4)).not.toContain('pulses-beat');
    expect(rate('100 ms', 6)).toContain('pulses-missed');
    expect(rate('100 ms', 4.9)).not.toContain('pulses-missed');
  });
  test('nothing is said of a speed whose pulses are not known', () => {
    expect(planOf({ tag: 'type: uint16, scale: 0.1, unit: rpm', scan: '100 ms' }).pulses).toBeUndefined();
  });
});
