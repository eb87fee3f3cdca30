import { z } from 'zod';

const text = z.string().max(2_000);
const name = z.string().min(1).max(120);
const day = z.string().regex(/^\d{4}-\d{2}-\d{2}$/);

/** Kinds of things that stay open until somebody closes them; the subject of the entry is the interlock or machine. */
export const REGISTER_ITEMS = ['deferral', 'impairment', 'punch', 'bypass'] as const;
export type RegisterItem = (typeof REGISTER_ITEMS)[number];

/** A: before product runs. B: before handover. C: later. Common practice, no source. */
export const PUNCH_CATEGORIES = ['A', 'B', 'C'] as const;

/**
 * One step in the life of a register item: opened with all that its kind asks for, noted on, closed. `id` is given at its
 * opening and counts up over the log by kind: `punch-3`.
 */
export const registerSchema = z.looseObject({
  item: z.enum(REGISTER_ITEMS),
  id: z.string().min(1).max(60),
  action: z.enum(['opened', 'noted', 'closed']),
  text,
  /** Deferral: until when. Impairment and bypass: expected end. */
  until: day.optional(),
  reason: text.optional(),
  risk: text.optional(),
  approver: name.optional(),
  /** Impairment: what protects meanwhile. */
  precautions: text.optional(),
  notified: z.array(name).optional(),
  category: z.enum(PUNCH_CATEGORIES).optional(),
  owner: name.optional(),
  due: day.optional(),
  /** Window that opened or closed it. */
  window: z.string().max(120).optional(),
});

/** After a change: which interlocks must be proved again; the proofs of the others on that machine stand. */
export const scopeSchema = z.looseObject({
  /** What was changed, as said by the person. */
  change: text,
  /** Program revision that it was made for. */
  revision: z.string().max(200),
  machines: z.array(name),
  /** By interlock: why it is to be proved again. */
  prove: z.record(z.string(), z.string().max(400)),
  approver: name.optional(),
});
