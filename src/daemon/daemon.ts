import { dirname, join } from 'node:path';
import type {
  BookNow,
  EnteredBy,
  FindingTold,
  Now,
  PlanNow,
  PlanTold,
  Reviewed,
  ReviewQuestion,
  StepAsked,
} from '../api/index.ts';
import { type FieldEvent, type OpenSource, openModbus, openOpcUa } from '../field/index.ts';
import { type GuideState, openingFault, type Precaution } from '../guide/index.ts';
import { ENGINE, type Finding, type Mark, type Stimulus } from '../judge/index.ts';
import {
  columnsOf,
  type Filling,
  formatUtc,
  type Instant,
  newReadings,
  parseUtc,
  SECOND,
  type SignalId,
} from '../measure/index.ts';
import { peopleFault } from '../record/index.ts';
import { type Book, needs, readPlan } from '../rulebook/index.ts';
import { type Answer, createDecoder, textsIn } from '../signal/index.ts';
import { passwordsOf, sessionsBeside } from '../store/index.ts';
import { text as sentenceOf } from '../words/index.ts';
import { createAccounts } from './access/accounts.ts';
import { createSessions, type Sessions } from './access/sessions.ts';
import { createClocks } from './clocks.ts';
import { createContradictions } from './contradictions.ts';
import { decline } from './decline.ts';
import { createDesk, type Desk } from './desk/desk.ts';
import { createLookout } from './desk/thread.ts';
import { createFieldEvents } from './field-events.ts';
import { createGuided } from './guided.ts';
import { DAEMON } from './guiding.ts';
import { createLatest } from './latest.ts';
import { interruptGuided } from './left-open.ts';
import { createLive, type Live } from './live/live.ts';
import { nowOf } from './now.ts';
import { createAnswerTimes, plansNow, plansTold } from './planning.ts';
import { type DaemonOptions, prepare } from './preparing.ts';
import { createRecent } from './recent.ts';
import { guideOpeningOf, NOT_THE_SAME } from './resuming.ts';
import { createReviewer } from './review/reviewer.ts';
import { createRevisions, revisionShown, revisionText } from './revisions.ts';
import { bookShown } from './shown/book.ts';
import { VERSION } from './version.ts';
import { createWatch, reachOf } from './watch.ts';
import { NotTheSame, openWindow, type Resumption, type WindowOpening, type WindowRun } from './window-run.ts';

export interface OpenRequest {
  readonly stimuli: readonly Stimulus[];
  readonly people: readonly { readonly name: string; readonly role: string }[];
  readonly note: string;
  /** Revision as typed in, by machine name. */
  readonly revisions: Readonly<Record<string, string>>;
  /** Undefined: the first of the people. */
  readonly by?: EnteredBy | undefined;
  /** People are led through it. */
  readonly guided?: { readonly permit: string; readonly precautions: readonly Precaution[] };
}

/** The running daemon: what `web` and `cli` may ask of it. */
export interface Daemon {
  readonly book: Book;
  /** Version of the program. */
  readonly tool: string;
  readonly desk: Desk;
  /** Readings as they come, for whoever follows them. */
  readonly live: Live;
  readonly sessions: Sessions;
  now(): Now;
  /** What the site is made of, with levels as they are known now. */
  bookNow(): BookNow;
  /** What stands in the log; undefined: there is no such window, or no book yet. */
  review(question: ReviewQuestion): Promise<Reviewed | undefined>;
  open(request: OpenRequest): Promise<WindowRun>;
  /** What the planner says of these interlocks, from all that has been read so far. */
  plan(interlocks: readonly number[]): readonly PlanTold[];
  /** The same by method, with what each can prove. */
  plans(stimuli: readonly Stimulus[]): readonly PlanNow[];
  window(id: string): WindowRun | undefined;
  mark(id: string, mark: (at: Instant) => Mark, by: EnteredBy): Promise<number>;
  close(id: string, by: EnteredBy): Promise<WindowRun>;
  /** Where a guided window stands; undefined: this daemon has no such window. Declines where it is not guided. */
  guide(id: string): GuideState | undefined;
  /** Takes a step of a guided window once it is on the disk; declines what does not fit. */
  step(id: string, asked: StepAsked, by: EnteredBy): Promise<GuideState>;
  /** Where the guided window stands, whenever that has changed, four times a second at most; returns how to stop. */
  follow(ear: (state: GuideState) => void): () => void;
  /** Findings as they come; returns how to stop listening. */
  listen(ear: (told: FindingTold & { readonly window: string }) => void): () => void;
  stop(reason: string): Promise<void>;
}

