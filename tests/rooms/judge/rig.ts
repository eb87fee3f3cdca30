/** A small elevator for the judge's tests: signals as functions of time, sampled as a poll would. */
import {
  type Finding,
  type Mark,
  type Method,
  start,
  step,
  type WindowVerdict,
} from '../../../src/judge/index.ts';
import { columnsOf, type Instant, instant, type Reading, type SignalId } from '../../../src/measure/index.ts';
import type { Book, Effect, Interlock, InterlockId, Machine } from '../../../src/rulebook/index.ts';
import type { SignalDef } from '../../../src/signal/index.ts';

export const S = 1_000_000;
export const NAMES = [
  'speed',
  'run',
  'running',
  'tripped',
  'horn',
  'stop',
  'reset',
  'start',
  'bypass',
  'c2',
  'temp',
  'contact',
  'silence',
  'temp2',
  'count',
  'head',
  'setting',
] as const;
export type Name = (typeof NAMES)[number];
export const idOf = (name: Name): SignalId => NAMES.indexOf(name) as SignalId;

const UNITS: Partial<Record<Name, string>> = {
  speed: 'rpm',
  temp: 'degF',
  temp2: 'degF',
  count: 'count',
  head: 'rpm',
  setting: 'rpm',
};

const QUANTITIES: Partial<Record<Name, SignalDef['quantity']>> = {
  speed: 'rotational-speed',
  temp: 'temperature',
  temp2: 'temperature',
  count: 'count',
  head: 'rotational-speed',
  setting: 'rotational-speed',
};

const signalDef = (name: Name, age: number): SignalDef => ({
  id: idOf(name),
  name: `E1.${name}`,
  source: 0,
  address: { kind: 'trace' },
  decoding: { as: 'value', scale: 1, offset: 0, inverted: false },
  quantity: QUANTITIES[name] ?? 'state',
  unit: UNITS[name] ?? '',
  states: UNITS[name] === undefined ? ['off', 'on'] : [],
  resolution: 0.1,
  accuracy: 0,
  age,
  agedAfter: 1 * S,
});

const effect = (name: Name, state: number, within: number, more: Partial<Effect> = {}): Effect => ({
  name: `E1.${name}`,
  signal: idOf(name),
  becomes: { kind: 'state', state },
  class: 'command',
  within,
  notBefore: 0,
  after: [],
  until: 'unstated',
  cascade: false,
  ...more,
});

export { effect };

export const stopEffects: readonly [Effect, ...Effect[]] = [
  effect('run', 0, 1.5 * S, { until: 'reset' }),
  effect('running', 0, 2 * S, { class: 'feedback', until: 'reset' }),
  effect('tripped', 1, 1.5 * S, { class: 'trip', until: 'reset' }),
];

export const underspeed = (more: Partial<Interlock> = {}): Interlock => ({
  id: 0 as InterlockId,
  name: 'E1.underspeed-stop',
  machine: 0,
  hazard: 'belt slip',
  title: 'under-speed shutdown',
  cause: {
    kind: 'level',
    signal: idOf('speed'),
    side: 'below',
    setPoint: { of: 'normal', factor: 0.82, offset: 0 },
    tolerance: { of: 'normal', factor: 0.015, offset: 0 },
    clears: { of: 'normal', factor: 0.85, offset: 0 },
  },
  delay: { time: 1 * S, tolerance: 0.2 * S, onReturn: 'resets' },
  limit: {
    side: 'no-lower-than',
    level: { of: 'nameplate', factor: 0.8, offset: 0 },
    inclusive: true,
    judgedAt: 'level',
    basis: '29 CFR 1910.272(q)(5)',
  },
  armed: { when: [{ signal: idOf('running'), state: 1 }], after: 2 * S },
  effects: stopEffects,
  baseline: 2 * S,
  dwell: 1 * S,
  ...more,
});

export const bookOf = (
  interlocks: readonly Interlock[],
  more: { age?: number; consistent?: boolean; machine?: Partial<Machine> } = {},
): Book => ({
  site: 'test',
  title: 'test',
  sources: [{ protocol: 'trace', name: 'trace', scan: 50_000, scanConsistent: more.consistent ?? false }],
  signals: NAMES.map((name) => signalDef(name, more.age ?? 0)),
  interlocks: interlocks.map((one, index) => ({ ...one, id: index as InterlockId })),
  machines: [
    {
      index: 0,
      name: 'E1',
      title: 'leg 1',
      kind: 'bucket-elevator',
      roles: {},
      normals: [
        {
          signal: idOf('speed'),
          from: { kind: 'declared', value: { low: 96, high: 96 } },
          nameplate: { low: 96, high: 96 },
          allowance: 0.05,
        },
      ],
      stops: [{ signal: idOf('stop'), state: 1 }],
      resets: [{ signal: idOf('reset'), state: 1 }],
      starts: [{ signal: idOf('start'), state: 1 }],
      bypasses: [{ signal: idOf('bypass'), state: 1 }],
      forces: [],
      tripped: [{ signal: idOf('tripped'), state: 1 }],
      running: [{ signal: idOf('run'), state: 1 }],
      outputs: [idOf('run'), idOf('tripped'), idOf('horn')],
      feeds: [],
      ...more.machine,
    },
    {
      index: 1,
      name: 'C2',
      title: 'belt 2',
      kind: 'belt-conveyor',
      roles: {},
      normals: [],
      stops: [],
      resets: [],
      starts: [],
      bypasses: [],
      forces: [],
      tripped: [],
      running: [],
      outputs: [idOf('c2')],
      feeds: [],
    },
  ],
});

