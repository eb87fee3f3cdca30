/**
 * The way through a guided test window: what people do on it, step by step, and where it stands. Pure: made from the
 * entries of the window and from what the judge tells now, so that it survives reload, loss of network and restart.
 *
 * Call, repeat-back and report are those of spoken communication in plants (DOE-STD-1031; the number from memory). Proved by tests/rooms/guide.
 */
export { type GuideEntry, isOnTheWay, newWalk, type Walk, walkOn } from './course.ts';
export { expectedOf, names } from './identity.ts';
export { BEFORE, isSeen, type Moved, movedBetween, type Suspects, suspectsOf } from './moved.ts';
export { type Asking, openingFault, stepFault } from './rules.ts';
export { type GuideLive, type GuideOpening, guideOf, NOTHING_LIVE } from './state.ts';
export {
  type GuidedInterlock,
  type GuideState,
  PRECAUTIONS,
  type Precaution,
  RESTORATIONS,
  type Restoration,
  type SaidBy,
  STAGES,
  type Stage,
  type Step,
} from './types.ts';
