import { type Fault, faultText, readMarks, readTrace } from '../config/index.ts';
import {
  type Finding,
  type Mark,
  type Stimulus,
  start,
  step,
  type TrialVerdict,
  type WindowVerdict,
} from '../judge/index.ts';
import { exitCodeOf, type Instant, instant, partOf, type Readings, type Reason } from '../measure/index.ts';
import type { Book } from '../rulebook/index.ts';
import { text } from '../words/index.ts';
import { chosenInterlocks } from './chosen.ts';
import { EXIT, json, out, refuseFaults, Stop, say } from './io.ts';
import { methodsOf } from './methods.ts';
import { loadBook, readText } from './site.ts';

export interface JudgeOptions {
  readonly json: boolean;
  readonly marks?: string;
  readonly interlock: readonly string[];
  readonly method: readonly string[];
  readonly ignoreUnknown: boolean;
  readonly scenario?: readonly string[];
}

const stimuliOf = (book: Book, names: readonly string[], methods: readonly string[]): readonly Stimulus[] => {
  const methodOf = methodsOf(methods);
  return chosenInterlocks(book, names).map((one) => ({ interlock: one.id, method: methodOf(one.name) }));
};

/** The whole trace is one window, unless the marks open and close one. */
const judgeTrace = (
  book: Book,
  readings: Readings,
  stimuli: readonly Stimulus[],
  marks: readonly Mark[],
): Finding[] => {
  const state = start(book);
  const begins = instant((readings.earliest[0] ?? 0) - 1);
  const ends = instant((readings.latest.at(-1) ?? 0) + 1);
  const opens = marks.some((mark) => mark.code === 'window-opened');
  const closes = marks.some((mark) => mark.code === 'window-closed');
  const all: Mark[] = [
    ...(opens ? [] : [{ code: 'window-opened' as const, at: begins, window: 'trace', stimuli }]),
    ...marks,
    ...(closes ? [] : [{ code: 'window-closed' as const, at: ends }]),
  ];
  const findings: Finding[] = [];
  let from = 0;
  const feed = (until: Instant): void => {
    let end = from;
    while (end < readings.length && (readings.latest[end] ?? 0) <= until) end += 1;
    if (end > from) findings.push(...step(state, { readings: partOf(readings, from, end) }));
    from = end;
  };
  for (const mark of all) {
    feed(mark.at);
    findings.push(...step(state, { mark }));
  }
  return findings;
};

interface Told {
  readonly code: string;
  readonly params: Reason['params'];
  readonly text: string;
}

const tellReason = (reason: Reason, unit: string): Told => ({ ...reason, text: text(reason, { unit }) });

const figures = (verdict: WindowVerdict | TrialVerdict, unit: string) => ({
  ...(verdict.tripPoint && { tripPoint: { low: verdict.tripPoint.low, high: verdict.tripPoint.high, unit } }),
  ...(verdict.tripPercent && {
    tripPercentOfNormal: { low: verdict.tripPercent.low, high: verdict.tripPercent.high, unit: '%' },
  }),
  ...(verdict.response && {
    response: { low: verdict.response.low, high: verdict.response.high, unit: 's' },
  }),
  ...(verdict.delay && { delay: { low: verdict.delay.low, high: verdict.delay.high, unit: 's' } }),
  ...(verdict.normal && { normal: { low: verdict.normal.low, high: verdict.normal.high, unit } }),
  aspects: verdict.aspects.map((one) => ({
    name: one.name,
    verdict: one.outcome,
    ...tellReason(one.reason, unit),
  })),
  proved: verdict.proved,
});

/** One interlock of the answer, for programs. */
const tellVerdict = (book: Book, id: number, verdict: WindowVerdict) => {
  const interlock = book.interlocks[id];
  const unit = book.signals[interlock?.cause.signal ?? -1]?.unit ?? '';
  return {
    interlock: interlock?.name ?? '',
    verdict: verdict.outcome,
    reasons: verdict.reasons.map((reason) => tellReason(reason, unit)),
    trial: verdict.trial,
    ...(verdict.asFound && { asFound: verdict.asFound }),
    ...(verdict.asLeft && { asLeft: verdict.asLeft }),
    ...figures(verdict, unit),
    trials: verdict.trials.map((trial) => ({
      trial: trial.trial,
      verdict: trial.outcome,
      method: trial.method,
      standing: trial.standing,
      asFound: trial.asFound,
      reasons: trial.reasons.map((reason) => tellReason(reason, unit)),
      ...figures(trial, unit),
    })),
  };
};

const warn = (warnings: readonly Fault[]): void => {
  // What a machine does not have is told by check; it is no news of a trace.
  for (const warning of warnings) if (warning.code !== 'left-out') say(`warning: ${faultText(warning)}`);
};

/** Judges a recorded trace. The same files give the same bytes. */
const judgeCommand = async (site: string, trace: string, options: JudgeOptions): Promise<number> => {
  const { book } = await loadBook(site, options.json);
  const read = readTrace(await readText(trace), book, { file: trace, ignoreUnknown: options.ignoreUnknown });
  if ('faults' in read) return refuseFaults(read.faults, options.json);
  warn(read.warnings);
  const marks =
    options.marks === undefined
      ? { marks: [] }
      : readMarks(await readText(options.marks), book, options.marks);
  if ('faults' in marks) return refuseFaults(marks.faults, options.json);
  const stimuli = stimuliOf(book, options.interlock, options.method);
  const findings = judgeTrace(book, read.readings, stimuli, marks.marks);
  const verdicts = findings.flatMap((one) => (one.kind === 'window' ? [one] : []));
  const exit = exitCodeOf(verdicts.map((one) => one.verdict.outcome));
  if (options.json) {
    json({
      site: book.site,
      exit,
      interlocks: verdicts.map((one) => tellVerdict(book, one.interlock, one.verdict)),
    });
    return exit;
  }
  const { terminalTable } = await import('../report/index.ts');
  const { traceReport } = await import('./trace-report.ts');
  out(
    terminalTable(traceReport(book, read.readings, stimuli, verdicts), {
      columns: 80,
      colour: process.stdout.isTTY,
    }),
  );
  return exit;
};

/** A trace of a site, or scenarios. */
export const judgeOrRehearse = async (
  site: string | undefined,
  trace: string | undefined,
  options: JudgeOptions,
): Promise<number> => {
  if (options.scenario !== undefined) {
    if (site !== undefined) throw new Stop('give a site and a trace, or --scenario', { exit: EXIT.usage });
    return (await import('./rehearse.ts')).rehearseCommand(options.scenario, options);
  }
  if (site === undefined || trace === undefined)
    throw new Stop('give a site and a trace, or --scenario FILE', { exit: EXIT.usage });
  return judgeCommand(site, trace, options);
};
