import type { Finding, Stimulus, WindowVerdict } from '../judge/index.ts';
import { type Instant, parseUtc, SECOND } from '../measure/index.ts';
import { attemptsOf, fingerprintOf } from '../record/index.ts';
import {
  type AttemptsReport,
  attemptsUpTo,
  interruptedVerdict,
  lastPassOf,
  type WindowReport,
} from '../report/index.ts';
import { readLog, sha256 } from '../store/index.ts';
import { historyFrom } from './history.ts';
import { notesOf, openingOf, papersOf } from './papers.ts';
import { type StoredWindow, storedWindow } from './replay.ts';
import { tracesOf } from './traces.ts';

/** What a log says of itself, for the foot of a report. */
export interface LogFacts {
  readonly log?: string;
  readonly lastPass?: NonNullable<WindowReport['lastPass']>;
  readonly attempts?: readonly AttemptsReport[];
  readonly checkpoint?: NonNullable<WindowReport['checkpoint']>;
}

/** Verdicts as entered; of a window that was interrupted, none can be more than inconclusive. */
export const verdictsOf = (
  findings: readonly Finding[],
  stimuli: readonly Stimulus[],
): Map<number, WindowVerdict> => {
  const verdicts = new Map<number, WindowVerdict>(
    stimuli.map((one) => [one.interlock, interruptedVerdict()]),
  );
  for (const finding of findings)
    if (finding.kind === 'window') verdicts.set(finding.interlock, finding.verdict);
  return verdicts;
};

const middle = (values: readonly number[]): number => values[Math.floor(values.length / 2)] ?? 0;

const pollingOf = (stored: StoredWindow): WindowReport['polling'] =>
  stored.book.sources.flatMap((source, index) => {
    const own = stored.answers.filter((answer) => answer.source === index);
    const first = firstRequest(own);
    const good = own.filter((answer) => answer.kind === 'words' && answer.request === first);
    const times = (good.length > 1 ? good : own.filter((answer) => answer.kind === 'items')).map(
      (answer) => answer.received,
    );
    const gaps = times.slice(1).map((time, at) => (time - (times[at] ?? time)) / SECOND);
    const sorted = gaps.filter((gap) => gap > 0).sort((a, b) => a - b);
    if (sorted.length === 0) return [];
    const lost = own.filter((answer) => answer.kind === 'nothing').length;
    return [
      { source: source.name, least: sorted[0] ?? 0, median: middle(sorted), most: sorted.at(-1) ?? 0, lost },
    ];
  });

const firstRequest = (answers: StoredWindow['answers']): number =>
  answers.flatMap((answer) => (answer.kind === 'words' ? [answer.request] : []))[0] ?? 0;

const revisionsOf = (stored: StoredWindow): WindowReport['revisions'] =>
  stored.book.machines.flatMap((machine) => {
    const own = stored.marks.flatMap(({ mark }) =>
      mark.code === 'revision' && mark.machine === machine.index ? [mark] : [],
    );
    const [first] = own;
    const last = own.at(-1);
    if (first === undefined || last === undefined) return [];
    return [
      {
        machine: machine.name,
        opened: first.text,
        ...(own.length > 1 && { closed: last.text }),
        quality: first.quality,
        ...(last.quality !== first.quality && { closedQuality: last.quality }),
      },
    ];
  });

const standingOf = (stored: StoredWindow): WindowReport['standing'] => {
  if (stored.closed !== undefined) return 'closed';
  return stored.interrupted === undefined ? 'open' : 'interrupted';
};

/** Contradictions that were told in the window, each once. */
const contradictionsOf = (stored: StoredWindow, zero: Instant): NonNullable<WindowReport['contradictions']> =>
  stored.findings.flatMap((finding) =>
    finding.kind === 'contradiction'
      ? [{ at: (finding.at - zero) / SECOND, dangerous: finding.dangerous, reason: finding.reason }]
      : [],
  );

/** Everything that a report of a stored window shows. */
export const reportOf = (stored: StoredWindow, facts: LogFacts): WindowReport => {
  const opening = stored.marks.find(({ mark }) => mark.code === 'window-opened')?.mark;
  const stimuli = opening?.code === 'window-opened' ? opening.stimuli : [];
  const opened = opening?.at ?? parseUtc(stored.opened.utc) ?? (0 as Instant);
  const closed = stored.marks.find(({ mark }) => mark.code === 'window-closed')?.mark.at;
  const verdicts = verdictsOf(stored.findings, stimuli);
  const traces = tracesOf(stored, verdicts, opened);
  return {
    version: 1,
    window: stored.id,
    opened,
    ...(closed !== undefined && { closed }),
    standing: standingOf(stored),
    revisions: revisionsOf(stored),
    polling: pollingOf(stored),
    notes: notesOf(stored, opened),
    book: stored.book,
    bookHash: stored.bookHash,
    engine: Number(stored.opened.body['engine']),
    toolVersion: String(stored.opened.body['tool']),
    ...facts,
    ...(stimuli.length === 0 && { demand: true }),
    contradictions: contradictionsOf(stored, opened),
    interlocks: stored.book.interlocks.flatMap((found) => {
      const verdict = verdicts.get(found.id);
      if (verdict === undefined) return [];
      const method = stimuli.find(({ interlock }) => interlock === found.id)?.method ?? 'unstated';
      return [{ interlock: found.id, method, verdict, traces: traces(found, verdict) }];
    }),
    ...openingOf(stored),
    papers: papersOf(stored.entries, stored.book),
  };
};

/** Identity of the log and its newest checkpoint, with what of it goes on paper; when interlocks passed before. */
const factsOf = (path: string, window: string): LogFacts => {
  const reader = readLog(path);
  const last = reader.checkpoint();
  // What names the interlocks comes before what was found of them.
  const found = (['book', 'window-opened', 'finding'] as const).flatMap((kind) => reader.entriesOf({ kind }));
  const attempts = attemptsUpTo(attemptsOf(found), window);
  reader.close();
  if (last === undefined) return {};
  const { log = '', ...checkpoint } = last;
  return {
    log,
    checkpoint: { ...checkpoint, fingerprint: fingerprintOf(sha256, { ...last, log }) },
    lastPass: lastPassOf(historyFrom(path), window),
    attempts,
  };
};

/** The report of a stored window, with the identity and the newest checkpoint of the log file that it came from. */
export const reportFrom = (path: string, stored: StoredWindow): WindowReport =>
  reportOf(stored, factsOf(path, stored.id));

/** The report of the window of that name; undefined where the log has none. */
export const reportNamed = (path: string, id: string): WindowReport | undefined => {
  const reader = readLog(path);
  const stored = storedWindow(reader, reader.parsed(), id);
  reader.close();
  return stored && reportFrom(path, stored);
};
