import {
  type GuideOpening,
  type GuideState,
  guideOf,
  NOTHING_LIVE,
  newWalk,
  type Precaution,
  walkOn,
} from '../guide/index.ts';
import { ENGINE, type Stimulus } from '../judge/index.ts';
import {
  formatUtc,
  type Instant,
  later,
  type Micros,
  parseUtc,
  type Reason,
  SECOND,
} from '../measure/index.ts';
import { readLog } from '../store/index.ts';
import { onTheWay } from './guiding.ts';
import { type StoredWindow, storedWindow } from './replay.ts';

/** A guided window waits for so long: for the daemon to come back, and then for people. Common practice, no source. */
export const PATIENCE: Micros = 1_800 * SECOND;

/** The newest instant that is known of a window, and the one from which on nothing is. */
const lastOf = ({ entries, answers }: StoredWindow): Instant => {
  const newest = parseUtc(entries.at(-1)?.utc ?? '') ?? (0 as Instant);
  return later(Math.max(newest, answers.at(-1)?.received ?? newest) as Instant, 0);
};

/** Nobody came back in time. */
export const TOO_LONG: Reason = { code: 'guide-too-long', params: { minutes: PATIENCE / (60 * SECOND) } };

/** Why it was interrupted where what was recorded is judged in another way now. */
export const NOT_THE_SAME: Reason = { code: 'guide-not-the-same', params: {} };

/** What is known of a window that a guided opening began; undefined: it was no guided one, or cannot be read. */
export const guidedWindow = (path: string, id: string): StoredWindow | undefined => {
  const reader = readLog(path);
  try {
    const entries = [...reader.entriesOf({ kind: 'book' }), ...reader.entriesOf({ window: id })];
    const stored = storedWindow(reader, entries, id);
    return stored?.opened.body['guided'] === true ? stored : undefined;
  } finally {
    reader.close();
  }
};

/** Why it cannot go on at `now` with this book; undefined: it can. `from`: since when nothing is known. */
export const resumingFault = (
  stored: StoredWindow,
  book: string,
  now: Instant,
): { readonly from: Instant; readonly why?: Reason } => {
  const from = lastOf(stored);
  if (stored.bookHash !== book) return { from, why: { code: 'guide-no-book', params: {} } };
  const same = Number(stored.opened.body['engine']) === ENGINE && stored.unreadable.length === 0;
  if (!same) return { from, why: NOT_THE_SAME };
  if (now <= from) return { from, why: { code: 'guide-clock-back', params: {} } };
  return now - from > PATIENCE ? { from, why: TOO_LONG } : { from };
};

type Body = Partial<Pick<GuideOpening, 'permit' | 'people' | 'precautions'>> & {
  readonly stimuli?: readonly Stimulus[];
};

/** What its opening said. */
export const guideOpeningOf = ({ id, opened, marks }: StoredWindow): GuideOpening => {
  const mark = marks.find(({ mark: one }) => one.code === 'window-opened')?.mark;
  const { stimuli = [], people = [], permit = '', precautions = [] } = opened.body as Body;
  return {
    window: id,
    opened: mark === undefined ? opened.utc : formatUtc(mark.at),
    stimuli,
    people,
    permit,
    precautions: precautions as readonly Precaution[],
  };
};

/** Where a guided window of the log stood when it ended. */
export const storedGuide = (stored: StoredWindow, end: Pick<GuideState, 'standing' | 'why'>): GuideState => {
  const opening = guideOpeningOf(stored);
  const walk = newWalk(opening.stimuli.flatMap(({ interlock }) => stored.book.interlocks[interlock] ?? []));
  for (const entry of stored.entries) for (const one of onTheWay(entry)) walkOn(walk, one);
  const verdicts = new Map(
    stored.findings.flatMap((one) => (one.kind === 'window' ? [[one.interlock, one.verdict] as const] : [])),
  );
  return guideOf(stored.book, opening, walk, { ...NOTHING_LIVE, verdicts }, end);
};
