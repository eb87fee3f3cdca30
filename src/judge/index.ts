/**
 * The judge: readings and marks in, findings out.
 */
export {
  ATTESTATIONS,
  type Aspect,
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
