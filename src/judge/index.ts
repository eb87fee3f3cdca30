/**
 * The judge: readings and marks in, findings out.
 */

export { ENGINE, newestOf, openTrials, step, verdictsNow, type WaitsNow, waitsNow } from './judge.ts';
export { segmentsOf } from './segments.ts';
export { type State, start } from './state.ts';
export { substitutes } from './trial.ts';
export {
  type Aspect,
  ATTESTATIONS,
  type Attestation,
  type EffectSeen,
  type Engine,
  type Finding,
  type Input,
  type Mark,
  METHODS,
  type Method,
  type Stimulus,
  type TrialVerdict,
  type Verdict,
  type WindowVerdict,
} from './types.ts';
