import { MILLISECOND, type Micros, type SignalId } from '../measure/index.ts';
import type { Effect } from '../rulebook/index.ts';
import { effectLags, endOf, layEffect } from './acting.ts';
import {
  fails,
  lineIn,
  type Mutation,
  NO_TRIAL,
  type Table,
  undecided,
  untested,
  waiting,
  withLine,
} from './mutation.ts';
import type { Staged } from './stage.ts';
import type { Acting, Line, Play } from './types.ts';

const LATE: Micros = 600 * MILLISECOND;

/** While a sensor is replaced nothing is asked of its signal. */
const isReplaced = ({ interlock, nominal }: Table, effect: Effect): boolean =>
  effect.signal === interlock.cause.signal && nominal.play.stimuli.some(({ method }) => method !== 'real');

interface One {
  readonly effect: Effect;
  readonly index: number;
}

const states = (table: Table): readonly One[] =>
  table.interlock.effects
    .map((effect, index) => ({ effect, index }))
    .filter(({ effect }) => effect.becomes.kind !== 'stays' && !isReplaced(table, effect));

/** The line of an effect's signal that comes and goes at other times. */
const movedLine = (
  table: Table,
  staged: Staged,
  { effect, index }: One,
  times: (
    acting: Acting,
    lag: Micros,
    bout: Staged['bouts'][number],
  ) => readonly [Micros, Micros] | undefined,
): Line => {
  const lag = effectLags(table.interlock)[index] ?? 0;
  let line = table.rest(effect.signal);
  staged.acting.forEach((acting, at) => {
    const bout = staged.bouts[at];
    const span = bout && times(acting, lag, bout);
    if (span === undefined) return;
    const laid = layEffect({ book: table.book }, effect, span[0], span[1], line.start);
    line = { ...line, moves: [...line.moves, ...laid.moves], covers: [...line.covers, ...laid.covers] };
  });
  return line;
};

const removed = (table: Table): readonly Mutation[] =>
  states(table).map(({ effect }) => ({
    code: 'mutation-effect-removed',
    about: effect.name,
    play: withLine(table.staged({ hold: waiting(effect.within) }).play, table.rest(effect.signal)),
    allowed: [fails('effect-missing')],
  }));

const late = (table: Table): readonly Mutation[] =>
  states(table).map((one) => {
    const staged = table.staged({ hold: waiting(one.effect.within) });
    const line = movedLine(table, staged, one, (acting, _lag, bout) => [
      bout.reached + one.effect.within + LATE + (table.interlock.delay?.tolerance ?? 0),
      endOf(one.effect, acting),
    ]);
    return {
      code: 'mutation-effect-late',
      about: one.effect.name,
      play: withLine(staged.play, line),
      allowed: [fails('effect-late', 'effect-missing')],
    };
  });

const early = (table: Table): readonly Mutation[] =>
  states(table)
    .filter(({ effect }) => effect.notBefore > 500 * MILLISECOND)
    .map((one) => ({
      code: 'mutation-effect-early',
      about: one.effect.name,
      play: withLine(
        table.nominal.play,
        movedLine(table, table.nominal, one, (acting, _lag, bout) => [
          bout.reached + 50 * MILLISECOND,
          endOf(one.effect, acting),
        ]),
      ),
      allowed: [
        fails('effect-early', 'order-broken', 'set-point-outside', 'delay-outside', 'level-or-delay-outside'),
      ],
    }));

const otherState = (state: number): number => (state === 0 ? 1 : 0);

/** Open is taken for closed: the signal shows the opposite of what it should, all the time. */
const inverted = (table: Table): readonly Mutation[] =>
  states(table).flatMap(({ effect }): readonly Mutation[] => {
    const { becomes } = effect;
    if (becomes.kind !== 'state') return [];
    const line = lineIn(table.nominal.play, effect.signal);
    const turned: Line = {
      ...line,
      start: becomes.state,
      moves: [],
      covers: line.covers.map((cover) => ({
        ...cover,
        what: { kind: 'value', value: otherState(becomes.state) },
      })),
    };
    return [
      {
        code: 'mutation-effect-inverted',
        about: effect.name,
        play: withLine(table.nominal.play, turned),
        allowed: [
          NO_TRIAL,
          untested('effect-was-there', 'effect-already-there', 'not-armed'),
          undecided('effect-was-there', 'arming-lost', 'effect-awaited'),
          fails('effect-was-there', 'restarted-without-start', 'effect-missing'),
        ],
      },
    ];
  });

const alreadyThere = (table: Table): readonly Mutation[] => {
  if (states(table).length === 0) return [];
  let play: Play = table.nominal.play;
  for (const { effect } of states(table)) {
    if (effect.becomes.kind !== 'state') continue;
    play = withLine(play, { ...table.rest(effect.signal), start: effect.becomes.state });
  }
  return [
    {
      code: 'mutation-already-there',
      about: '',
      play,
      allowed: [NO_TRIAL, untested('effect-was-there', 'effect-already-there')],
    },
  ];
};

