import { z } from 'zod';
import type { Finding } from '../../judge/index.ts';
import { interval, method, outcome, reason, segment } from './common.ts';

const span = z.strictObject({ earliest: z.number(), latest: z.number() });

const verdict = {
  outcome,
  reasons: z.array(reason).min(1),
  aspects: z.array(z.strictObject({ name: z.string(), outcome, reason })),
  /** Value of the cause at which the effect was initiated, in the unit of the signal; then in percent of normal. */
  tripPoint: interval.exactOptional(),
  tripPercent: interval.exactOptional(),
  normal: interval.exactOptional(),
  /** Seconds. */
  response: interval.exactOptional(),
  delay: interval.exactOptional(),
  effects: z.array(
    z.strictObject({
      name: z.string(),
      signal: z.int(),
      changed: span.exactOptional(),
      response: interval.exactOptional(),
    }),
  ),
  proved: z.array(segment),
};

const course = z.strictObject({
  kind: z.enum(['step', 'ramp', 'hold']),
  rate: z.number().exactOptional(),
  held: interval.exactOptional(),
  seconds: z.number().exactOptional(),
  inside: z.boolean(),
});

const trial = z.strictObject({
  ...verdict,
  trial: z.int(),
  method,
  course: course.exactOptional(),
  span,
  standing: z.enum(['complete', 'aborted', 'interrupted', 'unfinished']),
  asFound: z.boolean(),
});

const window = z.strictObject({
  ...verdict,
  trials: z.array(trial),
  trial: z.int(),
  region: z.array(z.strictObject({ delay: interval, level: interval })).exactOptional(),
  asFound: outcome.exactOptional(),
  asLeft: outcome.exactOptional(),
});

const head = { at: z.int(), interlock: z.int(), trial: z.int(), demand: z.literal(true).exactOptional() };

/** What the judge has to say. Instants are microseconds since 1970, UTC; `interlock` is -1 where it concerns none. */
export const finding = z.discriminatedUnion('kind', [
  z.strictObject({ ...head, kind: z.literal('waits'), reasons: z.array(reason) }),
  z.strictObject({ ...head, kind: z.literal('event'), reason }),
  z.strictObject({ ...head, kind: z.literal('trial'), verdict: trial }),
  z.strictObject({ ...head, kind: z.literal('window'), verdict: window }),
  z.strictObject({
    ...head,
    kind: z.literal('contradiction'),
    machine: z.int(),
    reason,
    dangerous: z.boolean(),
  }),
]) as unknown as z.ZodType<Finding>;
