import type { AdviceNow, DemandNow, EnteredBy, FindingTold, WindowNow } from '../api/index.ts';
import type { Finding, Mark, Stimulus } from '../judge/index.ts';
import {
  formatUtc,
  type Instant,
  later,
  type Micros,
  type Readings,
  readingAt,
  SECOND,
} from '../measure/index.ts';
import type { Book, InterlockId } from '../rulebook/index.ts';
import type { Answer } from '../signal/index.ts';
import { createCoaching, type Stage } from './coaching.ts';
import type { Logbook } from './logbook.ts';
import { createPipeline, type Pipeline } from './pipeline.ts';
import type { AnswerTimes } from './planning.ts';
import { findingText, isAside, type Subject } from './told.ts';

/** A test window on the running daemon: it judges what it is given, and enters all of it. */
export interface WindowRun {
  readonly id: string;
  readonly opened: Instant;
  readonly stimuli: readonly Stimulus[];
  /** An answer, and what it reads as by itself: advice must not wait for slower sources, as a judgement does. */
  answer(answer: Answer, readings: Readings): void;
  mark(mark: Mark, by: EnteredBy): void;
  /** Enters what has not been entered yet. */
  enter(): void;
  close(at: Instant, by: EnteredBy): void;
  waits(): ReturnType<Pipeline['waits']>;
  show(from: number): WindowNow;
  /** What to tell whoever moves the causes, now. */
  advice(): readonly AdviceNow[];
  /** As a demand: what acted, or should have. */
  told(): DemandNow;
  /** Trials that run now. */
  trials(): number;
  /** It was begun by a demand, not by a person. */
  readonly demand: boolean;
  closed(): boolean;
}

export interface WindowOpening {
  readonly id: string;
  readonly at: Instant;
  readonly stimuli: readonly Stimulus[];
  readonly by: EnteredBy;
  /** What the entry carries beside the mark. */
  readonly about: Readonly<Record<string, unknown>>;
  /** What the sources had answered before: armed states and baselines reach back. */
  readonly before: readonly Answer[];
  readonly times: AnswerTimes;
}

/** What an entry says of how sure it is who entered it; of a name as typed, nothing. */
export const sureOf = ({ account }: EnteredBy): object =>
  account === undefined ? {} : { assurance: 'session', person: account };

/** What the first answer tells may be of an instant so long before it. */
const EARLIER: Micros = 10 * SECOND;

/** What the window is about: with nothing named, everything. */
const subjectOf = (book: Book, { at, stimuli }: WindowOpening): Subject => ({
  demand: stimuli.length === 0,
  opened: at,
  interlocks: new Set(stimuli.map(({ interlock }) => interlock)),
  machines: new Set(stimuli.flatMap(({ interlock }) => book.interlocks[interlock]?.machine ?? [])),
});

/** Interlocks with a trial, and their outcome once there is one. */
const actedIn = (told: readonly FindingTold[]): DemandNow['interlocks'] => {
  const found = new Map<string, DemandNow['interlocks'][number]>();
  for (const { interlock: name, finding } of told) {
    if (finding.kind === 'window') found.set(name, { name, outcome: finding.verdict.outcome });
    else if (finding.trial > 0 && !found.has(name)) found.set(name, { name });
  }
  return [...found.values()];
};

export const openWindow = (
  book: Book,
  logbook: Logbook,
  opening: WindowOpening,
  onTold: (told: FindingTold) => void,
): WindowRun => {
  const { id, stimuli } = opening;
  const subject = subjectOf(book, opening);
  const coaching = createCoaching(book, stimuli);
  const worksOut = [...coaching.signals].some((signal) => book.signals[signal]?.address.kind === 'derived');
  const pipeline = createPipeline(book, worksOut ? { derived: (row) => coaching.take(row) } : {}, {
    fromOpening: true,
  });
  const told: FindingTold[] = [];
  let pending: Answer[] = [];
  let fed = 0;
  let done = false;

  const take = (findings: readonly Finding[]): void => {
    for (const finding of findings) {
      const interlock = book.interlocks[finding.interlock]?.name ?? '';
      const aside = isAside(finding, subject);
      const one = { index: told.length, interlock, finding, text: findingText(book, finding), aside };
      told.push(one);
      coaching.heard(finding);
      logbook.enter(finding.kind === 'window' ? 'verdict' : 'finding', id, 'daemon', { finding });
      onTold(one);
    }
  };

  const feed = (answer: Answer): void => {
    pending.push(answer);
    fed += 1;
    take(pipeline.answer(answer));
  };

  const enter = (): void => {
    logbook.trace(id, pending, fed - pending.length);
    pending = [];
  };

  const mark = (one: Mark, by: EnteredBy): void => {
    // The answers that the mark follows are entered before it.
    enter();
    logbook.enter('mark', id, by.name, { mark: one, position: fed, ...sureOf(by) });
    take(pipeline.mark(one));
  };

  logbook.enter('window-opened', id, opening.by.name, {
    ...opening.about,
    ...sureOf(opening.by),
    stimuli,
    before: opening.before.length,
  });
  const { demand } = subject;
  const standing = (): WindowNow['standing'] => (done ? 'closed' : 'open');
  const stageOf = (interlock: InterlockId): Stage => {
    const { trial = 0, waits = [] } = pipeline.waits().get(interlock) ?? {};
    if (trial > 0) return 'trial';
    return waits.length === 0 ? 'ready' : 'waits';
  };
  const advise = (answer: Answer, readings: Readings): void => {
    for (let index = 0; index < readings.length; index += 1) {
      const row = coaching.signals.has(readings.signal[index] ?? 0) ? readingAt(readings, index) : undefined;
      if (row !== undefined) coaching.take(row);
    }
    coaching.look(answer.received as Instant, stageOf, () => ({
      ...pipeline.known(),
      answers: opening.times.seconds(),
    }));
  };
  // A demand had begun before anybody knew: it is watched from the first answer that was kept, and marks have their
  // turn by their time. What was granted, and what clocks have shown, may be older.
  const oldest = opening.before.find(({ kind }) => kind !== 'terms' && kind !== 'clock');
  const first = oldest?.received ?? opening.at;
  const begins = demand ? later(first, -EARLIER) : opening.at;
  const opened: Mark = { code: 'window-opened', at: begins, window: id, stimuli };
  if (demand) mark(opened, opening.by);
  for (const answer of opening.before) feed(answer);
  if (!demand) mark(opened, opening.by);

  return {
    id,
    opened: opening.at,
    stimuli,
    answer(answer, readings) {
      if (done) return;
      feed(answer);
      if (!demand) advise(answer, readings);
    },
    mark,
    enter,
    close(at, by) {
      mark({ code: 'window-closed', at }, by);
      const entries = logbook.count(id);
      logbook.enter('window-closed', id, by.name, {
        answers: fed,
        findings: told.length,
        entries,
        ...sureOf(by),
      });
      done = true;
    },
    waits: () => pipeline.waits(),
    show: (from) => ({
      window: id,
      standing: standing(),
      opened: formatUtc(opening.at),
      demand,
      findings: told.slice(from),
      advice: done ? [] : coaching.advice(),
    }),
    advice: () => (done ? [] : coaching.advice()),
    told: () => ({
      id,
      opened: formatUtc(opening.at),
      standing: standing(),
      interlocks: actedIn(told),
    }),
    trials: () => pipeline.trials(),
    demand,
    closed: () => done,
  };
};
