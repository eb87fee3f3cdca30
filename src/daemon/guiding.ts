import type { EnteredBy, StepAsked } from '../api/index.ts';
import {
  BEFORE,
  expectedOf,
  type GuideEntry,
  type GuideLive,
  type GuideOpening,
  type GuideState,
  guideOf,
  isOnTheWay,
  isSeen,
  movedBetween,
  names,
  newWalk,
  type Step,
  type Suspects,
  stepFault,
  suspectsOf,
  walkOn,
} from '../guide/index.ts';
import type { Finding, Mark } from '../judge/index.ts';
import {
  formatUtc,
  type Instant,
  later,
  parseUtc,
  type Reading,
  type Reason,
  SECOND,
} from '../measure/index.ts';
import type { Entry } from '../record/index.ts';
import type { Book, Interlock } from '../rulebook/index.ts';
import { decline } from './decline.ts';

/** Nobody holds a sensor for longer. */
const LONGEST_WATCH = 120 * SECOND;

export interface GuidingHands {
  /** Enters a step on the window. */
  readonly enter: (step: Step, by: EnteredBy) => void;
  readonly mark: (mark: Mark, by: EnteredBy) => void;
  readonly live: () => Omit<GuideLive, 'moving'>;
}

/** What goes on in a guided window beside judging: steps, what moves while a sensor is touched, the countdown. */
export interface Guiding {
  state(): GuideState;
  /** Takes a step at `now`, or declines it. */
  step(asked: StepAsked, by: EnteredBy, now: Instant): void;
  /** Signals whose readings it needs. */
  readonly signals: ReadonlySet<number>;
  take(reading: Reading): void;
  /** What the window has entered, in its order. */
  heard(entry: GuideEntry): void;
  /** Does what is due: NOW, a watch that takes too long, a countdown for what is not ready any more. */
  look(now: Instant): void;
  /** The daemon was away: what it was in the midst of is over. */
  returned(): void;
  end(standing: 'closed' | 'interrupted', why?: Reason): void;
}

interface Watching {
  readonly interlock: Interlock;
  readonly suspects: Suspects;
  readonly before: readonly Reading[];
  readonly began: Instant;
  readonly during: Reading[];
}

/** What the daemon enters by itself. */
export const DAEMON: EnteredBy = { name: 'daemon' };

interface Body {
  readonly step?: Step;
  readonly mark?: Mark;
  readonly finding?: Finding;
}

/** What the way through a window goes by, of an entry of the log; none or one. */
export const onTheWay = ({ kind, utc, body }: Entry): readonly GuideEntry[] => {
  const { step, mark, finding } = body as Body;
  if (kind === 'step' && step) return [{ utc, step }];
  if (kind === 'mark' && mark) return [{ utc, mark }];
  return kind === 'finding' && finding && isOnTheWay(finding) ? [{ utc, finding }] : [];
};

