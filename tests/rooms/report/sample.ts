/** A window at Saltmarsh Mill, made by hand: one of every verdict, a gap, a contact, a ramp and a step. */
import type { TrialVerdict, WindowVerdict } from '../../../src/judge/index.ts';
import { type Instant, type Interval, instant, type SignalId } from '../../../src/measure/index.ts';
import type { Point, Series, WindowReport } from '../../../src/report/index.ts';
import type { Book, Effect, Interlock, InterlockId } from '../../../src/rulebook/index.ts';

const S = 1_000_000;
const OPENED = instant(1_764_063_000_000_000);
const NAMES = [
  'E1.shaft-speed',
  'E1.run-command',
  'E1.motor-running',
  'E1.tripped',
  'F1.motor-running',
  'E1.underspeed-alarm',
  'E1.bearing-temperature',
  'E1.alignment',
] as const;
const STATES: Readonly<Record<number, readonly string[]>> = {
  1: ['stop', 'run'],
  2: ['stopped', 'running'],
  3: ['healthy', 'tripped'],
  4: ['stopped', 'running'],
  5: ['quiet', 'alarm'],
  7: ['aligned', 'displaced'],
};
const UNITS: Readonly<Record<number, string>> = { 0: 'rpm', 6: 'degC' };

const id = (index: number): SignalId => index as SignalId;

const effect = (index: number, becomes: number, within: number, more: Partial<Effect> = {}): Effect => ({
  name: NAMES[index] ?? '',
  signal: id(index),
  becomes: { kind: 'state', state: becomes },
  class: 'command',
  within: within * S,
  notBefore: 0,
  after: [],
  until: 'unstated',
  cascade: false,
  ...more,
});

const stopEffects = [
  effect(1, 0, 1.5, { until: 'reset' }),
  effect(3, 1, 1.5, { class: 'trip', until: 'reset' }),
  effect(2, 0, 2, { class: 'feedback', until: 'reset', after: [0] }),
  effect(4, 0, 3, { class: 'feed', cascade: true }),
] as const;

const base = { machine: 0, armed: { when: [], after: 0 }, baseline: 5 * S, dwell: 3 * S } as const;
const level = (of: 'normal' | 'absolute', value: number) =>
  of === 'normal' ? { of, factor: value, offset: 0 } : { of, factor: 0, offset: value };

const INTERLOCKS: readonly Interlock[] = [
  {
    ...base,
    id: 0 as InterlockId,
    name: 'E1.underspeed-stop',
    hazard: 'belt slip',
    title: 'Underspeed stop',
    cause: {
      kind: 'level',
      signal: id(0),
      side: 'below',
      setPoint: level('normal', 0.82),
      tolerance: level('normal', 0.015),
      clears: level('normal', 0.85),
    },
    delay: { time: S, tolerance: 0.2 * S, onReturn: 'resets' },
    limit: {
      side: 'no-lower-than',
      level: { of: 'nameplate', factor: 0.8, offset: 0 },
      inclusive: true,
      judgedAt: 'level',
      basis: '29 CFR 1910.272(q)(5)',
    },
    effects: stopEffects,
  },
  {
    ...base,
    id: 1 as InterlockId,
    name: 'E1.underspeed-alarm',
    hazard: 'belt slip',
    title: 'Underspeed alarm',
    cause: {
      kind: 'level',
      signal: id(0),
      side: 'below',
      setPoint: level('normal', 0.9),
      tolerance: level('normal', 0.015),
      clears: level('normal', 0.93),
    },
    effects: [effect(5, 1, 1.5, { class: 'alarm' })],
  },
  {
    ...base,
    id: 2 as InterlockId,
    name: 'E1.bearing-stop',
    hazard: 'hot bearing',
    title: 'Bearing temperature stop',
    cause: {
      kind: 'level',
      signal: id(6),
      side: 'above',
      setPoint: level('absolute', 80),
      tolerance: level('absolute', 1.5),
      clears: level('absolute', 77),
    },
    effects: [effect(1, 0, 2, { until: 'reset' })],
  },
  {
    ...base,
    id: 3 as InterlockId,
    name: 'E1.misalignment-stop',
    hazard: 'belt rubbing on the casing',
    title: 'Belt misalignment stop',
    cause: { kind: 'contact', signal: id(7), state: 1 },
    delay: { time: 2 * S, tolerance: 0.3 * S, onReturn: 'resets' },
    effects: [effect(1, 0, 2.5, { until: 'reset' }), effect(2, 0, 3, { class: 'feedback' })],
  },
  {
    ...base,
    id: 4 as InterlockId,
    name: 'E1.pulse-loss-stop',
    hazard: 'belt slip',
    title: 'Stop on loss of pulses',
    cause: { kind: 'no-pulses', signal: id(0), after: S },
    effects: [effect(1, 0, 2.5, { until: 'reset' })],
  },
];

