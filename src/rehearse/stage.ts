import type { Mark } from '../judge/index.ts';
import { instant, MILLISECOND, type Micros, SECOND, type SignalId } from '../measure/index.ts';
import type { Book, Interlock } from '../rulebook/index.ts';
import { effectLags, withActing } from './acting.ts';
import { healthyLine } from './healthy.ts';
import { type Bout, stimulusOf, type Truth } from './stimulus.ts';
import type { Acting, Line, Play, Polling } from './types.ts';
import { isStart, worldOf } from './world.ts';

/** An interlock played as it should act: what it is played with, and when what happens. */
export interface Staged {
  readonly play: Play;
  readonly bouts: readonly Bout[];
  readonly acting: readonly Acting[];
}

export const AS_WRITTEN: Truth = { level: 0, delay: 0, hold: 4 * SECOND, short: false };

const HEARTBEAT: Micros = 6 * SECOND;
const MARGIN: Micros = 1_500 * MILLISECOND;
/** From the latch proved to the reset, and from the reset to the start. */
const PAUSE: Micros = 1_500 * MILLISECOND;

/** Before the first excursion, and between two: armed for long enough, normal learned, everything quiet. */
const quietTime = (book: Book, interlock: Interlock): Micros => {
  const normals = book.machines.flatMap((machine) => machine.normals);
  const learned = normals.map(({ from }) => (from.kind === 'learned' ? from.over + interlock.baseline : 0));
  // A heartbeat must have had time to be missed.
  const beat = book.machines[interlock.machine]?.heartbeat === undefined ? 0 : HEARTBEAT;
  return Math.max(interlock.armed.after + interlock.baseline, ...learned, beat) + MARGIN;
};

/** Until every rate in the book is known. */
const historyTime = (book: Book): Micros =>
  book.signals.reduce((most, { address }) => {
    const over = address.kind === 'derived' && address.from.as === 'rate' ? address.from.over + SECOND : 0;
    return Math.max(most, over);
  }, 0);

/** Fine enough for what the interlock must be timed to. */
export const idealPolling = (interlock: Interlock): Polling => {
  const sharp = interlock.delay === undefined ? 50 * MILLISECOND : interlock.delay.tolerance / 4;
  const every = Math.round(Math.max(10 * MILLISECOND, Math.min(50 * MILLISECOND, sharp)));
  return { every, phase: 0, age: 0, scan: 0, oneAnswer: true };
};

/** What nothing on the machine can show is attested, as a person would. */
const attestations = (book: Book, interlock: Interlock, replaced: boolean, bout: Bout): readonly Mark[] => {
  const machine = book.machines[interlock.machine];
  const at = instant(bout.acts + SECOND);
  const own = { code: 'attested' as const, at, by: 'rehearsal', machine: interlock.machine };
  const motion = interlock.effects.some((effect) => effect.signal === interlock.cause.signal);
  const hidden = machine !== undefined && machine.tripped.length === 0 && machine.stops.length === 0;
  return [
    ...(replaced && motion ? [{ ...own, what: 'motion-stopped' as const }] : []),
    ...(hidden ? [{ ...own, what: 'no-stop-pressed' as const }] : []),
  ];
};

/** The motor follows its command. */
const followStart = (book: Book, interlock: Interlock, bout: Bout): Pick<Bout, 'shifts'> => {
  const feedbacks = book.machines[interlock.machine]?.feedbacks ?? [];
  const from = bout.begins + 100 * MILLISECOND;
  const shifts = feedbacks.map(({ signal, state }) => {
    const what = { kind: 'value' as const, value: state };
    return { signal, moves: [], covers: [{ from, until: bout.clears, what }] };
  });
  return { shifts };
};

const withShifts = (lines: Map<SignalId, Line>, book: Book, bout: Pick<Bout, 'shifts'>): void => {
  for (const { signal, moves, covers } of bout.shifts) {
    const line = lines.get(signal) ?? healthyLine(book, signal);
    lines.set(signal, { ...line, moves: [...line.moves, ...moves], covers: [...line.covers, ...covers] });
  }
};

/** When something happens around an excursion. */
const busy = (bout: Bout, acting: Acting | undefined): { readonly from: Micros; readonly until: Micros } => ({
  from: bout.begins - SECOND,
  until: (acting?.start ?? bout.clears) + 2 * SECOND,
});

/** Plays an interlock through every excursion that its stimulus asks for; undefined where nobody knows how. */
export const stage = (
  book: Book,
  interlock: Interlock,
  truth: Truth = AS_WRITTEN,
  polling: Polling = idealPolling(interlock),
): Staged | undefined => {
  const world = worldOf(book, interlock);
  const { rest } = world;
  const stimulus = stimulusOf(book, interlock, rest);
  if (stimulus === undefined) return undefined;
  const quiet = quietTime(book, interlock);
  const lines = new Map<SignalId, Line>(world.lines.map((line) => [line.signal, line]));
  // What only stays as it is needs no reset.
  const changes = interlock.effects.some(({ becomes }) => becomes.kind !== 'stays');
  const bouts: Bout[] = [];
  const acting: Acting[] = [];
  const stays = interlock.effects.map(({ becomes, within }) => (becomes.kind === 'stays' ? within : 0));
  const lasting = [...effectLags(interlock), ...stays].map((time) => time + 2 * SECOND);
  const hold = Math.max(truth.hold, ...lasting);
  let at = quiet + historyTime(book);
  for (const make of stimulus.bouts) {
    const bout = make(at, { ...truth, hold });
    withShifts(lines, book, bout);
    if (isStart(book, interlock)) withShifts(lines, book, followStart(book, interlock, bout));
    const reset = bout.clears + interlock.dwell + PAUSE;
    const start = reset + PAUSE;
    bouts.push(bout);
    const later = changes ? { reset, start } : {};
    acting.push({ interlock: interlock.id, from: bout.acts, clears: bout.clears, ...later });
    at = start + SECOND + quiet;
  }
  const moved = withActing({ book }, (signal) => lines.get(signal) ?? healthyLine(book, signal), acting);
  for (const [signal, line] of moved) lines.set(signal, line);
  const replaced = stimulus.method !== 'real';
  return {
    bouts,
    acting,
    play: {
      book,
      polling: { ...polling, sparse: bouts.map((bout, index) => busy(bout, acting[index])) },
      lasts: at - quiet + SECOND,
      lines: [...lines.values()],
      acting: [],
      covers: [],
      marks: bouts.flatMap((bout) => attestations(book, interlock, replaced, bout)),
      window: {},
      stimuli: [{ interlock: interlock.id, method: stimulus.method }],
    },
  };
};
