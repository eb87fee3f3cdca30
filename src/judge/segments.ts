import { SEGMENTS, type Segment } from '../measure/index.ts';
import type { EffectClass } from '../rulebook/index.ts';
import type { Method } from './types.ts';

/**
 * The first part of the chain that a test method exercises; the parts before it stay unproved.
 * Common practice, no source: an injector sits between sensor and target's wiring, so it never proves the
 * sensor; a bit forced in the controller proves the logic at best.
 */
const STARTS: Readonly<Record<Method, Segment>> = {
  real: 'sensor',
  blocked: 'sensor',
  heated: 'sensor',
  displaced: 'sensor',
  injected: 'wiring',
  forced: 'logic',
  unstated: 'logic',
};

/** The last part that an effect of a class shows. */
const ENDS: Readonly<Record<EffectClass, Segment>> = {
  trip: 'logic',
  alarm: 'output',
  command: 'output',
  feedback: 'relay',
  motion: 'motion',
  feed: 'feed',
};

/** What a passed trial proves: from where the method enters to what was seen; the relay is no part of motion alone. */
export const segmentsOf = (
  method: Method,
  seen: readonly EffectClass[],
  horn: boolean,
): readonly Segment[] => {
  const start = SEGMENTS.indexOf(STARTS[method]);
  const logic = SEGMENTS.indexOf('logic');
  const shown = new Set<Segment>(seen.map((one) => ENDS[one]));
  if (shown.has('motion') || shown.has('relay')) shown.add('output');
  if (shown.has('motion')) shown.add('relay');
  if (horn) shown.add('horn');
  return SEGMENTS.filter((segment, index) => index >= start && (index <= logic || shown.has(segment)));
};
