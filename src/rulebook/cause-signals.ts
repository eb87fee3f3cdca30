import type { SignalId } from '../measure/index.ts';
import type { Cause } from './types.ts';

/** Every signal that a cause is made of, the lead first. */
export const causeSignals = (cause: Cause): readonly SignalId[] =>
  cause.kind === 'group' ? [...new Set(cause.of.flatMap(causeSignals))] : [cause.signal];
