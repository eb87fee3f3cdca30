/** The window at Saltmarsh Mill once more: causes of every kind, derived signals, other decision rules, a demand. */
import type { TrialVerdict, WindowVerdict } from '../../../src/judge/index.ts';
import type { Absence, Instant, Reason, SignalId } from '../../../src/measure/index.ts';
import type { InterlockReport, Point, Series, WindowReport } from '../../../src/report/index.ts';
import type { Book, Cause, Interlock, InterlockId } from '../../../src/rulebook/index.ts';
import { SAMPLE } from './sample.ts';

type SignalDef = Book['signals'][number];

const S = 1_000_000;
const id = (index: number): SignalId => index as SignalId;
const plain = SAMPLE.book.signals;
const base = plain[0]!;

const derived = (
  name: string,
  unit: string,
  from: Extract<SignalDef['address'], { kind: 'derived' }>['from'],
) => ({ name, unit, states: [], source: -1, address: { kind: 'derived', from } }) as const;

const ADDED: readonly Partial<SignalDef>[] = [
  { name: 'E1.tail-speed', unit: 'rpm', states: [] },
  derived('E1.slip', '%', { as: 'slip', of: [id(0), id(8)], gear: 1.5 }),
  { name: 'plc.heartbeat', unit: '', states: [] },
  derived('E1.bearing-rise', 'K', { as: 'rate', of: [id(6)], over: 60 * S, per: 60 * S }),
  { name: 'E1.set-point', unit: 'rpm', states: [] },
  derived('E1.slip-highest', '%', { as: 'rank', of: [id(9), id(11)], rank: 2 }),
];

const SIGNALS: readonly SignalDef[] = [
  ...plain,
  ...ADDED.map((one, index) => ({ ...base, ...one, id: id(plain.length + index) })),
];

const of = (kind: 'absolute' | 'normal', value: number, offset = 0) =>
  kind === 'absolute' ? { of: kind, factor: 0, offset: value } : { of: kind, factor: value, offset };

const CAUSES: readonly Cause[] = [
  {
    kind: 'band',
    signal: id(0),
    side: 'below',
    near: of('normal', 0.85),
    far: of('normal', 0.83),
    hold: 10 * S,
  },
  { kind: 'sensor-fault', signal: id(6) },
  { kind: 'silent', signal: id(0), after: 5 * S },
  { kind: 'stuck', signal: id(6), within: 0.5, after: 130 * S },
  { kind: 'restart', signal: id(10) },
  {
    kind: 'group',
    signal: id(0),
    need: 2,
    of: [
      {
        kind: 'level',
        signal: id(0),
        side: 'below',
        setPoint: of('normal', 0.82),
        tolerance: of('normal', 0.01),
        clears: of('normal', 0.85),
      },
      { kind: 'contact', signal: id(7), state: 1 },
      {
        kind: 'level',
        signal: id(6),
        side: 'above',
        setPoint: of('absolute', 80),
        tolerance: of('absolute', 1),
        clears: of('absolute', 75),
      },
    ],
  },
  {
    kind: 'level',
    signal: id(13),
    side: 'above',
    setPoint: of('absolute', 12),
    tolerance: of('absolute', 1),
    clears: of('absolute', 8),
  },
  {
    kind: 'level',
    signal: id(0),
    side: 'below',
    setPoint: { of: 'tag', tag: id(12), factor: 1, offset: -2 },
    tolerance: of('absolute', 1),
    clears: { of: 'tag', tag: id(12), factor: 1, offset: 2 },
  },
  { kind: 'no-pulses', signal: id(0), after: S },
];

const NAMES = [
  'just-inside',
  'probe-fault-stop',
  'silence-stop',
  'still-alarm',
  'restart-stop',
  'two-of-three-stop',
  'slip-stop',
  'set-by-tag-stop',
  'pulse-loss-stop',
];

const effect = SAMPLE.book.interlocks[0]!.effects[0];

const INTERLOCKS: readonly Interlock[] = CAUSES.map((cause, index) => ({
  ...SAMPLE.book.interlocks[2]!,
  id: index as InterlockId,
  name: `E1.${NAMES[index]}`,
  title: NAMES[index] ?? '',
  hazard: 'belt slip',
  cause,
  effects: [cause.kind === 'band' ? { ...effect, becomes: { kind: 'stays', state: 1 } as const } : effect],
}));

