import { z } from 'zod';
import type { BookNow, LevelsNow } from '../console-types.ts';
import { interval, method, phrase, segment } from './common.ts';

const names = z.array(z.string());

export const levelsSchema = z.strictObject({
  normal: interval.exactOptional(),
  setPoint: interval.exactOptional(),
  allowed: interval.exactOptional(),
  clears: interval.exactOptional(),
  limit: interval.exactOptional(),
  limitSide: z.enum(['no-lower-than', 'no-higher-than']).exactOptional(),
  near: interval.exactOptional(),
  far: interval.exactOptional(),
}) satisfies z.ZodType<LevelsNow>;

const machine = z.strictObject({
  name: z.string(),
  title: z.string(),
  kind: z.string(),
  revision: z.string().exactOptional(),
  bypassed: names,
  interlocks: names,
  signals: names,
});

const interlock = z.strictObject({
  name: z.string(),
  title: z.string(),
  machine: z.string(),
  hazard: z.string(),
  cause: z.string(),
  acts: phrase,
  kind: z.string(),
  side: z.enum(['below', 'above']).exactOptional(),
  effects: z.array(
    z.strictObject({
      signal: z.string(),
      class: z.string(),
      state: z.string(),
      stays: z.boolean(),
      within: z.number(),
    }),
  ),
  methods: z.array(z.strictObject({ method, proves: z.array(segment) })),
  device: z
    .strictObject({
      tag: z.string().exactOptional(),
      serial: z.string().exactOptional(),
      location: z.string().exactOptional(),
    })
    .exactOptional(),
  levels: levelsSchema,
});

const signal = z.strictObject({
  name: z.string(),
  source: z.string(),
  unit: z.string(),
  quantity: z.string(),
  states: names,
  units: z.array(z.strictObject({ unit: z.string(), factor: z.number(), offset: z.number() })),
  machine: z.string().exactOptional(),
});

export const bookSchema = z.strictObject({
  site: z.string(),
  title: z.string(),
  hash: z.string(),
  machines: z.array(machine),
  interlocks: z.array(interlock),
  signals: z.array(signal),
}) satisfies z.ZodType<BookNow>;
