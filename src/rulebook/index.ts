/**
 * Typed interlocks: causes, effects, normals, limits; what must be read to judge them, and what polling can decide.
 *
 * The words are those of IEC 62881 (cause and effect) and of the trade; limits are one-sided, as in
 * 29 CFR 1910.272(q)(5). Proved by tests/rooms/rulebook.
 */

export { causeRoots, causeSignals } from './cause-signals.ts';
export { type CauseReading, type Coached, coach } from './coach.ts';
export { tellsDifference } from './differences.ts';
export { type Feasibility, feasibility, type TripPlan, tripPointDoubt } from './feasibility.ts';
export { isHorn } from './horn.ts';
export { levelAt, levelPlus, type References, tagsOf } from './level.ts';
export { interlocksNeeding, type Needs, needs, readPlan } from './needs.ts';
export type { Known } from './plan-sight.ts';
export { REACTION } from './plan-trip.ts';
export type {
  Armed,
  Book,
  Cause,
  Condition,
  Decision,
  Delay,
  Effect,
  EffectClass,
  Interlock,
  InterlockId,
  Level,
  Limit,
  Machine,
  Normal,
  RecordDemands,
  Release,
  Repeat,
  Side,
  Upkeep,
} from './types.ts';
