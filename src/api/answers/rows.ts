import { z } from 'zod';
import type { LiveBegin, Rows, TraceNow } from '../console-types.ts';
import { absence } from './common.ts';

const bound = z.array(z.number().nullable());

export const rowsSchema = z.strictObject({
  signal: z.array(z.int().min(0)),
  t: z.array(z.number()),
  low: bound,
  high: bound,
  why: z.array(z.union([z.literal(''), absence])),
}) satisfies z.ZodType<Rows>;

export const liveBeginSchema = z.strictObject({
  zero: z.number(),
  signals: z.array(z.string()),
  before: rowsSchema,
}) satisfies z.ZodType<LiveBegin>;

/** So many events of rows were left out; `begin` follows. */
export const skippedSchema = z.strictObject({ rows: z.int().min(1) });

/** Names with commas between them. */
const signals = z.string().min(1).max(100_000);

export const liveQuery = z.strictObject({
  signals,
  /** Seconds of what was before. */
  span: z.coerce.number().min(0).max(600).default(60),
  /** Milliseconds from one event to the next, at least. */
  every: z.coerce.number().min(0).max(10_000).default(50),
});

export const traceQuery = z.strictObject({
  signals,
  /** Microseconds after the opening; all of it where nothing is said. */
  from: z.coerce.number().exactOptional(),
  to: z.coerce.number().exactOptional(),
  /** Columns. */
  width: z.coerce.number().int().min(1).max(20_000).default(1_200),
});

export const traceSchema = z.strictObject({
  zero: z.number(),
  signals: z.array(z.string()),
  from: z.number(),
  to: z.number(),
  readings: z.int().min(0),
  rows: rowsSchema,
}) satisfies z.ZodType<TraceNow>;
