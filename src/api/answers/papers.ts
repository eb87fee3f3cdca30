import { z } from 'zod';
import { type Entry, KINDS, MEANINGS, PUNCH_CATEGORIES, REGISTER_ITEMS } from '../../record/index.ts';
import { accountRoles } from './common.ts';

const count = z.int().min(0);
const kind = z.enum(KINDS);

/** The body is as it stands in the log; what each kind holds is told in the format of the log. */
export const enteredSchema = z.strictObject({
  entry: count,
  kind,
  subject: z.string(),
  actor: z.string(),
  body: z.looseObject({}) as unknown as z.ZodType<Entry['body']>,
});

export const logNowSchema = z.strictObject({ log: z.string(), site: z.string() });

export const accountSchema = z.strictObject({
  id: z.string(),
  name: z.string(),
  roles: accountRoles,
  standing: z.enum(['open', 'locked', 'closed']),
});

const registerStep = z.strictObject({
  entry: count,
  utc: z.string(),
  by: z.string(),
  action: z.enum(['opened', 'noted', 'closed']),
  text: z.string(),
  window: z.string().exactOptional(),
});

export const registerLifeSchema = z.strictObject({
  item: z.enum(REGISTER_ITEMS),
  id: z.string(),
  on: z.string(),
  standing: z.enum(['open', 'closed']),
  text: z.string(),
  opened: z.string(),
  closed: z.string().exactOptional(),
  limit: z.string().exactOptional(),
  reason: z.string().exactOptional(),
  risk: z.string().exactOptional(),
  approver: z.string().exactOptional(),
  precautions: z.string().exactOptional(),
  notified: z.array(z.string()).exactOptional(),
  category: z.enum(PUNCH_CATEGORIES).exactOptional(),
  owner: z.string().exactOptional(),
  steps: z.array(registerStep),
});

export const registerItemSchema = z.strictObject({
  ...registerLifeSchema.shape,
  /** Seconds by which it is over its limit. */
  over: z.number(),
});

const signature = z.strictObject({
  entry: count,
  window: z.string(),
  utc: z.string(),
  person: z.strictObject({ id: z.string(), name: z.string() }),
  role: z.string(),
  meaning: z.enum(MEANINGS),
  covers: z.strictObject({ last: count, entries: count, digest: z.string() }),
  state: z.enum(['whole', 'since', 'differs', 'unreadable']),
  since: z.partialRecord(kind, count),
});

export const signingSchema = z.strictObject({
  signatures: z.array(signature),
  demanded: z.array(z.enum(MEANINGS)),
  missing: z.array(z.enum(MEANINGS)),
  notIndependent: z.array(count),
});
