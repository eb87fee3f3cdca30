import { readFileSync } from 'node:fs';
import {
  attemptsOf,
  type Bundle,
  bundleSource,
  type Entry,
  fingerprintOf,
  type LogSource,
} from '../record/index.ts';
import {
  attemptsUpTo,
  type BesideReport,
  historyOf,
  htmlPeriod,
  htmlReport,
  lastPassOf,
  type PageParts,
  type WindowReport,
} from '../report/index.ts';
import { readLog, sha256 } from '../store/index.ts';
import { bundleOf } from './bundling.ts';
import { storedWindow } from './replay.ts';
import { type LogFacts, reportOf } from './reporting.ts';
import { VERSION } from './version.ts';

const client = (name: string): string =>
  readFileSync(new URL(`../report/page/${name}.client.js`, import.meta.url), 'utf8');

let script: string | undefined;
/** Both scripts of a page, each in a block of its own. */
const pageScript = (): string => {
  script ??= `'use strict';\n{\n${client('checking')}}\n{\n${client('zoom')}}\n`;
  return script;
};

/** Windows on one page: one, or those of a period. */
export interface PageWish {
  readonly windows: readonly string[];
  /** What the page calls them, where they are those of a period. */
  readonly period?: string;
}

/** Where the windows come from, and what is told beside their entries. */
interface From {
  readonly source: LogSource;
  readonly entries: readonly Entry[];
  readonly bundle?: Bundle;
  readonly facts: LogFacts;
  readonly beside: BesideReport;
}

const factsIn = ({ log, checkpoint }: Bundle): LogFacts => ({
  log,
  checkpoint: { ...checkpoint, fingerprint: fingerprintOf(sha256, { ...checkpoint, log }) },
});

const made = ({ source, entries, bundle, facts, beside }: From, { windows, period }: PageWish): string => {
  const reports = windows.flatMap((id): WindowReport[] => {
    const stored = storedWindow(source, entries, id);
    const lastPass = beside.lastPass?.[id];
    const attempts = beside.attempts?.[id];
    const more = { ...(lastPass && { lastPass }), ...(attempts && { attempts }) };
    return stored ? [reportOf(stored, { ...facts, ...more })] : [];
  });
  const [only] = reports;
  const parts: PageParts = { hash: sha256, script: pageScript(), ...(bundle && { bundle }), beside };
  if (period !== undefined) return htmlPeriod(reports, period, parts);
  if (only === undefined) throw new RangeError(`there is no window ${windows.join(', ')}`);
  return htmlReport(only, parts);
};

/**
 * The page of some windows of a log, with its evidence where the log is signed. Throws a RangeError where there is no such
 * window.
 */
export const pageOf = (path: string, wish: PageWish): string => {
  const reader = readLog(path);
  try {
    const entries = reader.parsed();
    const bundle = bundleOf(reader, entries, wish.windows);
    const history = historyOf(entries);
    const attempts = attemptsOf(entries);
    const { log = '', ...checkpoint } = reader.checkpoint() ?? { size: 0, root: '' };
    const beside: BesideReport = {
      lastPass: Object.fromEntries(wish.windows.map((id) => [id, lastPassOf(history, id)])),
      attempts: Object.fromEntries(wish.windows.map((id) => [id, attemptsUpTo(attempts, id)])),
      ...(wish.period !== undefined && { period: wish.period }),
      made: VERSION,
    };
    const facts = bundle === undefined ? { log, checkpoint } : factsIn(bundle);
    return made({ source: reader, entries, ...(bundle && { bundle }), facts, beside }, wish);
  } finally {
    reader.close();
  }
};

/** A page made anew from the evidence that it carries; undefined where another version of the program made it. */
export const pageAgain = (
  bundle: Bundle,
  entries: readonly Entry[],
  beside: BesideReport,
): string | undefined => {
  if (beside.made !== VERSION) return undefined;
  const source = bundleSource(sha256, bundle);
  const { windows } = bundle;
  const wish = { windows, ...(beside.period !== undefined && { period: beside.period }) };
  return made({ source, entries, bundle, facts: factsIn(bundle), beside }, wish);
};
