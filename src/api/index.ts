/**
 * The shapes of the HTTP API and its typed client; serves web, cli and the page. Pure: `fetch` comes in from outside.
 * Proved by tests/rooms/api.
 */

export type { CellState, Urgency } from '../report/index.ts';
export { type Client, createClient, Refused, type Send } from './client.ts';
export type {
  ArithmeticLine,
  BookNow,
  CommentNow,
  DueNow,
  DueRowNow,
  InterlockShown,
  LevelsNow,
  LiveBegin,
  MatrixCellNow,
  MatrixNow,
  MatrixRowNow,
  PlanNow,
  RecordNow,
  Rows,
  SessionNow,
  SignalShown,
  TraceNow,
  TrialRecord,
  UnitChoice,
  WindowLine,
} from './console-types.ts';
export { Declined } from './declined.ts';
export {
  type AccountNow,
  type EnteredNow,
  type Entering,
  enteringFaults,
  enteringSchema,
  type LogNow,
  type RegisterItemNow,
  type SigningNow,
} from './entering.ts';
export { eventText } from './events.ts';
export { openApi } from './openapi.ts';
export type { Reviewed, ReviewQuestion } from './review.ts';
export { included, isEntitled, roleToEnter } from './roles.ts';
export {
  type AnswerOf,
  type BodyOf,
  type PlacesOf,
  type QueryOf,
  ROUTES,
  type Route,
  type RouteName,
  type Sent,
} from './routes.ts';
export { type MarkRequest, markSchema, type OpenWindow, openWindowSchema } from './schemas.ts';
export type { StepAsked, StepRequest } from './steps.ts';
export type {
  AdviceNow,
  ClockNow,
  ContradictionNow,
  DemandNow,
  EnteredBy,
  FindingTold,
  InterlockNow,
  Now,
  Opened,
  PlanTold,
  RateNow,
  ReasonTold,
  SignalNow,
  SourceClockNow,
  SourceNow,
  Trouble,
  WindowNow,
} from './types.ts';