/** Value at a time in seconds; undefined: no answer at that poll. */
export type Plant = Partial<Record<Name, (t: number) => number | undefined>>;

export const HEALTHY: Plant = {
  speed: () => 96,
  run: () => 1,
  running: () => 1,
  tripped: () => 0,
  horn: () => 0,
  stop: () => 0,
  reset: () => 0,
  start: () => 0,
  bypass: () => 0,
  c2: () => 1,
  temp: () => 60,
  contact: () => 0,
  silence: () => 0,
  temp2: () => 60,
  count: () => 0,
  head: () => 96,
  setting: () => 78,
};

export interface Polling {
  readonly from: number;
  readonly to: number;
  readonly every: number;
  readonly phase: number;
  readonly age?: number;
  readonly scan?: number;
  readonly consistent?: boolean;
}

const scanned = (t: number, scan: number | undefined): number =>
  scan === undefined ? t : Math.floor(t / scan + 1e-9) * scan;

/** Seconds to instants: the tests' zero lies at a round time. */
export const at = (t: number): Instant => instant((1_000_000 + t) * S);

/** Readings as a poll at phase + n × every would bring them; half a step of 0.1 of doubt on measured values. */
export const sample = (plant: Plant, polling: Polling): Reading[] => {
  const rows: Reading[] = [];
  const first = Math.ceil((polling.from - polling.phase) / polling.every - 1e-9);
  for (let n = first; polling.phase + n * polling.every <= polling.to + 1e-9; n += 1) {
    const t = polling.phase + n * polling.every;
    for (const name of NAMES) {
      const value = (plant[name] ?? HEALTHY[name])?.(scanned(t, polling.scan));
      const base = {
        signal: idOf(name),
        at: { earliest: at(t - (polling.age ?? 0)), latest: at(t) },
        response: polling.consistent === true ? n - first + 1 : 0,
        flags: 0,
      };
      if (value === undefined) rows.push({ ...base, absent: 'timed-out' });
      else if (UNITS[name] === undefined) rows.push({ ...base, value: { low: value, high: value } });
      else {
        const shown = Math.round(value * 10) / 10;
        rows.push({ ...base, value: { low: shown - 0.05, high: shown + 0.05 } });
      }
    }
  }
  return rows;
};

export interface Run {
  readonly findings: readonly Finding[];
  readonly windows: readonly WindowVerdict[];
}

/** Opens a window over all interlocks, plays the readings with the marks between, closes it. */
export const judged = (
  book: Book,
  rows: readonly Reading[],
  options: {
    method?: Method;
    marks?: readonly Mark[];
    chunk?: number;
  } = {},
): Run => {
  const state = start(book);
  const findings: Finding[] = [];
  const opened = instant((rows[0]?.at.earliest ?? 0) - 1);
  const stimuli = book.interlocks.map((one) => ({ interlock: one.id, method: options.method ?? 'unstated' }));
  findings.push(...step(state, { mark: { code: 'window-opened', at: opened, window: 'w', stimuli } }));
  let from = 0;
  const feed = (until: number): void => {
    const size = options.chunk ?? rows.length;
    for (let index = from; index < until; index += size) {
      findings.push(
        ...step(state, { readings: columnsOf(rows.slice(index, Math.min(until, index + size))) }),
      );
    }
    from = until;
  };
  for (const mark of options.marks ?? []) {
    const next = rows.findIndex((row) => row.at.latest > mark.at);
    feed(next < 0 ? rows.length : next);
    findings.push(...step(state, { mark }));
  }
  feed(rows.length);
  const end = instant((rows.at(-1)?.at.latest ?? 0) + 1);
  findings.push(...step(state, { mark: { code: 'window-closed', at: end } }));
  return { findings, windows: findings.flatMap((one) => (one.kind === 'window' ? [one.verdict] : [])) };
};

/** Plays the readings with no window open. */
export const watched = (
  book: Book,
  rows: readonly Reading[],
  marks: readonly Mark[] = [],
): readonly Finding[] => {
  const state = start(book);
  const findings: Finding[] = [];
  let from = 0;
  for (const mark of marks) {
    const next = rows.findIndex((row) => row.at.latest > mark.at);
    const until = next < 0 ? rows.length : next;
    findings.push(...step(state, { readings: columnsOf(rows.slice(from, until)) }), ...step(state, { mark }));
    from = until;
  }
  findings.push(...step(state, { readings: columnsOf(rows.slice(from)) }));
  findings.push(
    ...step(state, { mark: { code: 'now', at: instant(rows.at(-1)?.at.latest ?? 0), by: '', text: '' } }),
  );
  return findings;
};

/** Codes of the reasons of a verdict. */
export const codes = (verdict: { reasons: readonly { code: string }[] } | undefined): string[] =>
  (verdict?.reasons ?? []).map((reason) => reason.code);
