import type { RecordNow, TrialRecord } from '../../api/index.ts';
import type { Finding, TrialVerdict } from '../../judge/index.ts';
import { formatUtc, type Interval, SECOND } from '../../measure/index.ts';
import { commentsOf } from '../../record/index.ts';
import {
  placedArithmetic,
  type Subject,
  subjectsOf,
  trialArithmetic,
  type WindowReport,
} from '../../report/index.ts';
import { notesSaid, peopleOf } from '../papers.ts';
import type { StoredWindow } from '../replay.ts';
import { type LogFacts, reportOf } from '../reporting.ts';
import { levelsShown } from '../shown/book.ts';

type InterlockRecord = RecordNow['interlocks'][number];

/** A bound that is none stands as null in the log, and is not told. */
const known = (one: Interval | undefined): one is Interval =>
  one !== undefined && Number.isFinite(one.low) && Number.isFinite(one.high);

const trialRecord = (report: WindowReport, subject: Subject, trial: TrialVerdict): TrialRecord => {
  const seconds = (at: number): number => (at - report.opened) / SECOND;
  const { tripPoint, response } = trial;
  return {
    trial: trial.trial,
    outcome: trial.outcome,
    standing: trial.standing,
    asFound: trial.asFound,
    method: trial.method,
    from: seconds(trial.span.earliest),
    to: seconds(trial.span.latest),
    reasons: trial.reasons,
    ...(known(tripPoint) && { tripPoint }),
    ...(known(response) && { response }),
    arithmetic: trialArithmetic(report.opened, subject, trial),
    effects: trial.effects.map(({ name, changed, response: own }) => ({
      signal: name,
      ...(changed && { from: seconds(changed.earliest), to: seconds(changed.latest) }),
      ...(known(own) && { response: own }),
    })),
  };
};

/** Of a window that was not closed the trials stand in the findings alone. */
const trialsOf = (stored: StoredWindow, { report }: Subject): readonly TrialVerdict[] => {
  if (report.verdict.trials.length > 0) return report.verdict.trials;
  const own = (finding: Finding): finding is Finding & { kind: 'trial' } =>
    finding.kind === 'trial' && finding.interlock === report.interlock;
  return stored.findings.filter(own).map(({ verdict }) => verdict);
};

const interlockRecord = (stored: StoredWindow, report: WindowReport, subject: Subject): InterlockRecord => {
  const { interlock, bands, unit, causeName } = subject;
  const { method, verdict } = subject.report;
  const isOpen = report.standing === 'open';
  return {
    name: interlock.name,
    title: interlock.title,
    signal: causeName,
    unit,
    method,
    effects: interlock.effects.map(({ signal }) => stored.book.signals[signal]?.name ?? ''),
    outcome: isOpen ? 'not-tested' : verdict.outcome,
    reasons: isOpen ? [] : verdict.reasons,
    proved: verdict.proved,
    levels: levelsShown(bands),
    ...(known(verdict.tripPoint) && { tripPoint: verdict.tripPoint }),
    ...(known(verdict.response) && { response: verdict.response }),
    ...(verdict.asFound && { asFound: verdict.asFound }),
    ...(verdict.asLeft && { asLeft: verdict.asLeft }),
    arithmetic: isOpen ? [] : placedArithmetic(report.opened, subject),
    trials: trialsOf(stored, subject).map((trial) => trialRecord(report, subject, trial)),
  };
};

/** Everything about a recorded window but its trace. `stored` may come without its answers. */
export const recordOf = (stored: StoredWindow, facts: LogFacts): RecordNow => {
  // Comments stand in a list of their own, not among the notes.
  const entries = stored.entries.filter(({ kind }) => kind !== 'comment');
  const report = reportOf({ ...stored, entries }, facts);
  const { fingerprint } = report.checkpoint ?? {};
  return {
    window: report.window,
    zero: report.opened,
    opened: formatUtc(report.opened),
    ...(report.closed !== undefined && { closed: formatUtc(report.closed) }),
    standing: report.standing,
    demand: report.demand === true,
    people: peopleOf(stored).map(({ name, role }) => ({ name, role })),
    stated: report.stated,
    revisions: report.revisions.map(({ machine, opened, closed }) => ({
      machine,
      opened,
      ...(closed !== undefined && { closed }),
    })),
    interlocks: subjectsOf(report).map((subject) => interlockRecord(stored, report, subject)),
    contradictions: (report.contradictions ?? []).map(({ at, dangerous, reason }) => ({
      at,
      dangerous,
      reason,
    })),
    notes: notesSaid({ ...stored, entries }, report.opened),
    comments: commentsOf(stored.entries),
    ...(fingerprint !== undefined && { fingerprint }),
  };
};
