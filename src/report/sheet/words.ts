import type { TrialVerdict } from '../../judge/index.ts';
import type { Reason } from '../../measure/index.ts';
import type { Book } from '../../rulebook/index.ts';
import { formatInterval, TERMS, text } from '../../words/index.ts';
import { causeText, derivedTexts } from '../cause-text.ts';
import { courseProves, courseText } from '../course-text.ts';
import { decisionName } from '../decision-text.ts';
import { mustStay, type Subject } from '../facts.ts';
import type { WindowReport } from '../types.ts';

/** Each reason as a sentence, each sentence once. */
export const sentencesOf = (reasons: readonly Reason[], unit: string): readonly string[] => [
  ...new Set(reasons.map((reason) => text(reason, { unit }))),
];

const STANDINGS: Readonly<Record<TrialVerdict['standing'], string>> = {
  complete: '',
  aborted: ', aborted',
  interrupted: ', interrupted',
  unfinished: ', not finished',
};

const sentenceOf = (value: string): string =>
  value === '' ? '' : `${value.slice(0, 1).toUpperCase()}${value.slice(1)}. `;

/** `Trial 2, as found, aborted`. */
export const trialTitle = (report: WindowReport, trial: TrialVerdict): string => {
  const found = trial.asFound && !report.demand ? ', as found' : '';
  return `${report.demand ? 'Demand' : 'Trial'} ${trial.trial}${found}${STANDINGS[trial.standing]}`;
};

/** How the cause was moved in a trial, and what that can prove. */
export const trialMoved = (report: WindowReport, subject: Subject, trial: TrialVerdict): string => {
  const method = report.demand ? '' : (TERMS.methods[trial.method] ?? trial.method);
  return [method, courseText(trial, subject)].map(sentenceOf).join('') + courseProves(trial, subject);
};

/** Why a trial came out as it did: one sentence for a pass, a few for anything else. */
export const trialReasons = (subject: Subject, trial: TrialVerdict): readonly string[] =>
  sentencesOf(trial.reasons, subject.unit).slice(0, trial.outcome === 'pass' ? 1 : 4);

/** Title, machine and hazard. */
export const whatText = ({ interlock, machine }: Subject): string =>
  `${interlock.title} · ${machine?.title ?? 'machine not known'} · hazard: ${interlock.hazard}`;

/** When it acts; then what is worked out from other signals. */
export const ruleSentences = (book: Book, subject: Subject): readonly string[] => [
  `${mustStay(subject.interlock) ? 'Must not act' : 'Acts'} when ${causeText(book, subject)}.`,
  ...derivedTexts(book, subject.interlock.cause),
];

/** When it acts, how that was tried, and by which rule it was decided; then what is worked out from other signals. */
export const ruleTexts = (report: WindowReport, subject: Subject): readonly string[] => {
  const { interlock } = subject;
  const { method } = subject.report;
  const [acts = '', ...derived] = ruleSentences(report.book, subject);
  const tested = report.demand ? '' : ` Test method: ${TERMS.methods[method] ?? method}.`;
  return [`${acts}${tested} Decision rule: ${decisionName(interlock)}.`, ...derived];
};

/** What stands beneath the number line. */
export const lineCaption = (subject: Subject): string => {
  const share = subject.report.verdict.tripPercent;
  const percent = share ? ` In percent of normal: ${formatInterval(share, '%')}.` : '';
  const ruled = subject.bands.limit ? ' Ruled: beyond the limit.' : '';
  const basis = subject.interlock.limit ? ` Limit: ${subject.interlock.limit.basis}.` : '';
  return `Hatched: allowed around the set point.${ruled}${percent}${basis}`;
};

/** Of a group one cause is drawn; undefined where there is only one. */
export const groupNote = ({ interlock, causeName }: Subject): string | undefined =>
  interlock.cause.kind === 'group' ? `Of the causes of this interlock, ${causeName} is drawn.` : undefined;
