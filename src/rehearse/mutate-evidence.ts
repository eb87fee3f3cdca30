import { FLAGS, instant, MILLISECOND, type Micros, SECOND, type SignalId } from '../measure/index.ts';
import type { Condition } from '../rulebook/index.ts';
import {
  holding,
  type Mutation,
  NO_TRIAL,
  nameOf,
  type Table,
  undecided,
  untested,
  withCovers,
  withLine,
} from './mutation.ts';
import type { Play } from './types.ts';

const END = Number.POSITIVE_INFINITY;

/** The interlock is about this very condition: it is its cause, or it is armed by it. */
const isSubject = ({ causes, interlock }: Table, signal: SignalId): boolean =>
  causes.includes(signal) || interlock.armed.when.some((one) => one.signal === signal);

/** A condition that lasts, from before the first excursion on, or only around each decision. */
const lasting = (
  table: Table,
  code: string,
  conditions: readonly Condition[] | undefined,
  codes: string[],
): Mutation[] =>
  (conditions ?? [])
    .filter((one) => !isSubject(table, one.signal))
    .map((condition) => ({
      code,
      about: nameOf(table.book, condition.signal),
      play: withCovers(
        table.nominal.play,
        table.nominal.bouts.map((bout) =>
          holding(condition, bout.begins - SECOND / 2, bout.acts + 3 * SECOND),
        ),
      ),
      allowed: [undecided(...codes), NO_TRIAL],
    }));

const stopped = (table: Table): Mutation[] =>
  (table.machine?.stops ?? [])
    .filter((one) => !isSubject(table, one.signal))
    .map((condition) => ({
      code: 'mutation-stopped-by-hand',
      about: nameOf(table.book, condition.signal),
      play: withCovers(
        table.nominal.play,
        table.nominal.bouts.map((bout) =>
          holding(condition, bout.acts - 300 * MILLISECOND, bout.acts + 300 * MILLISECOND),
        ),
      ),
      allowed: [undecided('stop-by-hand'), NO_TRIAL],
    }));

const flagged = (table: Table): Mutation[] => {
  const { cause } = table.interlock;
  if (table.book.signals[cause.signal]?.address.kind === 'derived') return [];
  const covers = table.nominal.bouts.map((bout) => ({
    signal: cause.signal,
    from: bout.begins - SECOND,
    until: bout.clears + SECOND,
    what: { kind: 'flags' as const, flags: FLAGS.forced },
  }));
  return [
    {
      code: 'mutation-forced-value',
      about: nameOf(table.book, cause.signal),
      play: withCovers(table.nominal.play, covers),
      allowed: [undecided('forced-during-trial'), NO_TRIAL],
    },
  ];
};

const heartbeat = (table: Table): Mutation[] => {
  const signal = table.machine?.heartbeat;
  if (signal === undefined || table.interlock.cause.signal === signal) return [];
  const what = { kind: 'frozen' as const };
  return [
    {
      code: 'mutation-heartbeat',
      about: nameOf(table.book, signal),
      play: withCovers(table.nominal.play, [{ signal, from: SECOND, until: END, what }]),
      allowed: [undecided('heartbeat-still'), NO_TRIAL],
    },
  ];
};

const gap = (table: Table): Mutation[] => {
  const { cause } = table.interlock;
  const def = table.book.signals[cause.signal];
  const kinds = ['sensor-fault', 'silent'];
  if (
    def === undefined ||
    def.address.kind === 'derived' ||
    kinds.includes(cause.kind) ||
    cause.kind === 'group'
  )
    return [];
  const length = def.agedAfter + SECOND;
  const covers = table.nominal.bouts.map((bout) => ({
    signal: cause.signal,
    from: bout.acts - length + 200 * MILLISECOND,
    until: bout.acts + 200 * MILLISECOND,
    what: { kind: 'absent' as const, absence: 'timed-out' as const },
  }));
  return [
    {
      code: 'mutation-gap-cause',
      about: nameOf(table.book, cause.signal),
      play: withCovers(table.nominal.play, covers),
      allowed: [
        NO_TRIAL,
        undecided('evidence-gap', 'effect-time-undecided', 'set-point-undecided', 'delay-undecided'),
        untested('effect-was-there', 'not-reached'),
      ],
    },
  ];
};

/** Nothing is heard of any effect around the decision. */
const gapOfEffects = (table: Table): Mutation[] => {
  const effects = table.interlock.effects.filter(
    ({ signal, becomes }) => signal !== table.interlock.cause.signal && becomes.kind !== 'stays',
  );
  if (effects.length === 0) return [];
  const covers = effects.flatMap(({ signal, within }) =>
    table.nominal.bouts.map((bout) => ({
      signal,
      from: bout.reached - SECOND,
      until: bout.reached + within + (table.book.signals[signal]?.agedAfter ?? 0) + SECOND,
      what: { kind: 'absent' as const, absence: 'timed-out' as const },
    })),
  );
  return [
    {
      code: 'mutation-gap-effects',
      about: '',
      play: withCovers(table.staged({ hold: 20 * SECOND }).play, covers),
      allowed: [
        NO_TRIAL,
        undecided(
          'evidence-gap',
          'effect-time-undecided',
          'effect-awaited',
          'set-point-undecided',
          'delay-undecided',
          'level-and-delay-not-separated',
        ),
      ],
    },
  ];
};

