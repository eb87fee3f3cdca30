import type { DueNow, MatrixNow, Reviewed, ReviewQuestion } from '../../api/index.ts';
import type { Instant } from '../../measure/index.ts';
import { fingerprintOf } from '../../record/index.ts';
import { dueJson, dueList, type Known, knownAt, matrixJson, matrixOf } from '../../report/index.ts';
import { sha256 } from '../../store/index.ts';
import { storedWindow } from '../replay.ts';
import type { LogFacts } from '../reporting.ts';
import { createDecodedWindows, type DecodedWindows } from './decoded.ts';
import { createLogIndex, type LogIndex } from './log-index.ts';
import { recordOf } from './record.ts';
import { traceOf } from './trace.ts';
import { windowLines } from './windows.ts';

/** What is asked of a log at a time, in µs since 1970. */
export type Asked = ReviewQuestion & { readonly on: number };

/** Answers questions to one log; undefined: there is no such window, or no book yet. */
export interface Review {
  answer(question: Asked): Promise<Reviewed | undefined>;
}

/** Dates move on by themselves: what rests on them is made anew after so long. */
const FRESH = 60_000_000;
const MOST_KEPT = 64;

const encoder = new TextEncoder();

const factsOf = (index: LogIndex): LogFacts => {
  const last = index.reader.checkpoint();
  if (last === undefined) return {};
  const { log = '', ...checkpoint } = last;
  return { log, checkpoint: { ...checkpoint, fingerprint: fingerprintOf(sha256, { ...last, log }) } };
};

const recordIn = (index: LogIndex, id: string): unknown => {
  const found = index.window(id);
  if (found === undefined) return undefined;
  // Its answers are many, and nothing here is told from them.
  const own = found.own.filter(({ kind }) => kind !== 'trace');
  const stored = storedWindow(index.reader, [found.book, ...own], id);
  return stored && recordOf(stored, factsOf(index));
};

const knownIn = (index: LogIndex, on: number): Known | undefined => knownAt(index.history(), on as Instant);

/** Everything that is answered as JSON. */
const jsonOf = (index: LogIndex, windows: DecodedWindows, question: Asked): unknown => {
  switch (question.ask) {
    case 'windows':
      return windowLines(index);
    case 'record':
      return recordIn(index, question.window);
    case 'trace': {
      const decoded = windows.get(question.window);
      return decoded && traceOf(decoded, question);
    }
    case 'matrix': {
      const known = knownIn(index, question.on);
      return known && (matrixJson(matrixOf(known)) satisfies MatrixNow);
    }
    case 'due': {
      const known = knownIn(index, question.on);
      return known && (dueJson(dueList(known)) satisfies DueNow);
    }
    default:
      return undefined;
  }
};

const paperOf = async (
  path: string,
  { ask, window }: { readonly ask: 'page' | 'pdf'; readonly window: string },
): Promise<Uint8Array<ArrayBuffer> | undefined> => {
  if (ask === 'page') {
    const { pageOf } = await import('../paging.ts');
    return encoder.encode(pageOf(path, { windows: [window] }));
  }
  const [{ reportNamed }, { reportPdf }] = await Promise.all([
    import('../reporting.ts'),
    import('../../print/index.ts'),
  ]);
  const report = reportNamed(path, window);
  return report && new Uint8Array(await reportPdf(report, { paper: 'a4' }));
};

/** Opens the log at the first question. Throws a LogError where it cannot be read. */
export const createReview = (path: string): Review => {
  let opened: { readonly index: LogIndex; readonly windows: DecodedWindows } | undefined;
  /** Answers that hold until something is entered, or a minute goes by. */
  const kept = new Map<string, Reviewed>();
  const open = () => {
    if (opened === undefined) {
      const index = createLogIndex(path);
      opened = { index, windows: createDecodedWindows(index) };
    }
    return opened;
  };
  return {
    async answer(question) {
      const { index, windows } = open();
      const { on, ...key } = question;
      const dated = question.ask === 'matrix' || question.ask === 'due';
      const head = `${index.size()}${dated ? `-${Math.floor(on / FRESH)}` : ''}`;
      if (question.ask === 'page' || question.ask === 'pdf') {
        if (index.opening(question.window) === undefined) return undefined;
        const { ask, window } = question;
        const body = await paperOf(path, { ask, window });
        return body && { tag: head, body };
      }
      const named = JSON.stringify(key);
      const before = kept.get(named);
      if (before !== undefined && before.tag === head) return before;
      const value = jsonOf(index, windows, question);
      if (value === undefined) return undefined;
      const made = { tag: head, body: encoder.encode(JSON.stringify(value)) };
      // It is large, and quickly made from what is decoded.
      if (question.ask === 'trace') return made;
      kept.delete(named);
      kept.set(named, made);
      const [oldest] = kept.keys();
      if (kept.size > MOST_KEPT && oldest !== undefined) kept.delete(oldest);
      return made;
    },
  };
};
