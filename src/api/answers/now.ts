import { z } from 'zod';
import { absence, interval, outcome, reason, standing, told } from './common.ts';
import { finding } from './finding.ts';

const count = z.int().min(0);

const sourceClock = z.strictObject({
  offset: interval,
  since: z.string(),
  samples: count,
  declaredBound: z.number().exactOptional(),
  contradicts: z.boolean(),
});

const clock = z.strictObject({
  ahead: z.number(),
  rate: z.strictObject({ ppm: z.number(), doubt: z.number() }).exactOptional(),
});

const source = z.strictObject({
  name: z.string(),
  connected: z.boolean(),
  answers: count,
  lost: count,
  reconnects: count,
  overruns: count,
  rates: z.array(
    z.strictObject({
      pace: z.enum(['window', 'watch', 'slow']),
      wanted: z.number(),
      achieved: z.number().exactOptional(),
    }),
  ),
  clock: sourceClock.exactOptional(),
});

const signal = z.strictObject({
  name: z.string(),
  unit: z.string(),
  state: z.string().exactOptional(),
  low: z.number().exactOptional(),
  high: z.number().exactOptional(),
  absent: absence.exactOptional(),
  age: z.number().exactOptional(),
});

const advice = z.strictObject({ ...reason.shape, text: z.string(), interlock: z.string() });

const interlock = z.strictObject({
  name: z.string(),
  title: z.string(),
  machine: z.string(),
  testing: z.boolean(),
  trial: count,
  waits: z.array(reason),
  outcome: outcome.exactOptional(),
  advice: advice.exactOptional(),
});

const contradiction = z.strictObject({
  number: count,
  utc: z.string(),
  machine: z.string(),
  interlock: z.string(),
  dangerous: z.boolean(),
  reason,
  text: z.string(),
  window: z.string(),
});

const demand = z.strictObject({
  id: z.string(),
  opened: z.string(),
  standing,
  interlocks: z.array(z.strictObject({ name: z.string(), outcome: outcome.exactOptional() })),
});

export const nowSchema = z.strictObject({
  site: z.string(),
  title: z.string(),
  utc: z.string(),
  clock: clock.exactOptional(),
  window: z
    .strictObject({ id: z.string(), opened: z.string(), demand: z.boolean(), said: z.number().int().min(0) })
    .exactOptional(),
  sources: z.array(source),
  signals: z.array(signal),
  interlocks: z.array(interlock),
  contradictions: z.array(contradiction),
  demands: z.array(demand),
});

export const findingToldSchema = z.strictObject({
  index: count,
  interlock: z.string(),
  finding,
  text: z.string(),
  aside: z.boolean(),
});

export const planToldSchema = z.strictObject({
  interlock: z.string(),
  advice: z.array(told),
  undecidable: z.array(told),
  notes: z.array(told),
});

export const openedSchema = z.strictObject({ window: z.string(), plan: z.array(planToldSchema) });

export const windowNowSchema = z.strictObject({
  window: z.string(),
  standing,
  opened: z.string(),
  demand: z.boolean(),
  findings: z.array(findingToldSchema),
  advice: z.array(advice),
});

export const markedSchema = z.strictObject({ entry: count });