const released = (table: Table): readonly Mutation[] =>
  states(table)
    .filter(({ effect }) => effect.until === 'reset')
    .map((one) => ({
      code: 'mutation-released-on-recovery',
      about: one.effect.name,
      play: withLine(
        table.nominal.play,
        movedLine(table, table.nominal, one, (acting, lag, bout) => [
          acting.from + lag,
          bout.clears + 200 * MILLISECOND,
        ]),
      ),
      allowed: [fails('released-on-recovery')],
    }));

/** The effects that last only while the cause does go away although it is still there. */
const gaveUp = (table: Table): readonly Mutation[] =>
  states(table)
    .filter(({ effect }) => effect.until === 'cause-clears')
    .map((one) => ({
      code: 'mutation-released-early',
      about: one.effect.name,
      play: withLine(
        table.nominal.play,
        movedLine(table, table.nominal, one, (acting, lag, bout) => [
          acting.from + lag,
          (acting.from + lag + bout.clears) / 2,
        ]),
      ),
      allowed: [fails('released-while-cause')],
    }));

const restarted = (table: Table): readonly Mutation[] => {
  const { machine } = table;
  if (machine === undefined || machine.starts.length === 0) return [];
  return states(table)
    .filter(
      ({ effect }) =>
        effect.class === 'command' && effect.becomes.kind === 'state' && effect.until === 'reset',
    )
    .map((one) => {
      let { play } = table.nominal;
      for (const { signal } of machine.starts) play = withLine(play, table.rest(signal));
      return {
        code: 'mutation-restarted',
        about: one.effect.name,
        play: withLine(
          play,
          movedLine(table, table.nominal, one, (acting, lag) => [
            acting.from + lag,
            (acting.reset ?? acting.from) + 500 * MILLISECOND,
          ]),
        ),
        allowed: [fails('restarted-without-start')],
      };
    });
};

/** A signal of another machine that could be mistaken for this one: same role there, an output too. */
const sameElsewhere = (table: Table, signal: SignalId): SignalId | undefined => {
  const { machine, book } = table;
  const role = Object.entries(machine?.roles ?? {}).find(([, id]) => id === signal)?.[0];
  if (role === undefined) return undefined;
  for (const other of book.machines) {
    const twin = other.roles[role];
    if (other.index !== machine?.index && twin !== undefined && other.outputs.includes(twin)) return twin;
  }
  return undefined;
};

const elsewhere = (table: Table): readonly Mutation[] =>
  states(table).flatMap(({ effect }): readonly Mutation[] => {
    const twin = sameElsewhere(table, effect.signal);
    if (twin === undefined) return [];
    const { play } = table.staged({ hold: waiting(effect.within) });
    const line = lineIn(play, effect.signal);
    return [
      {
        code: 'mutation-other-machine',
        about: effect.name,
        play: withLine(withLine(play, table.rest(effect.signal)), { ...line, signal: twin }),
        allowed: [fails('effect-missing')],
      },
    ];
  });

/** Effects that must follow one another come the other way round. */
const order = (table: Table): readonly Mutation[] =>
  states(table).flatMap((one): readonly Mutation[] => {
    const earlier = one.effect.after[0];
    const before = earlier === undefined ? undefined : table.interlock.effects[earlier];
    if (before === undefined || one.effect.becomes.kind !== 'state') return [];
    const { nominal } = table;
    const line = movedLine(table, nominal, one, (acting, lag) => [
      acting.from,
      endOf(one.effect, acting) + lag,
    ]);
    const other = { effect: before, index: earlier ?? 0 };
    const then = movedLine(table, nominal, other, (acting, lag) => [
      acting.from + lag + 300 * MILLISECOND,
      endOf(before, acting) + lag,
    ]);
    return [
      {
        code: 'mutation-order',
        about: one.effect.name,
        play: withLine(withLine(nominal.play, line), then),
        allowed: [fails('order-broken'), undecided('order-broken')],
      },
    ];
  });

const moved = (table: Table): readonly Mutation[] =>
  table.interlock.effects.flatMap((effect): readonly Mutation[] => {
    const { becomes } = effect;
    if (becomes.kind !== 'stays') return [];
    const covers = table.nominal.bouts.map((bout) => ({
      from: bout.reached + Math.max(150 * MILLISECOND, effect.within / 2),
      until: Number.POSITIVE_INFINITY,
      what: { kind: 'value' as const, value: otherState(becomes.state) },
    }));
    const line = table.rest(effect.signal);
    return [
      {
        code: 'mutation-did-not-stay',
        about: effect.name,
        play: withLine(table.nominal.play, { ...line, covers: [...line.covers, ...covers] }),
        allowed: [fails('did-not-stay')],
      },
    ];
  });

/** What a controller can get wrong on the side of its outputs. */
export const effectMutations = (table: Table): readonly Mutation[] => [
  ...removed(table),
  ...late(table),
  ...early(table),
  ...inverted(table),
  ...alreadyThere(table),
  ...released(table),
  ...gaveUp(table),
  ...restarted(table),
  ...elsewhere(table),
  ...order(table),
  ...moved(table),
];
