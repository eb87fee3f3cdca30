import { instant, SECOND } from '../measure/index.ts';
import type { Interlock } from '../rulebook/index.ts';
import {
  fails,
  lineIn,
  type Mutation,
  NO_TRIAL,
  nameOf,
  type Table,
  undecided,
  untested,
  waiting,
  withLine,
} from './mutation.ts';
import type { Staged } from './stage.ts';
import { stimulusOf } from './stimulus.ts';
import type { Play } from './types.ts';

const acts = (table: Table): boolean =>
  table.interlock.effects.some(({ becomes }) => becomes.kind !== 'stays');

/** Set point three tolerances too early or too late: a reaction that is allowed hides one, the band another. */
const SHIFT = 3;

const level = (table: Table): readonly Mutation[] => {
  if (table.interlock.cause.kind !== 'level' || !acts(table)) return [];
  const codes = [
    'set-point-outside',
    'level-or-delay-outside',
    'limit-violated',
    'effect-late',
    'effect-missing',
  ];
  return [
    {
      code: 'mutation-level-early',
      about: '',
      play: table.staged({ level: -SHIFT }).play,
      allowed: [fails(...codes)],
    },
    {
      code: 'mutation-level-late',
      about: '',
      play: table.staged({ level: SHIFT }).play,
      allowed: [fails(...codes)],
    },
  ];
};

const delay = (table: Table): readonly Mutation[] => {
  const own = table.interlock.delay;
  if (own === undefined || !acts(table)) return [];
  const shift = 2.5 * own.tolerance;
  const codes = [
    'delay-outside',
    'effect-late',
    'effect-missing',
    'level-or-delay-outside',
    'set-point-outside',
  ];
  const longer: Mutation = {
    code: 'mutation-delay-long',
    about: '',
    play: table.staged({ delay: shift, hold: 6 * SECOND }).play,
    allowed: [fails(...codes)],
  };
  if (own.time - shift < 0) return [longer];
  const play = table.staged({ delay: -shift }).play;
  return [longer, { code: 'mutation-delay-short', about: '', play, allowed: [fails(...codes)] }];
};

/** The machine runs at 90 % of its nameplate, and takes that for its normal. */
const SLIPPING = 0.9;

const normal = (table: Table): readonly Mutation[] => {
  const { cause } = table.interlock;
  if (cause.kind !== 'level' || cause.setPoint.of !== 'normal') return [];
  const own = table.book.machines.flatMap((one) => one.normals).find((one) => one.signal === cause.signal);
  if (own?.from.kind !== 'tag' || own.nameplate === undefined) return [];
  const line = table.rest(own.from.signal);
  return [
    {
      code: 'mutation-normal',
      about: nameOf(table.book, own.from.signal),
      play: withLine(table.nominal.play, { ...line, start: line.start * SLIPPING }),
      allowed: [fails('normal-disagrees')],
    },
  ];
};

/** The cause turns back short of its set point; nothing acts, as is right, and nothing is proved. */
const short = (table: Table): readonly Mutation[] => {
  const staged = table.staged({ short: true });
  let play: Play = staged.play;
  for (const { signal } of table.interlock.effects) {
    if (signal !== table.interlock.cause.signal) play = withLine(play, table.rest(signal));
  }
  return [
    {
      code: 'mutation-not-reached',
      about: '',
      play,
      allowed: [
        NO_TRIAL,
        untested('not-reached', 'effect-not-reached', 'stayed'),
        undecided('not-reached', 'effect-not-reached', 'effect-awaited', 'not-held-long-enough'),
      ],
    },
  ];
};

/** The effects come, but nothing moved the cause: somebody else did it. */
const still = (table: Table): readonly Mutation[] => {
  if (!acts(table)) return [];
  const shifted = new Set(table.nominal.bouts.flatMap((bout) => bout.shifts.map(({ signal }) => signal)));
  let play: Play = table.nominal.play;
  for (const signal of shifted) play = withLine(play, table.rest(signal));
  return [
    {
      code: 'mutation-no-cause',
      about: '',
      play,
      allowed: [NO_TRIAL, untested('effect-was-there', 'not-reached'), undecided('not-reached')],
    },
  ];
};

