import type { Code } from '../language.ts';
import { ACCESS } from './access.ts';
import { ACCOUNTS } from './accounts.ts';
import { ACQUISITION } from './acquisition.ts';
import { ADVICE } from './advice.ts';
import { ATTRIBUTION } from './attribution.ts';
import { CAUTIONS } from './cautions.ts';
import { COACHING } from './coaching.ts';
import { CONTRADICTIONS } from './contradictions.ts';
import { DRIFT } from './drift.ts';
import { EFFECTS } from './effects.ts';
import { EVENTS } from './events.ts';
import { GAPS } from './gaps.ts';
import { GUIDANCE } from './guidance.ts';
import { LEVELS } from './levels.ts';
import { PLANNING } from './planning.ts';
import { PROOFS } from './proofs.ts';
import { REFUSALS } from './refusals.ts';
import { REGISTER } from './register.ts';
import { SCOPE } from './scope.ts';
import { SIGNING } from './signing.ts';
import { STANDING } from './standing.ts';
import { STEPS } from './steps.ts';
import { SUMS } from './sums.ts';
import { WAITS } from './waits.ts';

/** Written as those of `en/texts`. */
export const TEXTS: Readonly<Record<Code, string>> = {
  ...WAITS,
  ...EVENTS,
  ...LEVELS,
  ...EFFECTS,
  ...ATTRIBUTION,
  ...STANDING,
  ...CONTRADICTIONS,
  ...PLANNING,
  ...ADVICE,
  ...COACHING,
  ...PROOFS,
  ...GAPS,
  ...SCOPE,
  ...DRIFT,
  ...ACQUISITION,
  ...ACCESS,
  ...ACCOUNTS,
  ...SIGNING,
  ...REGISTER,
  ...CAUTIONS,
  ...GUIDANCE,
  ...SUMS,
  ...STEPS,
  ...REFUSALS,
};
