import type { AdviceNow, DemandNow, EnteredBy, FindingTold, WindowNow } from '../api/index.ts';
import type { GuideLive, GuideOpening, Step } from '../guide/index.ts';
import type { Finding, Mark, Stimulus } from '../judge/index.ts';
import {
  formatUtc,
  type Instant,
  later,
  type Micros,
  type Reading,
  type Readings,
  type Reason,
  readingAt,
  SECOND,
} from '../measure/index.ts';
import { canonicalText, plain } from '../record/index.ts';
import type { Book, InterlockId } from '../rulebook/index.ts';
import type { Answer } from '../signal/index.ts';
import { text } from '../words/index.ts';
import { createCoaching, type Stage } from './coaching.ts';
import { createGuiding, DAEMON, type Guiding, onTheWay } from './guiding.ts';
import type { Logbook } from './logbook.ts';
import { createPipeline, type Pipeline } from './pipeline.ts';
import type { AnswerTimes } from './planning.ts';
import { playInto, type StoredWindow } from './replay.ts';
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
  /** Marks and steps that were entered since the daemon began. */
  said(): number;
  /** It was begun by a demand, not by a person. */
  readonly demand: boolean;
  closed(): boolean;
  /** Of a guided window. */
  readonly guide?: Guide;
  /** Ends it without a verdict. */
  interrupt(why: Reason): void;
}

/** The way through a guided window, as the daemon asks of it. */
export type Guide = Pick<Guiding, 'state' | 'step' | 'look'>;

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
  /** Of a guided window: under which permit, who, and what was confirmed. */
  readonly guided?: Pick<GuideOpening, 'permit' | 'people' | 'precautions'>;
}

/** What an entry says of how sure it is who entered it; of a name as typed, nothing. */
export const sureOf = ({ account }: EnteredBy): object =>
  account === undefined ? {} : { assurance: 'session', person: account };

/** What stands in the log of a window that goes on, and since when the daemon was away. */
export interface Resumption {
  readonly stored: StoredWindow;
  readonly from: Instant;
  readonly at: Instant;
}

