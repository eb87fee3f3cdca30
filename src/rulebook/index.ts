/**
 * Typed interlocks: causes, effects, normals, limits; packs expanded over machines.
 * The words are those of IEC 62881 (cause and effect) and of the trade.
 */

export { levelAt, type References } from './level.ts';
export type {
  Armed,
  Book,
  Cause,
  Condition,
  Delay,
  Effect,
  EffectClass,
  Interlock,
  InterlockId,
  Level,
  Limit,
  Machine,
  Normal,
  Side,
} from './types.ts';
