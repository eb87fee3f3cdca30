import { z } from 'zod';
import type { RecordNow, WindowLine } from '../console-types.ts';
import { levelsSchema } from './book.ts';
import { interval, method, outcome, phrase, reason, segment, standing } from './common.ts';

const count = z.int().min(0);

export const windowLineSchema = z.strictObject({
  window: z.string(),
  opened: z.string(),
  closed: z.string().exactOptional(),
  standing,
  demand: z.boolean(),
  people: z.array(z.string()),
  interlocks: z.array(z.strictObject({ name: z.string(), outcome: outcome.exactOptional(), trials: count })),
  signed: z.array(z.string()),
  comments: count,
}) satisfies z.ZodType<WindowLine>;

const line = z.strictObject({
  says: phrase,
  from: z.number().exactOptional(),
  to: z.number().exactOptional(),
  level: interval.exactOptional(),
});

const trial = z.strictObject({
  trial: count,
  outcome,
  standing: z.string(),
  asFound: z.boolean(),
  method,
  from: z.number(),
  to: z.number(),
  reasons: z.array(reason),
  tripPoint: interval.exactOptional(),
  response: interval.exactOptional(),
  arithmetic: z.array(line),
  effects: z.array(
    z.strictObject({
      signal: z.string(),
      from: z.number().exactOptional(),
      to: z.number().exactOptional(),
      response: interval.exactOptional(),
    }),
  ),
});

const interlock = z.strictObject({
  name: z.string(),
  title: z.string(),
  signal: z.string(),
  unit: z.string(),
  method,
  effects: z.array(z.string()),
  outcome,
  reasons: z.array(reason),
  proved: z.array(segment),
  levels: levelsSchema,
  tripPoint: interval.exactOptional(),
  response: interval.exactOptional(),
  asFound: outcome.exactOptional(),
  asLeft: outcome.exactOptional(),
  arithmetic: z.array(line),
  trials: z.array(trial),
});

const comment = z.strictObject({
  entry: count,
  utc: z.string(),
  by: z.string(),
  text: z.string(),
  interlock: z.string().exactOptional(),
  trial: count.exactOptional(),
  at: z.number().exactOptional(),
});

export const recordSchema = z.strictObject({
  window: z.string(),
  zero: z.number(),
  opened: z.string(),
  closed: z.string().exactOptional(),
  standing,
  demand: z.boolean(),
  people: z.array(z.strictObject({ name: phrase, role: phrase })),
  stated: z.record(z.string(), z.string()),
  revisions: z.array(
    z.strictObject({ machine: z.string(), opened: z.string(), closed: z.string().exactOptional() }),
  ),
  interlocks: z.array(interlock),
  contradictions: z.array(z.strictObject({ at: z.number(), dangerous: z.boolean(), reason })),
  notes: z.array(z.strictObject({ t: z.number(), by: phrase, says: phrase })),
  comments: z.array(comment),
  fingerprint: z.string().exactOptional(),
}) satisfies z.ZodType<RecordNow>;
