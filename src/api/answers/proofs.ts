import { z } from 'zod';
import { STANDINGS, URGENCIES } from '../../report/index.ts';
import type { DueNow, MatrixNow } from '../console-types.ts';
import { outcome, phrase, segment, told } from './common.ts';
import { registerLifeSchema } from './papers.ts';

const passed = { window: z.string(), at: z.string(), method: z.string() };

const cell = z.strictObject({
  effect: z.string(),
  marked: z.boolean(),
  state: z.enum([...STANDINGS, 'cross-trip', 'quiet', 'unwatched']),
  wanted: z.string().exactOptional(),
  window: z.string().exactOptional(),
  at: z.string().exactOptional(),
  revision: z.string().exactOptional(),
  reason: told.exactOptional(),
});

const row = z.strictObject({
  interlock: z.string(),
  title: z.string(),
  machine: z.string(),
  hazard: z.string(),
  cause: z.string(),
  acts: phrase,
  standing: z.enum(STANDINGS),
  beneath: z.enum(STANDINGS).exactOptional(),
  reasons: z.array(told),
  passed: z.strictObject({ ...passed, revision: z.string().exactOptional() }).exactOptional(),
  last: z.strictObject({ window: z.string(), at: z.string(), outcome, demand: z.boolean() }).exactOptional(),
  proved: z.array(segment),
  due: z.string().exactOptional(),
  grace: z.string().exactOptional(),
  deferred: z.strictObject({ until: z.string(), id: z.string() }).exactOptional(),
  items: z.array(registerLifeSchema),
  cells: z.array(cell),
  coverage: z.array(
    z.strictObject({
      segment,
      standing: z.enum(['proved', 'stale', 'old', 'never']),
      window: z.string().exactOptional(),
      at: z.string().exactOptional(),
      method: z.string().exactOptional(),
    }),
  ),
  gaps: z.array(told),
});

export const matrixSchema = z.strictObject({
  log: z.string(),
  site: z.string(),
  title: z.string(),
  on: z.string(),
  bookHash: z.string(),
  columns: z.array(
    z.strictObject({
      name: z.string(),
      machine: z.string(),
      class: z.enum(['alarm', 'trip', 'command', 'feedback', 'motion', 'feed']),
    }),
  ),
  rows: z.array(row),
}) satisfies z.ZodType<MatrixNow>;

export const dueSchema = z.strictObject({
  log: z.string(),
  site: z.string(),
  title: z.string(),
  on: z.string(),
  rows: z.array(
    z.strictObject({
      interlock: z.string(),
      machine: z.string(),
      title: z.string(),
      urgency: z.enum(URGENCIES),
      due: z.string().exactOptional(),
      late: z.int().exactOptional(),
      passed: z.strictObject(passed).exactOptional(),
      reasons: z.array(told),
      items: z.array(registerLifeSchema),
    }),
  ),
}) satisfies z.ZodType<DueNow>;