const BOOK: Book = {
  site: 'saltmarsh-mill',
  title: 'Saltmarsh Mill',
  sources: [{ protocol: 'trace', name: 'plc', scan: 50_000, scanConsistent: false }],
  signals: NAMES.map((name, index) => ({
    id: id(index),
    name,
    source: 0,
    address: { kind: 'trace' },
    decoding: { as: 'value', scale: 1, offset: 0, inverted: false },
    quantity: 'state',
    unit: UNITS[index] ?? '',
    states: STATES[index] ?? [],
    resolution: 0.1,
    accuracy: 0,
    age: 50_000,
    agedAfter: S,
  })),
  machines: [
    {
      index: 0,
      name: 'E1',
      title: 'bucket elevator, leg 1',
      kind: 'bucket-elevator',
      roles: {},
      normals: [
        {
          signal: id(0),
          from: { kind: 'learned', over: 5 * S, steady: 0.01 },
          nameplate: { low: 96, high: 96 },
          allowance: 0.05,
        },
      ],
      stops: [],
      resets: [],
      starts: [],
      bypasses: [],
      forces: [],
      tripped: [],
      running: [],
      outputs: [],
      feeds: [],
    },
  ],
  interlocks: INTERLOCKS,
};

/** A signal as bounds every 0.1 s, from a function of time; undefined: no answer. */
const measured = (
  signal: number,
  from: number,
  to: number,
  of: (t: number) => number | undefined,
): Series => ({
  signal,
  points: Array.from({ length: Math.round((to - from) * 10) + 1 }, (_, index): Point => {
    const t = from + index / 10;
    const value = of(t);
    if (value === undefined) return { t, gap: 'timed-out' };
    const shown = Math.round(value * 10) / 10;
    return { t, low: shown - 0.05, high: shown + 0.05 };
  }),
});

/** A state polled every 0.1 s that changes at the given times. */
const state = (
  signal: number,
  from: number,
  to: number,
  rest: number,
  acted: number,
  [on, off]: readonly [number, number],
): Series => ({
  signal,
  points: Array.from({ length: Math.round((to - from) * 10) + 1 }, (_, index): Point => {
    const t = from + index / 10;
    const now = t > on && t <= off ? acted : rest;
    return { t, low: now, high: now };
  }),
});

const span = (low: number, high: number) => ({
  earliest: (OPENED + Math.round(low * S)) as Instant,
  latest: (OPENED + Math.round(high * S)) as Instant,
});

const NORMAL: Interval = { low: 95.95, high: 96.05 };
const TRIP: Interval = { low: 78.351, high: 79.149 };
const PERCENT: Interval = { low: 81.572, high: 82.488 };
const BAND = { low: 80.5, high: 83.5 };

const rampSpeed = (t: number): number => {
  if (t < 12) return 96;
  if (t < 32) return 96 - (t - 12) * 0.96;
  return t < 35 ? 76.8 : 96;
};
const stepSpeed = (t: number): number => (t > 70 && t < 76 ? 72 : 96);

const stopVerdictEffects = (at: number, low: number) =>
  [
    [0, 1, 0],
    [1, 3, 0.02],
    [2, 2, 0.21],
    [3, 4, 0.9],
  ].map(([, signal = 0, lag = 0]) => ({
    name: NAMES[signal] ?? '',
    signal: id(signal),
    changed: span(at + lag - 0.15, at + lag),
    response: { low: low + lag, high: low + lag + 0.28 },
  }));