const reason: Reason = {
  code: 'effect-in-time',
  params: { effect: effect.name, within: 1.5, response: { low: 0.9, high: 1.1 } },
};

const trial: TrialVerdict = {
  outcome: 'pass',
  reasons: [reason],
  aspects: [{ name: `effect:${effect.name}`, outcome: 'pass', reason }],
  effects: [{ name: effect.name, signal: effect.signal, response: { low: 0.9, high: 1.1 } }],
  proved: ['logic'],
  method: 'real',
  standing: 'complete',
  asFound: true,
  trial: 1,
  span: { earliest: SAMPLE.opened, latest: (SAMPLE.opened + 20 * S) as Instant },
};

const verdict: WindowVerdict = { ...trial, trials: [trial], asFound: 'pass' };

/** Values until 8 s, then nothing until 14 s; everything absent where there is no value. */
const cut = (signal: SignalId, value: number | undefined, why: Absence): Series => ({
  signal,
  points: Array.from({ length: 41 }, (_, index): Point => {
    const t = index / 2;
    return value === undefined || (t > 8 && t < 14)
      ? { t, gap: why }
      : { t, low: value - 0.1, high: value + 0.1 };
  }),
});

const stopped: Series = {
  signal: effect.signal,
  points: [
    { t: 0, low: 1, high: 1 },
    { t: 9, low: 1, high: 1 },
    { t: 9.1, low: 0, high: 0 },
    { t: 20, low: 0, high: 0 },
  ],
};

const VALUES: Readonly<Record<number, number | undefined>> = { 0: 90, 6: 60, 10: -20, 13: 3 };

const reportOf = ({ id: interlock, cause }: Interlock): InterlockReport => ({
  interlock,
  method: 'real',
  verdict,
  traces: [
    {
      trial: 1,
      from: 0,
      to: 20,
      cause: cut(cause.signal, cause.kind === 'no-pulses' ? undefined : VALUES[cause.signal], 'sensor-fault'),
      effects: [stopped],
    },
  ],
});

/** One interlock for each kind of cause. */
export const KINDS: WindowReport = {
  ...SAMPLE,
  book: { ...SAMPLE.book, signals: SIGNALS, interlocks: INTERLOCKS },
  interlocks: INTERLOCKS.map(reportOf),
};

/** The first window with contradictions, of which one is dangerous. */
export const CONTRADICTED: WindowReport = {
  ...SAMPLE,
  contradictions: [
    {
      at: 12.25,
      dangerous: false,
      reason: { code: 'alarm-silenced-before', params: { signal: 'E1.horn', silence: 'E1.silence' } },
    },
    {
      at: 33.4,
      dangerous: true,
      reason: {
        code: 'cause-without-effect',
        params: { interlock: 'E1.underspeed-stop', signal: 'E1.shaft-speed' },
      },
    },
  ],
};

/** A real trip outside any test. */
export const DEMANDED: WindowReport = {
  ...SAMPLE,
  demand: true,
  window: 'd-0003',
  people: [{ name: 'daemon', role: 'recorder' }],
  notes: [],
  stated: {},
  interlocks: SAMPLE.interlocks.slice(0, 1).map((one) => ({ ...one, method: 'unstated' })),
};

/** The first interlock by another decision rule, with what the judge then says of it. */
export const byRule = (decision: NonNullable<Interlock['decision']>): WindowReport => {
  const [first, ...others] = SAMPLE.book.interlocks;
  const [report, ...rest] = SAMPLE.interlocks;
  const likely: Reason = {
    code: 'set-point-inside',
    params: {
      trip: { low: 80.1, high: 82.49 },
      allowed: { low: 80.5, high: 83.5 },
      unit: '%',
      probability: 0.8326,
    },
  };
  return {
    ...SAMPLE,
    book: { ...SAMPLE.book, interlocks: [{ ...first!, decision }, ...others] },
    interlocks: [
      {
        ...report!,
        verdict: {
          ...report!.verdict,
          reasons: [likely],
          aspects: [{ name: 'set-point', outcome: 'pass', reason: likely }],
        },
      },
      ...rest,
    ],
  };
};
