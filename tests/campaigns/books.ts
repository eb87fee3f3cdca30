/** What a drawn design looks like in a resolved rulebook. */
import type { SignalId } from '../../src/measure/index.ts';
import type { Book, Effect, Interlock, InterlockId, Level } from '../../src/rulebook/index.ts';
import type { SignalDef } from '../../src/signal/index.ts';
import type { Drawn } from './plants.ts';
import { doubtOf, idOf, NAMES, type Name } from './polling.ts';

const S = 1_000_000;

/** Quiet time and arming before a trial, and how long the cause must be clear after it. Seconds. */
export const BASELINE = 2;
export const ARMED_AFTER = 2;
export const DWELL = 1;

const signalOf = (drawn: Drawn, name: Name): SignalDef => {
  const { design, polling, made } = drawn;
  const value = name === 'cause' && design.kind !== 'contact';
  const speed = design.kind === 'speed';
  const quantity = speed ? 'rotational-speed' : 'temperature';
  return {
    id: idOf(name),
    name: `E1.${name}`,
    source: 0,
    address: { kind: 'trace' },
    decoding: { as: 'value', scale: 1, offset: 0, inverted: false },
    quantity: value ? quantity : 'state',
    unit: value ? (speed && 'rpm') || 'degC' : '',
    states: value ? [] : ['off', 'on'],
    resolution: value ? polling.resolution : 1,
    accuracy: value ? doubtOf(drawn) : 0,
    age: Math.round((made.scan + polling.cached) * S),
    agedAfter: S,
  };
};

const effect = (name: Name, state: number, kind: Effect['class'], within: number): Effect => ({
  name: `E1.${name}`,
  signal: idOf(name),
  becomes: { kind: 'state', state },
  class: kind,
  within: Math.round(within * S),
  notBefore: 0,
  after: [],
  until: 'reset',
  cascade: false,
});

const EFFECTS = ['run', 'tripped', 'running'] as const;
type EffectName = (typeof EFFECTS)[number];

/** The state that each takes when the interlock acts. */
export const ACTING: Readonly<Record<EffectName, number>> = { run: 0, tripped: 1, running: 0 };

const CLASSES = { run: 'command', tripped: 'trip', running: 'feedback' } as const;

/** Names of the effects, in the order of the rule. */
export const effectsOf = ({ design }: Drawn): readonly [EffectName, ...EffectName[]] =>
  design.shows.tripped ? EFFECTS : ['run', 'running'];

const causeOf = ({ design }: Drawn): Interlock['cause'] => {
  if (design.kind === 'contact') return { kind: 'contact', signal: idOf('cause'), state: 1 };
  const level = (value: number): Level =>
    design.kind === 'speed'
      ? { of: 'normal', factor: value / design.normal, offset: 0 }
      : { of: 'absolute', factor: 0, offset: value };
  return {
    kind: 'level',
    signal: idOf('cause'),
    side: design.side,
    setPoint: level(design.setPoint),
    tolerance: level(design.tolerance),
    clears: level(design.clears),
  };
};

const interlockOf = (drawn: Drawn): Interlock => {
  const { design } = drawn;
  const { delay, limit, within } = design;
  const effects = effectsOf(drawn).map((name) => effect(name, ACTING[name], CLASSES[name], within[name]));
  return {
    id: 0 as InterlockId,
    name: 'E1.protection',
    machine: 0,
    hazard: 'belt slip',
    title: 'protection',
    cause: causeOf(drawn),
    ...(delay && {
      delay: {
        time: Math.round(delay.time * S),
        tolerance: Math.round(delay.tolerance * S),
        onReturn: delay.onReturn,
      },
    }),
    ...(limit !== undefined && {
      limit: {
        side: design.side === 'below' ? 'no-lower-than' : 'no-higher-than',
        level:
          design.kind === 'speed'
            ? { of: 'nameplate', factor: limit / design.normal, offset: 0 }
            : { of: 'absolute', factor: 0, offset: limit },
        inclusive: true,
        judgedAt: 'level',
        basis: 'hazard analysis',
      },
    }),
    armed: { when: [{ signal: idOf('running'), state: 1 }], after: ARMED_AFTER * S },
    effects: [effects[0]!, ...effects.slice(1)],
    baseline: BASELINE * S,
    dwell: DWELL * S,
  };
};

/** A contact that stops the same machine at once. */
const otherInterlock = (drawn: Drawn): Interlock => ({
  ...interlockOf({ ...drawn, design: { ...drawn.design, kind: 'contact' } }),
  id: 1 as InterlockId,
  name: 'E1.other',
  cause: { kind: 'contact', signal: idOf('other'), state: 1 },
});

const when = (name: Name, state: number): { signal: SignalId; state: number }[] => [
  { signal: idOf(name), state },
];

/** One machine with the drawn interlock (0) and another contact (1). */
export const bookOf = (drawn: Drawn): Book => {
  const { design, polling, made } = drawn;
  const normal = { low: design.normal - design.normalDoubt, high: design.normal + design.normalDoubt };
  const { delay: _none, limit: _unlimited, ...other } = otherInterlock(drawn);
  return {
    site: 'campaign',
    title: 'campaign',
    sources: [
      {
        protocol: 'trace',
        name: 'trace',
        scan: Math.round(made.scan * S),
        scanConsistent: polling.consistent,
      },
    ],
    signals: NAMES.map((name) => signalOf(drawn, name)),
    interlocks: [interlockOf(drawn), other],
    machines: [
      {
        index: 0,
        name: 'E1',
        title: 'leg 1',
        kind: 'bucket-elevator',
        roles: {},
        normals:
          design.kind === 'speed'
            ? [
                {
                  signal: idOf('cause'),
                  from: { kind: 'declared', value: normal },
                  nameplate: { low: design.normal, high: design.normal },
                  allowance: 0.05,
                },
              ]
            : [],
        stops: design.shows.stop ? when('stop', 1) : [],
        resets: when('reset', 1),
        starts: when('start', 1),
        bypasses: when('bypass', 1),
        forces: [],
        tripped: design.shows.tripped ? when('tripped', 1) : [],
        running: when('run', 1),
        outputs: design.shows.tripped ? [idOf('run'), idOf('tripped')] : [idOf('run')],
        feeds: [],
      },
    ],
  };
};
