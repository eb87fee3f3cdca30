import {
  type Finding,
  type Mark,
  newestOf,
  openTrials,
  type State,
  start,
  step,
  verdictsNow,
  waitsNow,
} from '../judge/index.ts';
import {
  type Filling,
  type Interval,
  instant,
  type Micros,
  newReadings,
  partOf,
  type Reading,
  type Readings,
  SECOND,
} from '../measure/index.ts';
import { type Book, type Known, readPlan, tagsOf } from '../rulebook/index.ts';
import { type Answer, type ClockKnown, createDecoder, createMerge, type Source } from '../signal/index.ts';

/**
 * Answers and marks to findings: decode, merge, judge. A function of the sequence it is given and of nothing else,
 * so that the live run and `recheck` cannot differ.
 */
export interface Pipeline {
  answer(answer: Answer): readonly Finding[];
  /** Takes its turn among the readings; the closing of a window, and a restart, end the waiting for slower sources. */
  mark(mark: Mark): readonly Finding[];
  /** What each interlock of the open window waits for. */
  waits(): ReturnType<typeof waitsNow>;
  /** What the window would say now of those that have trials. */
  verdicts(): ReturnType<typeof verdictsNow>;
  /** Trials that run now, of interlocks under test or not. */
  trials(): number;
  /** Normals that percentages refer to, and what the tags hold that levels refer to, as far as they are known now. */
  known(): Pick<Known, 'normals' | 'tags'>;
}

/** Sees the readings on their way: as they were read, and apart from them those that were worked out. */
export interface Observer {
  /** To be used at once: they are written over. */
  readonly read?: (rows: Readings) => void;
  readonly derived?: (row: Reading) => void;
}

/** Its times are those of its clock. */
const restsOnClock = (source: Source | undefined): boolean =>
  source?.protocol === 'opc-ua' && (source.clockBound !== undefined || source.sourceClock !== undefined);

const NONE = newReadings(0);

/** What an answering source waits for a silent one, or as long as that one may take. */
const SILENCE: Micros = 3 * SECOND;

/**
 * `fromOpening`: what the answers before the window's opening lead to is known to whoever watched then, and not told.
 * `unjudged`: readings are shown to the observer as the judge would have them, and nothing is judged or worked out.
 */
export const createPipeline = (
  book: Book,
  observer: Observer = {},
  {
    fromOpening = false,
    unjudged = false,
  }: { readonly fromOpening?: boolean; readonly unjudged?: boolean } = {},
): Pipeline => {
  const plan = readPlan(book);
  const state: State = start(book);
  let decoder = createDecoder(book.signals, book.sources, plan);
  let lags = book.sources.map((_, source) => decoder.lag(source));
  let merge = createMerge(lags);
  const fresh: Filling = newReadings(0);
  let held: Mark[] = [];

  /** What was counted, granted and known of clocks goes with whoever read it. */
  const renew = (): void => {
    decoder = createDecoder(book.signals, book.sources, plan);
    lags = book.sources.map((_, source) => decoder.lag(source));
    merge = createMerge(lags);
  };

  const derived = book.signals.flatMap(({ id, address }) => (address.kind === 'derived' ? [id] : []));
  const told = new Map<number, number>();
  const tellDerived = (tell: (row: Reading) => void): void => {
    for (const id of derived) {
      const row = newestOf(state, id);
      if (row === undefined || told.get(id) === row.at.latest) continue;
      told.set(id, row.at.latest);
      tell(row);
    }
  };

  const tags = [...new Set(book.interlocks.flatMap(tagsOf))];
  const known = (): Pick<Known, 'normals' | 'tags'> => {
    const normals: Record<number, Interval> = {};
    for (const { normal, references } of state.normals)
      if (references.normal !== undefined) normals[normal.signal] = references.normal;
    const values: Record<number, Interval> = {};
    for (const tag of tags) {
      const value = newestOf(state, tag)?.value;
      if (value !== undefined) values[tag] = value;
    }
    return { normals, tags: values };
  };

  let telling = !fromOpening;
  const take = (mark: Mark): readonly Finding[] => {
    if (unjudged) return [];
    const found = step(state, { mark });
    const before = telling;
    telling ||= mark.code === 'window-opened';
    return before ? found : [];
  };

  /** The first row from `from` on that is later than an instant; the number of rows where none is. */
  const firstBehind = (rows: Readings, from: number, at: number): number => {
    let index = from;
    while (index < rows.length && (rows.latest[index] ?? 0) <= at) index += 1;
    return index;
  };

  const judge = (rows: Readings): Finding[] => {
    const findings: Finding[] = [];
    const feed = (first: number, behind: number): void => {
      if (first === behind) return;
      const part = first === 0 && behind === rows.length ? rows : partOf(rows, first, behind);
      observer.read?.(part);
      if (unjudged) return;
      const found = step(state, { readings: part });
      if (telling) findings.push(...found);
      if (observer.derived !== undefined) tellDerived(observer.derived);
    };
    let from = 0;
    for (const mark of held) {
      const next = firstBehind(rows, from, mark.at);
      if (next === rows.length && merge.watermark() < mark.at) break;
      feed(from, next);
      from = next;
      findings.push(...take(mark));
      held = held.slice(1);
    }
    feed(from, rows.length);
    // Nothing more of this instant can come: a finding need not wait for the next.
    const until = merge.watermark();
    if (Number.isFinite(until) && !unjudged) {
      const found = step(state, { until: instant(until) });
      if (telling) findings.push(...found);
    }
    return findings;
  };

  /** What a server has granted changes how long it is waited for; a clock that was set is a mark of its own. */
  const heed = (answer: Answer & { kind: 'terms' | 'clock' }, before: ClockKnown | undefined): void => {
    const { source, received } = answer;
    const lag = decoder.lag(source);
    lags[source] = lag;
    if (lag !== undefined) merge.wait(source, lag);
    const clock = decoder.clock(source);
    if (clock === undefined || before === undefined || clock.steps === before.steps) return;
    if (!restsOnClock(book.sources[source])) return;
    const since = before.last;
    held = [...held, { code: 'clock-stepped', at: received, by: clock.stepped, source, since }];
  };

  return {
    answer(answer) {
      const now = answer.received;
      const clock = answer.kind === 'clock' ? decoder.clock(answer.source) : undefined;
      fresh.length = 0;
      decoder.decode(answer, fresh);
      if (answer.kind === 'terms' || answer.kind === 'clock') heed(answer, clock);
      merge.push(answer.source, fresh, now);
      // A source that says nothing at all must not hold back the others for ever.
      lags.forEach((lag, source) => {
        if (lag !== undefined) merge.push(source, NONE, now - Math.max(SILENCE, lag));
      });
      return judge(merge.release());
    },
    mark(mark) {
      const restarted = mark.code === 'interrupted' && mark.restarted === true;
      if (mark.code !== 'window-closed' && !restarted) {
        held = [...held, mark];
        return judge(merge.release());
      }
      const last = judge(merge.flush());
      const rest = held.flatMap(take);
      held = [];
      const own = take(mark);
      if (restarted) renew();
      return [...last, ...rest, ...own];
    },
    waits: () => waitsNow(state),
    verdicts: () => verdictsNow(state),
    trials: () => openTrials(state),
    known,
  };
};