/** Both would bring about the same change. */
const sharesEffect = (one: Interlock, other: Interlock): boolean =>
  one.effects.some(({ signal, becomes }) =>
    other.effects.some(
      (effect) =>
        effect.signal === signal &&
        effect.becomes.kind === 'state' &&
        becomes.kind === 'state' &&
        effect.becomes.state === becomes.state,
    ),
  );

/** In the plant as this interlock needs it the other one could act too. */
const isArmed = (table: Table, other: Interlock): boolean =>
  other.armed.when.every(({ signal, state }) => table.rest(signal).start === state);

/** Another interlock that would bring about the same, with a cause of its own. */
const competing = (table: Table): readonly Mutation[] => {
  if (!acts(table)) return [];
  const { book, interlock, nominal } = table;
  const mine = new Set<number>([
    ...nominal.bouts.flatMap((bout) => bout.shifts.map(({ signal }) => signal)),
    ...interlock.effects.map(({ signal }) => signal),
  ]);
  return book.interlocks.flatMap((other): readonly Mutation[] => {
    if (other.id === interlock.id || other.machine !== interlock.machine) return [];
    const stimulus = stimulusOf(book, other);
    const make = stimulus?.bouts.at(-1);
    if (!sharesEffect(interlock, other) || !isArmed(table, other) || make === undefined) return [];
    let { play } = nominal;
    for (const bout of nominal.bouts) {
      const ahead = (other.delay?.time ?? 0) + 2 * SECOND;
      const made = make(bout.acts - ahead, { level: 0, delay: 0, hold: ahead + 2 * SECOND, short: false });
      if (made.shifts.some(({ signal }) => mine.has(signal))) return [];
      for (const { signal, moves, covers } of made.shifts) {
        const line = lineIn(play, signal);
        play = withLine(play, {
          ...line,
          moves: [...line.moves, ...moves],
          covers: [...line.covers, ...covers],
        });
      }
    }
    const names = ['competing-cause', 'not-armed', 'arming-lost', 'siblings-moved', 'evidence-gap'];
    return [
      {
        code: 'mutation-competing',
        about: other.name,
        play,
        allowed: [NO_TRIAL, undecided(...names), untested(...names)],
      },
    ];
  });
};

/** Somebody adjusted between the excursions: what was seen before says nothing of what is set now. */
const adjusted = (table: Table): readonly Mutation[] => {
  const { nominal, interlock } = table;
  const [first, second] = nominal.bouts;
  if (first === undefined || second === undefined || interlock.delay === undefined) return [];
  const at = instant((nominal.acting[0]?.start ?? first.clears) + SECOND);
  const mark = { code: 'adjusted', at, by: 'rehearsal', interlock: interlock.id, text: '' } as const;
  return [
    {
      code: 'mutation-adjusted',
      about: '',
      play: { ...nominal.play, marks: [...nominal.play.marks, mark] },
      allowed: [
        undecided(
          'set-point-undecided',
          'level-and-delay-not-separated',
          'limit-undecided',
          'adjusted-between',
        ),
        untested('limit-not-tested'),
      ],
    },
  ];
};

/** As found it does not act; the second time it does, and nobody adjusted anything. */
const secondTry = (table: Table): readonly Mutation[] => {
  if (!acts(table)) return [];
  const patient = table.staged({
    hold: waiting(Math.max(...table.interlock.effects.map(({ within }) => within))),
  });
  const [first, second] = patient.bouts;
  if (first === undefined || second === undefined) return [];
  const asleep = (staged: Staged): Play => {
    let { play } = staged;
    for (const { signal } of table.interlock.effects) {
      if (signal === table.interlock.cause.signal) continue;
      const line = lineIn(play, signal);
      const later = <T extends { readonly from?: number; readonly at?: number }>(one: T): boolean =>
        (one.from ?? one.at ?? 0) >= second.begins;
      const healthy = table.rest(signal);
      play = withLine(play, {
        ...line,
        moves: [...healthy.moves, ...line.moves.filter(later)],
        covers: line.covers.filter(later),
      });
    }
    return play;
  };
  return [
    { code: 'mutation-second-try', about: '', play: asleep(patient), allowed: [fails('effect-missing')] },
  ];
};

/** What can be wrong on the side of the cause, and of whoever moves it. */
export const causeMutations = (table: Table): readonly Mutation[] => [
  ...level(table),
  ...delay(table),
  ...normal(table),
  ...short(table),
  ...still(table),
  ...competing(table),
  ...adjusted(table),
  ...secondTry(table),
];
