/**
 * The way through a guided test window: what people do on it, step by step, and where it stands. Pure: made from the
 * entries of the window and from what the judge tells now, so that it survives reload, loss of network and restart.
 */
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