export const createGuiding = (book: Book, opening: GuideOpening, hands: GuidingHands): Guiding => {
  const tested = opening.stimuli.flatMap(({ interlock }) => book.interlocks[interlock] ?? []);
  const suspects = new Map(tested.map((one) => [one.name, suspectsOf(book, one)]));
  const signals = new Set<number>(
    [...suspects.values()].flatMap(({ own, others, effects }) => [...own, ...others, ...effects]),
  );
  const walk = newWalk(tested);
  let lately: Reading[] = [];
  let watching: Watching | undefined;
  /** Who counts down. */
  let counter = DAEMON;
  let end: Pick<GuideState, 'standing' | 'why'> = { standing: 'open' };

  const moving = (): ReadonlyMap<string, readonly string[]> => {
    if (watching === undefined) return new Map();
    const { interlock, suspects: own, before, during } = watching;
    return new Map([[interlock.name, movedBetween(book, own, before, during).moved]]);
  };

  const state = (): GuideState => guideOf(book, opening, walk, { ...hands.live(), moving: moving() }, end);

  const enter = (step: Step, by: EnteredBy = DAEMON): void => hands.enter(step, by);

  const beginWatch = (interlock: Interlock, by: EnteredBy, now: Instant): void => {
    const own = suspects.get(interlock.name);
    if (own === undefined) return;
    const before = lately.filter(({ at }) => at.earliest >= now - BEFORE);
    const blind = own.own.find((signal) => !isSeen(book, before, signal));
    if (blind !== undefined)
      decline({ code: 'guide-blind', params: { signal: book.signals[blind]?.name ?? '' } });
    enter({ do: 'watch-began', by: by.name, interlock: interlock.name }, by);
    watching = { interlock, suspects: own, before, began: now, during: [] };
  };

  const endWatch = (by: EnteredBy, why?: 'too-long'): void => {
    if (watching === undefined) return;
    const { interlock, suspects: own, before, during } = watching;
    watching = undefined;
    const found = movedBetween(book, own, before, during);
    const step = { do: 'watch-ended', by: by.name, interlock: interlock.name, ...found } as const;
    enter({ ...step, ...(why && { why }) }, by);
  };

  /** The countdown that has not reached its NOW. */
  const counting = (): { readonly name: string; readonly at: Instant } | undefined => {
    for (const [name, { countdown, now }] of walk.courses) {
      const at = countdown && parseUtc(countdown.at);
      if (countdown !== undefined && at !== undefined && !now) return { name, at };
    }
    return undefined;
  };

  const interlockOf = (name: string): Interlock | undefined => tested.find((one) => one.name === name);

  const takeStep = (asked: StepAsked, by: EnteredBy, now: Instant): void => {
    const said = { ...asked, by: by.name };
    if (said.do === 'restored') {
      enter(said, by);
      return;
    }
    const interlock = interlockOf(said.interlock);
    if (interlock === undefined) return;
    if (said.do === 'identified')
      enter({ ...said, matches: names(said.typed, expectedOf(book, interlock)) }, by);
    else if (said.do === 'watch-began') {
      // One pair of hands: another sensor cannot be watched at the same time.
      endWatch(by);
      beginWatch(interlock, by, now);
    } else if (said.do === 'watch-ended') endWatch(by);
    else if (said.do === 'countdown') {
      const at = formatUtc(later(now, Math.round(said.seconds * SECOND)));
      counter = by;
      enter({ do: 'countdown', by: by.name, interlock: interlock.name, at }, by);
    } else enter(said, by);
  };

  return {
    state,
    signals,
    step(asked, by, now) {
      const fault = stepFault(state(), asked, formatUtc(now));
      if (fault !== undefined) decline(fault);
      takeStep(asked, by, now);
    },
    take(reading) {
      if (!signals.has(reading.signal)) return;
      lately.push(reading);
      if (lately.length > 64 && (lately[32]?.at.latest ?? 0) < reading.at.latest - 2 * BEFORE)
        lately = lately.filter(({ at }) => at.latest >= reading.at.latest - BEFORE);
      if (watching !== undefined && reading.at.earliest >= watching.began) watching.during.push(reading);
    },
    heard(entry) {
      if (!('finding' in entry) || isOnTheWay(entry.finding)) walkOn(walk, entry);
    },
    look(now) {
      if (end.standing !== 'open') return;
      if (watching !== undefined && now - watching.began > LONGEST_WATCH) endWatch(DAEMON, 'too-long');
      const next = counting();
      if (next === undefined) return;
      const interlock = interlockOf(next.name);
      const { ready = false, trial = 0 } = (interlock && hands.live().waits.get(interlock.id)) ?? {};
      if (now >= next.at && interlock !== undefined) {
        const { name, id } = interlock;
        hands.mark({ code: 'now', at: next.at, by: counter.name, text: name, interlock: id }, counter);
      } else if (!ready && trial === 0)
        enter({ do: 'countdown-stopped', by: 'daemon', interlock: next.name, why: 'not-ready' });
    },
    returned() {
      watching = undefined;
      for (const [interlock, course] of walk.courses) {
        if (course.watch?.running === true)
          enter({ do: 'watch-ended', by: 'daemon', interlock, moved: [], alone: false, why: 'interrupted' });
        if (course.countdown !== undefined && !course.now)
          enter({ do: 'countdown-stopped', by: 'daemon', interlock, why: 'interrupted' });
      }
    },
    end(standing, why) {
      end = { standing, ...(why && { why }) };
      watching = undefined;
    },
  };
};