const inTime = (low: number) =>
  stopVerdictEffects(0, low).map(({ name, response }, index) => ({
    name: `effect:${name}`,
    outcome: 'pass' as const,
    reason: {
      code: 'effect-in-time',
      params: { effect: name, response, within: (INTERLOCKS[0]?.effects[index]?.within ?? 0) / S },
    },
  }));

const setPoint = {
  name: 'set-point',
  outcome: 'pass',
  reason: {
    code: 'set-point-inside',
    params: { trip: PERCENT, allowed: BAND, unit: '%', delay: { low: 0.86, high: 1.14 } },
  },
} as const;

const trialOf = (more: Partial<TrialVerdict> & Pick<TrialVerdict, 'trial' | 'span'>): TrialVerdict => ({
  outcome: 'pass',
  reasons: [setPoint.reason],
  aspects: [],
  effects: [],
  proved: [],
  method: 'injected',
  standing: 'complete',
  asFound: false,
  ...more,
});

const stop: WindowVerdict = {
  outcome: 'pass',
  reasons: [setPoint.reason],
  aspects: [
    setPoint,
    {
      name: 'delay',
      outcome: 'pass',
      reason: {
        code: 'delay-inside',
        params: { delay: { low: 0.86, high: 1.14 }, allowed: { low: 0.8, high: 1.2 } },
      },
    },
    {
      name: 'limit',
      outcome: 'pass',
      reason: {
        code: 'limit-met',
        params: { trip: TRIP, limit: { low: 76.8, high: 76.8 }, unit: 'rpm', basis: '29 CFR 1910.272(q)(5)' },
      },
    },
    {
      name: 'normal',
      outcome: 'pass',
      reason: {
        code: 'normal-agrees',
        params: { normal: NORMAL, nameplate: { low: 96, high: 96 }, allowance: 5 },
      },
    },
    ...inTime(0.86),
    {
      name: 'held:E1.run-command',
      outcome: 'pass',
      reason: { code: 'held-until-reset', params: { effect: 'E1.run-command', seconds: 3 } },
    },
  ],
  tripPoint: TRIP,
  tripPercent: PERCENT,
  normal: NORMAL,
  response: { low: 0.86, high: 1.14 },
  delay: { low: 0.86, high: 1.14 },
  effects: stopVerdictEffects(71.1, 0.86),
  proved: ['wiring', 'input', 'logic', 'output', 'relay', 'feed'],
  trial: 1,
  region: [
    { delay: { low: 0.86, high: 0.9 }, level: { low: 78.351, high: 78.9 } },
    { delay: { low: 0.9, high: 1.1 }, level: { low: 78.5, high: 79 } },
    { delay: { low: 1.1, high: 1.14 }, level: { low: 78.6, high: 79.149 } },
  ],
  asFound: 'pass',
  trials: [
    trialOf({
      trial: 1,
      span: span(12, 50),
      outcome: 'inconclusive',
      reasons: [
        {
          code: 'level-and-delay-not-separated',
          params: { trip: { low: 79.1, high: 82.3 }, unit: 'rpm', delay: { low: 0, high: 2.2 } },
        },
      ],
      tripPoint: TRIP,
      tripPercent: PERCENT,
      normal: NORMAL,
      effects: stopVerdictEffects(31.1, 0.86),
      course: { kind: 'ramp', rate: 0.96, inside: false },
      asFound: true,
    }),
    trialOf({
      trial: 2,
      span: span(69.9, 85),
      effects: stopVerdictEffects(71.1, 0.86),
      normal: NORMAL,
      course: { kind: 'step', held: { low: 71.95, high: 72.05 }, seconds: 0.9, inside: false },
    }),
  ],
};

