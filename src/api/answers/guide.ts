import { z } from 'zod';
import { PRECAUTIONS, RESTORATIONS, STAGES } from '../../guide/index.ts';
import { ATTESTATIONS } from '../../judge/index.ts';
import { interval, method, outcome, reason, segment, standing } from './common.ts';
import { planToldSchema } from './now.ts';

const count = z.int().min(0);
const said = { by: z.string(), utc: z.string() };
const saidBy = z.strictObject(said);

const trial = z.strictObject({
  trial: count,
  outcome,
  reasons: z.array(reason),
  tripPoint: interval.exactOptional(),
  response: interval.exactOptional(),
  proved: z.array(segment),
});

const guided = z.strictObject({
  name: z.string(),
  title: z.string(),
  machine: z.string(),
  method,
  signal: z.string(),
  unit: z.string(),
  stage: z.enum(STAGES),
  expects: z.array(z.string()),
  identified: z
    .strictObject({ ...said, typed: z.string(), how: z.enum(['typed', 'scanned']), matches: z.boolean() })
    .exactOptional(),
  alone: z
    .strictObject({ running: z.boolean(), moved: z.array(z.string()), alone: z.boolean() })
    .exactOptional(),
  waits: z.array(reason),
  ready: z.boolean(),
  called: saidBy.exactOptional(),
  repeated: saidBy.exactOptional(),
  countdown: z.strictObject({ ...said, at: z.string() }).exactOptional(),
  trial: count,
  advice: reason.exactOptional(),
  trials: z.array(trial),
  needs: count,
  outcome: outcome.exactOptional(),
  attestations: z.array(
    z.strictObject({
      what: z.enum(ATTESTATIONS),
      given: z.strictObject({ ...said, where: z.string().exactOptional() }).exactOptional(),
    }),
  ),
  left: z.strictObject({ ...said, why: z.string() }).exactOptional(),
});

export const guideSchema = z.strictObject({
  window: z.string(),
  standing,
  why: reason.exactOptional(),
  opened: z.string(),
  people: z.array(z.strictObject({ name: z.string(), role: z.string() })),
  permit: z.string(),
  precautions: z.array(z.enum(PRECAUTIONS)),
  interlocks: z.array(guided),
  current: z.string(),
  restoration: z.array(
    z.strictObject({
      item: z.enum(RESTORATIONS),
      done: z.strictObject({ ...said, note: z.string() }).exactOptional(),
    }),
  ),
  open: z.array(reason),
  gaps: z.array(z.strictObject({ from: z.string(), to: z.string() })),
});

export const planNowSchema = z.strictObject({
  plan: planToldSchema,
  proves: z.array(segment),
  cannot: z.array(segment),
});