/** What was entered and what is judged of it now are not the same: the window cannot go on. */
export class NotTheSame extends Error {}

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
  resumption?: Resumption,
): WindowRun => {
  const { id, stimuli } = opening;
  const subject = subjectOf(book, opening);
  const coaching = createCoaching(book, stimuli);
  const guiding =
    opening.guided &&
    createGuiding(
      book,
      { window: id, opened: formatUtc(opening.at), stimuli, ...opening.guided },
      {
        enter: (step, by) => enterStep(step, by),
        mark: (one, by) => mark(one, by),
        live: () => liveNow(),
      },
    );
  const watched = new Set([...coaching.signals, ...(guiding?.signals ?? [])]);
  const worksOut = [...watched].some((signal) => book.signals[signal]?.address.kind === 'derived');
  const see = (row: Reading): void => {
    coaching.take(row);
    guiding?.take(row);
  };
  const pipeline = createPipeline(book, worksOut ? { derived: see } : {}, { fromOpening: true });
  const told: FindingTold[] = [];
  let pending: Answer[] = [];
  let fed = 0;
  /** Entries of the window from before the daemon began. */
  let entered = 0;
  let said = 0;
  let standing: WindowNow['standing'] = 'open';
  /** Over the trials so far; asked anew when something was found or said. */
  let verdicts: ReturnType<Pipeline['verdicts']> | undefined;

  const tell = (finding: Finding): FindingTold => {
    const interlock = book.interlocks[finding.interlock]?.name ?? '';
    const aside = isAside(finding, subject);
    const one = { index: told.length, interlock, finding, text: findingText(book, finding), aside };
    told.push(one);
    coaching.heard(finding);
    verdicts = undefined;
    return one;
  };

  const take = (findings: readonly Finding[]): void => {
    for (const finding of findings) {
      const one = tell(finding);
      logbook.enter(finding.kind === 'window' ? 'verdict' : 'finding', id, 'daemon', { finding });
      guiding?.heard({ utc: logbook.newest(), finding });
      onTold(one);
    }
  };

  const enterStep = (step: Step, by: EnteredBy): void => {
    logbook.enter('step', id, by.name, { step, ...sureOf(by) });
    said += 1;
    guiding?.heard({ utc: logbook.newest(), step });
  };

  const liveNow = (): Omit<GuideLive, 'moving'> => {
    verdicts ??= pipeline.verdicts();
    const advice = new Map(coaching.advice().map((one) => [one.interlock, one]));
    return { waits: pipeline.waits(), verdicts, advice };
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
    said += 1;
    guiding?.heard({ utc: logbook.newest(), mark: one });
    verdicts = undefined;
    take(pipeline.mark(one));
  };

  const { demand } = subject;
  const isDone = (): boolean => standing !== 'open';
  const finish = (
    kind: 'window-closed' | 'window-interrupted',
    by: EnteredBy,
    about: Readonly<Record<string, unknown>>,
  ): void => {
    const entries = entered + logbook.count(id);
    const counts = { answers: fed, findings: told.length, entries };
    logbook.enter(kind, id, by.name, { ...counts, ...about, ...sureOf(by) });
    standing = kind === 'window-closed' ? 'closed' : 'interrupted';
  };
  const stageOf = (interlock: InterlockId): Stage => {
    const { trial = 0, waits = [] } = pipeline.waits().get(interlock) ?? {};
    if (trial > 0) return 'trial';
    return waits.length === 0 ? 'ready' : 'waits';
  };
  const advise = (answer: Answer, readings: Readings): void => {
    for (let index = 0; index < readings.length; index += 1) {
      const row = watched.has(readings.signal[index] ?? 0) ? readingAt(readings, index) : undefined;
      if (row !== undefined) see(row);
    }
    coaching.look(answer.received as Instant, stageOf, () => ({
      ...pipeline.known(),
      answers: opening.times.seconds(),
    }));
  };
  const begin = (): void => {
    logbook.enter('window-opened', id, opening.by.name, {
      ...opening.about,
      ...sureOf(opening.by),
      stimuli,
      before: opening.before.length,
    });
    // A demand had begun before anybody knew: it is watched from the first answer that was kept, and marks have their
    // turn by their time. What was granted, and what clocks have shown, may be older.
    const oldest = opening.before.find(({ kind }) => kind !== 'terms' && kind !== 'clock');
    const first = oldest?.received ?? opening.at;
    const begins = demand ? later(first, -EARLIER) : opening.at;
    const opened: Mark = { code: 'window-opened', at: begins, window: id, stimuli };
    if (demand) mark(opened, opening.by);
    for (const answer of opening.before) feed(answer);
    if (!demand) mark(opened, opening.by);
  };

  /** Stands where it stood, and goes on behind the time that nobody saw. Enters nothing where that cannot be. */
  const resume = ({ stored, from, at }: Resumption): void => {
    const found = playInto(pipeline, stored);
    if (found.length !== stored.findings.length) throw new NotTheSame(id);
    found.forEach((finding, index) => {
      if (canonicalText(plain(finding)) !== canonicalText(plain(stored.findings[index])))
        throw new NotTheSame(id);
      tell(finding);
    });
    for (const entry of stored.entries) for (const one of onTheWay(entry)) guiding?.heard(one);
    fed = stored.answers.length;
    entered = stored.entries.length;
    mark({ code: 'interrupted', at, from, restarted: true }, DAEMON);
    guiding?.returned();
  };

  if (resumption === undefined) begin();
  else resume(resumption);

  return {
    id,
    opened: opening.at,
    stimuli,
    answer(answer, readings) {
      if (isDone()) return;
      feed(answer);
      if (!demand) advise(answer, readings);
    },
    mark,
    enter,
    close(at, by) {
      const open = guiding?.state().open;
      mark({ code: 'window-closed', at }, by);
      finish('window-closed', by, { ...(open && { open }) });
      guiding?.end('closed');
    },
    interrupt(why) {
      enter();
      finish('window-interrupted', DAEMON, { why: text(why), reason: why });
      guiding?.end('interrupted', why);
    },
    ...(guiding && { guide: guiding }),
    waits: () => pipeline.waits(),
    show: (from) => ({
      window: id,
      standing,
      opened: formatUtc(opening.at),
      demand,
      findings: told.slice(from),
      advice: isDone() ? [] : coaching.advice(),
    }),
    advice: () => (isDone() ? [] : coaching.advice()),
    told: () => ({
      id,
      opened: formatUtc(opening.at),
      standing,
      interlocks: actedIn(told),
    }),
    trials: () => pipeline.trials(),
    said: () => said,
    demand,
    closed: isDone,
  };
};
