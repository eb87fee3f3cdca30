/**
 * Reports: what a window says, as a terminal table, as a page that stands alone, as JSON, and as plots.
 *
 * Contents after the records that IEC 61511-1 16.3.3 and 29 CFR 1910.272(m)(3) ask for; verdicts are shown by shape,
 * word and colour (WCAG 2.2, 1.4.1). Plots are SVG (1.1) made from numbers alone. Proved by tests/rooms/report.
 */

export { absentText } from './absent.ts';
export { arithmetic } from './arithmetic/arithmetic.ts';
export { type PlacedLine, placedArithmetic, trialArithmetic } from './arithmetic/places.ts';
export { attemptsUpTo } from './attempts.ts';
export { causePhrase, causeText } from './cause-text.ts';
export { atOnceText, CAUTIONS, CAUTIONS_IN_SHORT, READING_RULES } from './cautions.ts';
export { EFFECT_COLUMNS, effectsCsv, VERDICT_COLUMNS, verdictsCsv } from './csv.ts';
export {
  blankSubject,
  countOf,
  responseText,
  type Subject,
  subjectsOf,
  tripText,
  unproved,
} from './facts.ts';
export { type InterlockSummary, reportJson } from './json.ts';
export { junitXml } from './junit.ts';
export { type Bands, bandsOf, referencesOf } from './levels.ts';
export { markOf } from './marks.ts';
export { contradictionsTold } from './page/contradictions.ts';
export { DEMAND } from './page/demand.ts';
export { evidenceIn, type PageParts } from './page/evidence.ts';
export { htmlPeriod, htmlReport } from './page/html.ts';
export { STYLE } from './page/style.ts';
export { peopleSentences } from './people-terminal.ts';
export { attestedText, meaningText, signatureStateText } from './people-text.ts';
export type {
  AttemptsReport,
  AttestationReport,
  PapersReport,
  TranscribedReport,
} from './people-types.ts';
export { numberLine } from './plot/number-line.ts';
export { plotTrial } from './plot/plot.ts';
export { regionPlot } from './plot/region-plot.ts';
export { type CompareRow, type Comparison, compareSides, isChanged } from './proofs/compare.ts';
export { compareText } from './proofs/compare-text.ts';
export { type Covered, segmentsNeeded } from './proofs/coverage.ts';
export { type Drift, driftOf, slopeOf } from './proofs/drift.ts';
export { type DueList, type DueRow, dueList, URGENCIES, type Urgency } from './proofs/due.ts';
export { dueText } from './proofs/due-text.ts';
export { bookNow, HISTORY_KINDS, historyOf, interruptedVerdict } from './proofs/history.ts';
export type {
  BookPast,
  DangerPast,
  History,
  InterlockPast,
  Noted,
  RevisionPast,
  ScopePast,
  WindowPast,
} from './proofs/history-types.ts';
export { lastPassOf } from './proofs/last-pass.ts';
export {
  type CellState,
  type Matrix,
  type MatrixCell,
  type MatrixColumn,
  type MatrixRow,
  matrixOf,
} from './proofs/matrix.ts';
export { matrixHtml } from './proofs/matrix-html.ts';
export { matrixText } from './proofs/matrix-text.ts';
export type { Evidence } from './proofs/past-evidence.ts';
export {
  type Dates,
  type Known,
  knownAt,
  type Proof,
  proofOf,
  STANDINGS,
  type Standing,
} from './proofs/proofs.ts';
export { dueJson, matrixJson, reasonJson } from './proofs/proofs-json.ts';
export type { Difference } from './proofs/rule-difference.ts';
export { type ScopeList, scopeOf } from './proofs/scope.ts';
export { scopeText, whyText } from './proofs/scope-text.ts';
export { rulesHeld } from './record-rules.ts';
export { aspectsTold, becomesText, effectsTold } from './sheet/effects.ts';
export { afterFields, beforeFields, foundFields, ruleFields, sheetKeys } from './sheet/form.ts';
export {
  compareSheet,
  MATRIX_HEAD,
  matrixRows,
  type SheetCell,
  type SheetCompared,
  type SheetRow,
} from './sheet/matrix.ts';
export { type Field, NOT_STATED, statedFields, systemFields } from './sheet/record.ts';
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
} from './sheet/words.ts';
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