/** Polling three times slower than the slowest effect may come. A state that stays is taken to have stayed between. */
const coarse = (table: Table): Mutation[] => {
  if (table.interlock.effects.every(({ becomes }) => becomes.kind === 'stays')) return [];
  const within = Math.max(...table.interlock.effects.map((effect) => effect.within), SECOND);
  const every: Micros = 3 * within;
  const staged = table.staged({ hold: 2 * every });
  // Whoever presses a button holds it until it has been seen.
  const { machine } = table;
  const buttons = staged.acting.flatMap(({ reset = 0, start = 0 }) => [
    ...(machine?.resets ?? []).map((one) => holding(one, reset - every, reset + every)),
    ...(machine?.starts ?? []).map((one) => holding(one, start - every, start + every)),
  ]);
  const codes = [
    'set-point-undecided',
    'delay-undecided',
    'delay-not-measured',
    'effect-time-undecided',
    'level-and-delay-not-separated',
    'limit-undecided',
    'effect-awaited',
    'effect-not-reached',
    'not-reached',
    'competing-cause',
    'stop-by-hand',
  ];
  return [
    {
      code: 'mutation-coarse',
      about: '',
      play: withCovers({ ...staged.play, polling: { ...staged.play.polling, every } }, buttons),
      allowed: [NO_TRIAL, undecided(...codes), untested(...codes, 'effect-was-there')],
    },
  ];
};

const unarmed = (table: Table): Mutation[] =>
  table.interlock.armed.when.map((condition) => {
    const line = table.rest(condition.signal);
    const state = condition.state === 0 ? 1 : 0;
    return {
      code: 'mutation-not-armed',
      about: nameOf(table.book, condition.signal),
      play: withLine(table.nominal.play, { ...line, start: state }),
      allowed: [NO_TRIAL, untested('not-armed')],
    };
  });

/** The window is closed before the effects can be seen. */
const closed = (table: Table): Mutation[] => {
  const first = table.nominal.bouts[0];
  if (first === undefined) return [];
  const until = first.acts - 100 * MILLISECOND;
  const play: Play = { ...table.nominal.play, lasts: until, window: {} };
  return [
    {
      code: 'mutation-closed-early',
      about: '',
      play: { ...play, marks: play.marks.filter((mark) => mark.at <= until) },
      allowed: [
        NO_TRIAL,
        undecided(
          'effect-awaited',
          'effect-not-reached',
          'not-reached',
          'unfinished',
          'set-point-undecided',
          'not-held-long-enough',
        ),
        untested('stayed'),
      ],
    },
  ];
};

const befell = (table: Table): Mutation[] => {
  const { nominal, interlock } = table;
  const each = (code: string, codes: string[], make: (at: number) => Play['marks'][number]): Mutation => ({
    code,
    about: '',
    play: {
      ...nominal.play,
      marks: [
        ...nominal.play.marks,
        ...nominal.bouts.map((bout) => make((bout.reached + bout.acts) / 2 + 10_000)),
      ],
    },
    allowed: [undecided(...codes), NO_TRIAL],
  });
  const by = 'rehearsal';
  const { id } = interlock;
  return [
    each('mutation-clock', ['clock-stepped'], (at) => ({
      code: 'clock-stepped',
      at: instant(at),
      by: 2 * SECOND,
    })),
    each('mutation-interrupted', ['interrupted'], (at) => ({
      code: 'interrupted',
      at: instant(at),
      from: instant(at - SECOND),
    })),
    each('mutation-aborted', ['trial-aborted'], (at) => ({
      code: 'trial-aborted',
      at: instant(at),
      by,
      interlock: id,
      text: '',
    })),
    each('mutation-attested-bypass', ['attested-bypass'], (at) => ({
      code: 'bypassed',
      at: instant(at),
      by,
      interlock: id,
      text: '',
    })),
  ];
};

const revision = (table: Table): Mutation[] => {
  const { nominal, interlock } = table;
  const mark = (at: number, text: string): Play['marks'][number] => ({
    code: 'revision',
    at: instant(at),
    machine: interlock.machine,
    text,
    quality: 'typed',
  });
  const marks = [mark(SECOND, 'A'), mark(nominal.bouts[0]?.begins ?? 2 * SECOND, 'B')];
  return [
    {
      code: 'mutation-revision',
      about: '',
      play: { ...nominal.play, marks: [...nominal.play.marks, ...marks] },
      allowed: [undecided('revision-changed')],
    },
  ];
};

/** What can be wrong with the evidence: hands, bypasses, forces, gaps, polling, clock, recording. */
export const evidenceMutations = (table: Table): readonly Mutation[] => [
  ...lasting(table, 'mutation-bypassed', table.machine?.bypasses, ['bypass-during-trial']),
  ...lasting(table, 'mutation-forced', table.machine?.forces, ['forced-during-trial']),
  ...stopped(table),
  ...flagged(table),
  ...heartbeat(table),
  ...gap(table),
  ...gapOfEffects(table),
  ...coarse(table),
  ...unarmed(table),
  ...closed(table),
  ...befell(table),
  ...revision(table),
];