const alarm: WindowVerdict = {
  outcome: 'fail',
  reasons: [
    {
      code: 'set-point-outside',
      params: { trip: { low: 86.11, high: 86.78 }, allowed: { low: 88.5, high: 91.5 }, unit: '%' },
    },
    { code: 'effect-late', params: { effect: NAMES[5], response: { low: 3.41, high: 3.72 }, within: 1.5 } },
  ],
  aspects: [
    {
      name: `effect:${NAMES[5]}`,
      outcome: 'fail',
      reason: {
        code: 'effect-late',
        params: { effect: NAMES[5], response: { low: 3.41, high: 3.72 }, within: 1.5 },
      },
    },
  ],
  tripPoint: { low: 82.71, high: 83.27 },
  tripPercent: { low: 86.11, high: 86.78 },
  normal: NORMAL,
  response: { low: 3.41, high: 3.72 },
  effects: [
    {
      name: NAMES[5],
      signal: id(5),
      changed: span(25.3, 25.45),
      response: { low: 3.41, high: 3.72 },
    },
  ],
  proved: [],
  trial: 1,
  asFound: 'fail',
  trials: [
    trialOf({
      trial: 1,
      span: span(12, 45),
      outcome: 'fail',
      tripPoint: { low: 82.71, high: 83.27 },
      reasons: [
        {
          code: 'set-point-outside',
          params: { trip: { low: 86.11, high: 86.78 }, allowed: { low: 88.5, high: 91.5 }, unit: '%' },
        },
      ],
      course: { kind: 'hold', held: { low: 82.9, high: 83.1 }, seconds: 4.26, inside: false },
      effects: [{ name: NAMES[5], signal: id(5), changed: span(25.3, 25.45) }],
      asFound: true,
    }),
  ],
};

const bearing: WindowVerdict = {
  outcome: 'inconclusive',
  reasons: [
    {
      code: 'evidence-gap',
      params: { signal: NAMES[6], absence: 'timed-out', seconds: 4.2 },
    },
    {
      code: 'set-point-undecided',
      params: {
        trip: { low: 78.1, high: 80.9 },
        allowed: { low: 78.5, high: 81.5 },
        unit: 'degC',
        advised: 0.18,
      },
    },
  ],
  aspects: [
    {
      name: `effect:${NAMES[1]}`,
      outcome: 'inconclusive',
      reason: {
        code: 'effect-time-undecided',
        params: { effect: NAMES[1], within: 2, response: { low: 0, high: 4.8 } },
      },
    },
  ],
  tripPoint: { low: 78.1, high: 80.9 },
  effects: [{ name: NAMES[1], signal: id(1), changed: span(141.9, 142.05), response: { low: 0, high: 4.8 } }],
  proved: [],
  trial: 1,
  trials: [
    trialOf({
      trial: 1,
      span: span(110, 170),
      outcome: 'inconclusive',
      method: 'heated',
      tripPoint: { low: 78.1, high: 80.9 },
      reasons: [{ code: 'evidence-gap', params: { signal: NAMES[6], absence: 'timed-out', seconds: 4.2 } }],
      effects: [{ name: NAMES[1], signal: id(1), changed: span(141.9, 142.05) }],
      asFound: true,
    }),
  ],
};

const misalignment: WindowVerdict = {
  outcome: 'pass',
  reasons: [
    {
      code: 'delay-inside',
      params: { delay: { low: 1.86, high: 2.16 }, allowed: { low: 1.7, high: 2.3 } },
    },
  ],
  aspects: [
    {
      name: `effect:${NAMES[1]}`,
      outcome: 'pass',
      reason: {
        code: 'effect-in-time',
        params: { effect: NAMES[1], within: 2.5, response: { low: 1.86, high: 2.16 } },
      },
    },
  ],
  response: { low: 1.86, high: 2.16 },
  effects: [
    {
      name: NAMES[1],
      signal: id(1),
      changed: span(202.0, 202.15),
      response: { low: 1.86, high: 2.16 },
    },
    { name: NAMES[2], signal: id(2), changed: span(202.2, 202.35), response: { low: 2.06, high: 2.36 } },
  ],
  proved: ['sensor', 'wiring', 'input', 'logic', 'output', 'relay'],
  trial: 1,
  trials: [
    trialOf({
      trial: 1,
      span: span(199, 212),
      method: 'displaced',
      reasons: [
        {
          code: 'delay-inside',
          params: { delay: { low: 1.86, high: 2.16 }, allowed: { low: 1.7, high: 2.3 } },
        },
      ],
      effects: [
        { name: NAMES[1], signal: id(1), changed: span(202.0, 202.15) },
        { name: NAMES[2], signal: id(2), changed: span(202.2, 202.35) },
      ],
    }),
  ],
};

