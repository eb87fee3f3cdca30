import type { Finding, TrialVerdict, Verdict, WindowVerdict } from '../judge/index.ts';
import type { Outcome, Reason } from '../measure/index.ts';
import type { Book, InterlockId } from '../rulebook/index.ts';
import type { Expectation, Scenario } from './types.ts';

/** Something that came out otherwise than the scenario says. `line` is that of the expectation. */
export interface Difference {
  readonly line: number;
  readonly reason: Reason;
  /** Why the verdict is what it is, in the judge's own words; empty where no verdict came. */
  readonly because: readonly Reason[];
  /** Unit of the cause, for the texts. */
  readonly unit: string;
}

interface Desk {
  readonly book: Book;
  readonly findings: readonly Finding[];
}

const nameOf = (desk: Desk, id: InterlockId): string => desk.book.interlocks[id]?.name ?? '';

/** Verdicts of the window if it was judged; else of what came outside one. */
const verdictOf = (desk: Desk, id: InterlockId, trial: number): Verdict | undefined => {
  const all = desk.findings.filter((one) => one.interlock === id);
  const window = all.findLast((one) => one.kind === 'window');
  if (trial === 0) {
    if (window !== undefined) return window.verdict;
    return all.findLast((one) => 'verdict' in one)?.verdict;
  }
  const trials: readonly TrialVerdict[] =
    window?.verdict.trials ?? all.flatMap((one) => (one.kind === 'trial' ? [one.verdict] : []));
  return trials.find((one) => one.trial === trial);
};

const windowOf = (desk: Desk, id: InterlockId): WindowVerdict | undefined => {
  const found = desk.findings.findLast((one) => one.interlock === id && one.kind === 'window');
  return found?.kind === 'window' ? found.verdict : undefined;
};

interface Came {
  readonly outcome: Outcome;
  readonly reasons: readonly Reason[];
}

const aspectOf = (verdict: Verdict, name: string): Came | undefined => {
  const all = verdict.aspects.filter((one) => one.name === name);
  const [first] = all;
  return first && { outcome: first.outcome, reasons: all.map((one) => one.reason) };
};

type Wanted<K extends Expectation['kind']> = Extract<Expectation, { kind: K }>;
type Said = { readonly reason: Reason; readonly because: readonly Reason[] } | undefined;

const said = (code: string, params: Reason['params'], because: readonly Reason[] = []): Said => ({
  reason: { code, params },
  because,
});

const ofVerdict = (desk: Desk, wanted: Wanted<'verdict'>): Said => {
  const { trial, aspect, outcome, codes } = wanted;
  const params = { interlock: nameOf(desk, wanted.interlock), trial, aspect, expected: outcome };
  const verdict = verdictOf(desk, wanted.interlock, trial);
  if (verdict === undefined) return said('rehearsal-no-verdict', params);
  const came: Came | undefined = aspect === '' ? verdict : aspectOf(verdict, aspect);
  if (came === undefined) {
    return said('rehearsal-no-aspect', { ...params, known: verdict.aspects.map((one) => one.name) });
  }
  if (came.outcome !== outcome) {
    return said('rehearsal-other-verdict', { ...params, came: came.outcome }, came.reasons);
  }
  const missing = codes.filter((code) => !came.reasons.some((reason) => reason.code === code));
  if (missing.length === 0) return undefined;
  return said('rehearsal-other-reason', { ...params, missing }, came.reasons);
};

const ofTrials = (desk: Desk, wanted: Wanted<'trials'>): Said => {
  const count = desk.findings.filter(
    (one) => one.interlock === wanted.interlock && one.kind === 'trial',
  ).length;
  const params = {
    interlock: nameOf(desk, wanted.interlock),
    expected: String(wanted.count),
    came: String(count),
  };
  return count === wanted.count ? undefined : said('rehearsal-other-trials', params);
};

const ofStanding = (desk: Desk, wanted: Wanted<'standing'>): Said => {
  const came = windowOf(desk, wanted.interlock)?.[wanted.of];
  if (came === wanted.outcome) return undefined;
  const of = wanted.of === 'asFound' ? 'as found' : 'as left';
  const params = { interlock: nameOf(desk, wanted.interlock), of, expected: wanted.outcome };
  return said('rehearsal-other-standing', { ...params, came: came ?? 'nothing' });
};

const ofProved = (desk: Desk, wanted: Wanted<'proved'>): Said => {
  const came = windowOf(desk, wanted.interlock)?.proved ?? [];
  const same = came.join() === wanted.segments.join();
  const params = { interlock: nameOf(desk, wanted.interlock), expected: wanted.segments, came };
  return same ? undefined : said('rehearsal-other-segments', params);
};

/** Codes that a finding tells, whatever its kind. */
const codesOf = (finding: Finding): readonly string[] => {
  if (finding.kind === 'waits') return finding.reasons.map((reason) => reason.code);
  return 'reason' in finding ? [finding.reason.code] : [];
};

const ofTold = (desk: Desk, wanted: Wanted<'told'>): Said => {
  const { interlock, code, never } = wanted;
  const own = desk.findings.filter((one) => interlock === undefined || one.interlock === interlock);
  const told = own.some((one) => codesOf(one).includes(code));
  if (told !== never) return undefined;
  const params = { interlock: interlock === undefined ? '' : nameOf(desk, interlock), expected: code };
  return said(never ? 'rehearsal-told' : 'rehearsal-not-told', params);
};

const saidOf = (desk: Desk, wanted: Expectation): Said => {
  switch (wanted.kind) {
    case 'verdict':
      return ofVerdict(desk, wanted);
    case 'trials':
      return ofTrials(desk, wanted);
    case 'standing':
      return ofStanding(desk, wanted);
    case 'proved':
      return ofProved(desk, wanted);
    case 'told':
      return ofTold(desk, wanted);
    default:
      return wanted satisfies never;
  }
};

const unitOf = (book: Book, wanted: Expectation): string => {
  const interlock = wanted.interlock === undefined ? undefined : book.interlocks[wanted.interlock];
  return book.signals[interlock?.cause.signal ?? -1]?.unit ?? '';
};

/** What came out otherwise than expected; empty: all as expected. */
export const differences = (scenario: Scenario, findings: readonly Finding[]): readonly Difference[] => {
  const desk = { book: scenario.play.book, findings };
  return scenario.expectations.flatMap((wanted) => {
    const found = saidOf(desk, wanted);
    return found === undefined ? [] : [{ line: wanted.line, unit: unitOf(desk.book, wanted), ...found }];
  });
};