/** A demand's record is closed when nothing has moved for this long, or after the longest time. */
const DEMAND_QUIET = 10 * SECOND;
const DEMAND_LONGEST = 600 * SECOND;

/** Windows and records that `window` still shows; older ones stand in the log. */
const WINDOWS_KEPT = 20;

/** Starts polling, watching and entering. Rejects where the log cannot be used. */
export const runDaemon = async (options: DaemonOptions): Promise<Daemon> => {
  const { book, tell } = options;
  const { clock, logbook, hash, beginning, left, log, persons } = await prepare(options);
  const accounts = createAccounts(persons);
  const wishes = needs(book);
  const plan = readPlan(book, wishes);
  const decoder = createDecoder(book.signals, book.sources, plan);
  const latest = createLatest(book.signals.length);
  const fresh: Filling = newReadings(0);
  const windows = new Map<string, WindowRun>();
  const ears = new Set<(told: FindingTold & { readonly window: string }) => void>();
  const reach = reachOf(book);
  const earlier = beginning.normals;
  const times = createAnswerTimes(book.sources.length);
  const contradictions = createContradictions(book);
  const recent = createRecent(reach);
  const live = createLive(book, latest, { nowMs: () => performance.now(), utc: () => clock.now() });
  let current: WindowRun | undefined;
  let quietSince = clock.now();

  const hear = (told: FindingTold & { readonly window: string }): void => {
    for (const ear of ears) ear(told);
  };

  /** A contradiction is told at once to whoever reads the log, and to the page; undefined where it was told already. */
  const warn = (finding: Finding & { kind: 'contradiction' }, window: string): string | undefined => {
    const told = contradictions.take(finding, window);
    if (told === undefined) return undefined;
    const { machine, interlock, dangerous } = told;
    tell(dangerous ? 'error' : 'warn', told.text, { dangerous, machine, interlock, window });
    return told.text;
  };

  /** A demand is not looked for by anybody: what came of it is told in the log of the run. */
  const tellDemand = ({ interlock, finding, text: said }: FindingTold, window: string): void => {
    if (finding.kind !== 'window') return;
    tell(finding.verdict.outcome === 'fail' ? 'error' : 'warn', `demand on ${interlock}: ${said}`, {
      window,
    });
  };

  /** What a test window needs is read as fast as its source allows; nothing in it slows down the rest. */
  const focus = (stimuli: readonly Stimulus[] | undefined): void => {
    const wanted = stimuli?.flatMap(({ interlock }) => wishes.together[interlock] ?? []);
    for (const source of sources) source.focus(wanted);
  };

  const begin = (
    stimuli: readonly Stimulus[],
    by: EnteredBy,
    about: Readonly<Record<string, unknown>>,
    way?: WindowOpening['guided'],
  ): WindowRun => {
    const at = clock.now();
    const kind = stimuli.length === 0 ? 'd' : 'w';
    const id = `${kind}${formatUtc(at).replaceAll(/[-:]/g, '').slice(0, 15)}-${String(Math.floor(at / 1_000) % 1_000).padStart(3, '0')}`;
    const before = recent.since(at - reach);
    const all = { book: hash, engine: ENGINE, tool: VERSION, ...about };
    return record({ id, at, stimuli, by, about: all, before, times, ...(way && { guided: way }) });
  };

  /** Judges and enters from now on what is read for a window that was opened, or goes on. */
  const record = (opening: WindowOpening, resumption?: Resumption): WindowRun => {
    const { id } = opening;
    const demand = opening.stimuli.length === 0;
    const onTold = (told: FindingTold): void => {
      if (told.finding.kind === 'contradiction') warn(told.finding, id);
      if (demand) tellDemand(told, id);
      hear({ ...told, window: id });
    };
    const run = openWindow(book, logbook, opening, onTold, resumption);
    windows.set(id, run);
    const [oldest] = windows.keys();
    if (windows.size > WINDOWS_KEPT && oldest !== undefined) windows.delete(oldest);
    current = run;
    return run;
  };

  const endDemand = (): void => {
    if (current?.demand !== true) return;
    current.close(clock.now(), DAEMON);
    tell('info', `the record of a demand is closed: ${current.id}`);
    current = undefined;
  };

  /** Keeps a real trip from its beginning to its end, as a window that nobody opened. */
  const followDemand = (now: number): void => {
    if (current?.demand !== true) return;
    if (current.trials() > 0) quietSince = clock.now();
    if (now - quietSince > DEMAND_QUIET || now - current.opened > DEMAND_LONGEST) endDemand();
  };

  const watch = createWatch(book, {
    demand() {
      if (current !== undefined) return;
      quietSince = clock.now();
      const run = begin([], DAEMON, { demand: true });
      tell('warn', `a cause moves outside of any test window: recorded as a demand, ${run.id}`);
    },
    contradiction(finding) {
      // An open window tells its own, from the same readings and with what people recorded. What is dangerous and not
      // seen there is told all the same.
      if (current !== undefined && !finding.dangerous) return;
      const sentence = warn(finding, '');
      if (sentence === undefined) return;
      const machine = book.machines[finding.machine]?.name ?? '';
      const entry = logbook.enter('contradiction', machine, 'daemon', { finding });
      const interlock = book.interlocks[finding.interlock]?.name ?? '';
      const aside = !finding.dangerous;
      hear({ index: entry, interlock, finding, text: sentence, aside, window: '' });
    },
    derived(row) {
      const one = columnsOf([row]);
      latest.take(one);
      live.take(one);
    },
  });

  const texts = new Map<SignalId, string>();
  const running = createRevisions(book, beginning.revisions, latest, texts, {
    enter: (machine, body) => logbook.enter('revision', machine, 'daemon', body),
    tell,
  });
  const fieldEvents = createFieldEvents(book);
  const clocks = createClocks(clock, {
    enter: (kind, subject, body) => logbook.enter(kind, subject, 'daemon', body),
    tell,
    mark: (mark) => current?.mark(mark, DAEMON),
  });

  const onAnswer = (answer: Answer): void => {
    fresh.length = 0;
    decoder.decode(answer, fresh);
    latest.take(fresh);
    live.take(fresh);
    for (const [signal, text] of textsIn(book.signals, plan, answer)) texts.set(signal, text);
    running.take(fresh);
    times.take(answer);
    current?.answer(answer, fresh);
    guided.read();
    recent.take(answer);
    watch.answer(answer);
    const known = answer.kind === 'clock' ? decoder.clock(answer.source) : undefined;
    if (known !== undefined) clocks.source(book.sources[answer.source]?.name ?? '', known);
    followDemand(answer.received);
  };
  const onEvent = (event: FieldEvent): void => {
    const source = book.sources[event.source]?.name ?? '';
    const said = fieldEvents(event);
    logbook.enter(said.kind, source, 'daemon', event);
    tell(said.level, said.text, { ...event.params, source, affected: said.affected });
  };
  const sink = { answer: onAnswer, event: onEvent };
  logbook.before(() => current?.enter());
  const pki = join(dirname(options.log), 'pki');
  const modbus = openModbus(book.sources, plan, book.signals, sink, clock);
  const sources: OpenSource[] = book.sources.flatMap((source, index): OpenSource[] => {
    const open = modbus.get(index);
    if (open !== undefined) return [open];
    if (source.protocol === 'opc-ua')
      return [openOpcUa(source, index, book.signals, sink, clock, { pki, secret: options.secret })];
    return [];
  });

  const guided = createGuided(book, {
    now: clock.now,
    settled: logbook.settled,
    current: () => current,
    window: (id) => windows.get(id),
    lost: left.guides,
    revisionOf: (machine) => revisionShown(machine, latest, texts),
    abandon(why) {
      current?.interrupt(why);
      tell('warn', `window ${current?.id ?? ''} is interrupted: ${sentenceOf(why)}`);
      current = undefined;
      focus(undefined);
    },
  });

  /** A guided window that the last run of the daemon left open goes on, behind a time that nobody saw. */
  const resume = ({ stored, from }: Omit<Resumption, 'at'>): void => {
    const { window: id, stimuli, ...way } = guideOpeningOf(stored);
    const opened = parseUtc(way.opened) ?? from;
    const opening = {
      id,
      at: opened,
      stimuli,
      by: { name: stored.opened.actor },
      about: {},
      before: [],
      times,
      guided: way,
    };
    try {
      record(opening, { stored, from, at: clock.now() });
    } catch (error) {
      if (!(error instanceof NotTheSame)) throw error;
      left.guides.set(id, interruptGuided(logbook, stored, NOT_THE_SAME));
      tell('warn', `window ${id} was open when the daemon ended: ${sentenceOf(NOT_THE_SAME)}`);
      return;
    }
    focus(stimuli);
    guided.resumed();
    tell('warn', `window ${id} goes on; nobody saw what happened since ${formatUtc(from)}`, { window: id });
  };
  if (left.resumable !== undefined) resume(left.resumable);

  // What happened before anything was read is of no use.
  clock.look();
  const timer = setInterval(() => {
    clocks.look();
    guided.tick();
  }, 250);

  const revisions = (typed: Readonly<Record<string, string>>): void => {
    for (const machine of book.machines) {
      const read = revisionShown(machine, latest, texts);
      const text = read ?? revisionText(typed[machine.name] ?? '');
      if (text === '') continue;
      const quality = read === undefined ? 'typed' : 'tag';
      if (quality === 'typed') running.typed(machine.name, text);
      current?.mark({ code: 'revision', at: clock.now(), machine: machine.index, text, quality }, DAEMON);
    }
  };

  const need = (id: string): WindowRun => {
    const found = windows.get(id);
    if (found === undefined || found.closed())
      return decline({ code: 'guide-not-open', params: { window: id } });
    return found;
  };

  const reviewer = createReviewer(options.log);
  const lookout = createLookout(options.log);
  const desk = createDesk({
    logbook,
    look: lookout.look,
    passwords: (identity) => passwordsOf(options.log, identity),
    utc: () => formatUtc(clock.now()),
    entered: (entry) => accounts.take(entry),
    atTheFile: false,
  });
  const sessions = createSessions({
    desk,
    accounts,
    logbook,
    kept: sessionsBeside(options.log, log),
    now: () => clock.now(),
  });
  const sessionTimer = setInterval(() => sessions.look(), 60_000);

  return {
    book,
    tool: VERSION,
    desk,
    live,
    review: (question) => reviewer.ask({ ...question, on: clock.now() }),
    bookNow: () =>
      bookShown(book, {
        hash,
        latest,
        known: watch.known(),
        revisionOf: (machine) => revisionShown(machine, latest, texts),
      }),
    sessions,
    now: () =>
      nowOf(book, clock.now(), latest, sources, current, {
        clock: clocks.own(),
        texts,
        clockOf: (source) => decoder.clock(source),
        contradictions: contradictions.newest(),
        demands: [...windows.values()]
          .filter(({ demand }) => demand)
          .map((run) => run.told())
          .reverse(),
      }),
    plan: (interlocks) => plansTold(book, interlocks, { ...watch.known(), answers: times.seconds() }),
    plans: (stimuli) => plansNow(book, stimuli, { ...watch.known(), answers: times.seconds() }),
    async open({ stimuli, people, note, revisions: typed, by, guided: wanted }) {
      const fault = peopleFault(people, book.records) ?? (wanted && openingFault({ ...wanted, people }));
      if (fault !== undefined) decline(fault);
      endDemand();
      if (current !== undefined) decline({ code: 'window-open-already', params: { window: current.id } });
      const about = { people, note, revisions: typed, ...(wanted && { guided: true, ...wanted }) };
      const way = wanted && { ...wanted, people };
      const run = begin(stimuli, by ?? { name: people[0]?.name ?? 'not stated' }, about, way);
      focus(stimuli);
      revisions(typed);
      const named = stimuli.map(({ interlock }) => interlock);
      for (const mark of earlier.marks(book, named, clock.now())) run.mark(mark, DAEMON);
      await logbook.settled();
      return run;
    },
    window: (id) => windows.get(id),
    async mark(id, mark, by) {
      need(id).mark(mark(clock.now()), by);
      guided.touched();
      await logbook.settled();
      return logbook.head().size;
    },
    async close(id, by) {
      const run = need(id);
      revisions({});
      run.close(clock.now(), by);
      current = undefined;
      focus(undefined);
      for (const { finding } of run.show(0).findings) earlier.take(book, run.id, finding);
      await logbook.settled();
      return run;
    },
    guide: guided.guide,
    step: guided.step,
    follow: guided.follow,
    listen(ear) {
      ears.add(ear);
      return () => ears.delete(ear);
    },
    async stop(reason) {
      clearInterval(timer);
      clearInterval(sessionTimer);
      sessions.stop();
      await Promise.all([reviewer.stop(), lookout.stop()]);
      await Promise.all(sources.map((source) => source.stop()));
      // A guided window goes on when the daemon comes back.
      if (current !== undefined && current.guide === undefined) {
        current.mark({ code: 'interrupted', at: clock.now(), from: clock.now() }, DAEMON);
        const entries = logbook.count(current.id);
        logbook.enter('window-interrupted', current.id, 'daemon', { why: reason, entries });
      }
      logbook.enter('daemon-stopped', '', 'daemon', { reason, clock: clocks.own() });
      await logbook.close();
    },
  };
};