const untested: WindowVerdict = {
  outcome: 'not-tested',
  reasons: [
    { code: 'no-trial', params: {} },
    { code: 'not-armed', params: { signal: 'E1.motor-running', state: 'running', remaining: 10 } },
  ],
  aspects: [],
  effects: [],
  proved: [],
  trial: 0,
  trials: [],
};

const stopStrips = (from: number, to: number, on: number, off: number): Series[] => [
  state(1, from, to, 1, 0, [on, off]),
  state(3, from, to, 0, 1, [on, off - 1]),
  state(2, from, to, 1, 0, [on + 0.2, off + 0.4]),
  state(4, from, to, 1, 0, [on + 0.9, off + 2]),
];

const heat = (t: number): number | undefined => {
  if (t > 137.8 && t < 142) return undefined;
  return t < 150 ? 60 + (t - 110) * 0.62 : Math.max(60, 84.8 - (t - 150) * 2);
};

/** The sample window. */
export const SAMPLE: WindowReport = {
  version: 1,
  window: 'w-0007',
  opened: OPENED,
  closed: instant(OPENED + 240 * S),
  standing: 'closed',
  people: [
    { name: 'Tester One', role: 'tester' },
    { name: 'Watcher Two', role: 'watcher' },
  ],
  revisions: [{ machine: 'E1', opened: '41', closed: '41', quality: 'tag' }],
  polling: [{ source: 'plc', least: 0.098, median: 0.1, most: 0.131, lost: 42 }],
  notes: [
    { t: 11.4, by: 'Tester One', text: 'NOW: ramp on the injector' },
    { t: 69.8, by: 'Tester One', text: 'NOW: step to 72 rpm' },
  ],
  book: BOOK,
  bookHash: '9f2c4a7be01d55c8a1f0e8b7c6d5e4f30123456789abcdef0123456789abcdef',
  engine: 1,
  toolVersion: '0.1.0',
  log: 'saltmarsh-2025',
  checkpoint: { size: 412, root: '5df6e0e2761359d30a8275058e299fcc0381534545f55cf43e41983f5d4c9456' },
  interlocks: [
    {
      interlock: 0 as InterlockId,
      method: 'injected',
      verdict: stop,
      traces: [
        {
          trial: 1,
          from: 5,
          to: 50,
          cause: measured(0, 5, 50, rampSpeed),
          effects: stopStrips(5, 50, 31, 44),
        },
        {
          trial: 2,
          from: 66,
          to: 86,
          cause: measured(0, 66, 86, stepSpeed),
          effects: stopStrips(66, 86, 71, 82),
        },
      ],
    },
    {
      interlock: 1 as InterlockId,
      method: 'injected',
      verdict: alarm,
      traces: [
        {
          trial: 1,
          from: 5,
          to: 50,
          cause: measured(0, 5, 50, rampSpeed),
          effects: [state(5, 5, 50, 0, 1, [25.3, 37])],
        },
      ],
    },
    {
      interlock: 2 as InterlockId,
      method: 'heated',
      verdict: bearing,
      traces: [
        {
          trial: 1,
          from: 108,
          to: 170,
          cause: measured(6, 108, 170, heat),
          effects: [state(1, 108, 170, 1, 0, [142, 165])],
        },
      ],
    },
    {
      interlock: 3 as InterlockId,
      method: 'displaced',
      verdict: misalignment,
      traces: [
        {
          trial: 1,
          from: 196,
          to: 214,
          cause: state(7, 196, 214, 0, 1, [200, 206]),
          effects: [state(1, 196, 214, 1, 0, [202, 211]), state(2, 196, 214, 1, 0, [202.2, 211.4])],
        },
      ],
    },
    { interlock: 4 as InterlockId, method: 'unstated', verdict: untested, traces: [] },
  ],
  stated: { permit: 'P-118', conditions: 'empty, guards on', 'near the tower': 'wind from the west' },
};
