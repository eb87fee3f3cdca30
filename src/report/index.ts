/**
 * Reports: what a window says, as a terminal table, as a page that stands alone, as JSON, and as plots.
 *
 * Contents after the records that IEC 61511-1 16.3.3 and 29 CFR 1910.272(m)(3) ask for; verdicts are shown by shape,
 * word and colour (WCAG 2.2, 1.4.1). Plots are SVG (1.1) made from numbers alone. Proved by tests/rooms/report.
 */

export { absentText } from './absent.ts';
export { arithmetic } from './arithmetic.ts';
export { attemptsUpTo } from './attempts.ts';
export { causeText } from './cause-text.ts';
export { CAUTIONS, READING_RULES } from './cautions.ts';
export { type CompareRow, type Comparison, compareSides, isChanged } from './compare.ts';
export { compareText } from './compare-text.ts';
export { contradictionsTold } from './contradictions.ts';
export type { Covered } from './coverage.ts';
export { EFFECT_COLUMNS, effectsCsv, VERDICT_COLUMNS, verdictsCsv } from './csv.ts';
export { DEMAND } from './demand.ts';
export { type Drift, driftOf, slopeOf } from './drift.ts';
export { type DueList, type DueRow, dueList, type Urgency } from './due.ts';
export { dueText } from './due-text.ts';
export { evidenceIn, type PageParts } from './evidence.ts';
export {
  blankSubject,
  countOf,
  responseText,
  type Subject,
  subjectsOf,
  tripText,
  unproved,
} from './facts.ts';
export { bookNow, HISTORY_KINDS, historyOf, interruptedVerdict } from './history.ts';
export type {
  BookPast,
  DangerPast,
  History,
  InterlockPast,
  Noted,
  RevisionPast,
  ScopePast,
  WindowPast,
} from './history-types.ts';
export { htmlPeriod, htmlReport } from './html.ts';
export { type InterlockSummary, reportJson } from './json.ts';
export { junitXml } from './junit.ts';
export { lastPassOf } from './last-pass.ts';
export type { Bands } from './levels.ts';
export { markOf } from './marks.ts';
export {
  type CellState,
  type Matrix,
  type MatrixCell,
  type MatrixColumn,
  type MatrixRow,
  matrixOf,
} from './matrix.ts';
export { matrixHtml } from './matrix-html.ts';
export { matrixText } from './matrix-text.ts';
export { numberLine } from './number-line.ts';
export type { Evidence } from './past-evidence.ts';
export { peopleSentences } from './people-terminal.ts';
export { attestedText, meaningText, signatureStateText } from './people-text.ts';
export type {
  AttemptsReport,
  AttestationReport,
  PapersReport,
  TranscribedReport,
} from './people-types.ts';
export { plotTrial } from './plot.ts';
export {
  type Dates,
  type Known,
  knownAt,
  type Proof,
  proofOf,
  type Standing,
} from './proofs.ts';
export { dueJson, matrixJson, reasonJson } from './proofs-json.ts';
export { rulesHeld } from './record-rules.ts';
export { regionPlot } from './region-plot.ts';
export type { Difference } from './rule-difference.ts';
export { type ScopeList, scopeOf } from './scope.ts';
export { scopeText, whyText } from './scope-text.ts';
export { aspectsTold, becomesText, effectsTold } from './sheet-effects.ts';
export { afterFields, beforeFields, foundFields, ruleFields, sheetKeys } from './sheet-form.ts';
export {
  compareSheet,
  MATRIX_HEAD,
  matrixRows,
  type SheetCell,
  type SheetCompared,
  type SheetRow,
} from './sheet-matrix.ts';
export { type Field, NOT_STATED, statedFields, systemFields } from './sheet-record.ts';
export {
  groupNote,
  lineCaption,
  ruleSentences,
  ruleTexts,
  sentencesOf,
  trialMoved,
  trialReasons,
  trialTitle,
  whatText,
} from './sheet-words.ts';
export { STYLE } from './style.ts';
export { type TerminalOptions, terminalTable } from './terminal.ts';
export type {
  BesideReport,
  InterlockReport,
  LastPass,
  NoteReport,
  PersonReport,
  Point,
  PollReport,
  RevisionReport,
  Series,
  TrialTrace,
  WindowReport,
} from './types.ts';
