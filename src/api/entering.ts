import { z } from 'zod';
import {
  ACCOUNT_ROLES,
  type Account,
  bodySchemas,
  type Entry,
  MEANINGS,
  PUNCH_CATEGORIES,
  REGISTER_ITEMS,
  type RegisterLife,
  type WindowSigning,
} from '../record/index.ts';

const name = z.string().min(1).max(120);
const text = z.string().max(2_000);
const window = z.string().min(1).max(120);
const password = z.string().max(1_024);

/** Somebody who shows by password who he is. */
const known = z.strictObject({ as: name, password });
/** The same, or a name as typed. Left out, it is the account that is signed in; another name than that one's is refused. */
const somebody = z.union([z.strictObject({ by: name }), known]).optional();

const signSchema = z.strictObject({
  do: z.literal('sign'),
  who: known,
  window,
  meaning: z.enum(MEANINGS),
});

const amendSchema = z.strictObject({
  do: z.literal('amend'),
  who: somebody,
  window,
  entry: z.int().min(0),
  field: z.string().min(1).max(200),
  becomes: text,
  reason: text.min(1),
});

const transcribeSchema = z.strictObject({
  do: z.literal('transcribe'),
  who: somebody,
  /** `new`: a sheet that belongs to no window. */
  window,
  sheet: z.string().max(200),
  /** Who filled the sheet in, and when, as it says there. */
  by: name,
  on: z.string().max(60),
  values: z.record(z.string().min(1).max(200), text),
});

const openItemSchema = z.strictObject({
  do: z.literal('register-open'),
  who: somebody,
  item: z.enum(REGISTER_ITEMS),
  /** Interlock or machine. */
  on: name,
  text,
  until: z.string().max(10).optional(),
  due: z.string().max(10).optional(),
  since: z.string().max(40).optional(),
  hours: z.number().positive().max(8_784).optional(),
  reason: text.optional(),
  risk: text.optional(),
  approver: name.optional(),
  precautions: text.optional(),
  notified: z.array(name).max(50).optional(),
  category: z.enum(PUNCH_CATEGORIES).optional(),
  owner: name.optional(),
  window: window.optional(),
});

const stepSchema = z.strictObject({
  do: z.literal('register-step'),
  who: somebody,
  id: z.string().min(1).max(60),
  action: z.enum(['noted', 'closed']),
  text,
  window: window.optional(),
});

/** `at`: seconds after the opening that it speaks of. */
const commentSchema = z.strictObject({
  do: z.literal('comment'),
  who: somebody,
  window,
  interlock: name.optional(),
  trial: z.int().min(1).optional(),
  at: z.number().optional(),
  text: text.min(1),
});

const scopeSchema = z.strictObject({
  do: z.literal('scope'),
  who: somebody,
  scope: bodySchemas.scope,
});

const personSchema = z.strictObject({
  do: z.literal('person'),
  /** Left out where the first account is made, and where the last administrator is locked out. */
  who: known.optional(),
  action: z.enum(['added', 'roles-changed', 'password-changed', 'closed', 'unlocked']),
  id: name,
  name: name.optional(),
  roles: z.array(z.enum(ACCOUNT_ROLES)).max(ACCOUNT_ROLES.length).optional(),
  /** The new one. */
  password: password.optional(),
});

/** Everything that people enter in a log beside a window's marks; the same through the daemon and at the file itself. */
export const enteringSchema = z.discriminatedUnion('do', [
  signSchema,
  amendSchema,
  transcribeSchema,
  openItemSchema,
  stepSchema,
  scopeSchema,
  commentSchema,
  personSchema,
]);
export type Entering = z.infer<typeof enteringSchema>;

/** What is wrong with a request, without a word of what it holds: it may hold a password, also in the wrong place. */
export const enteringFaults = (error: z.ZodError): string =>
  error.issues
    .map(({ code, path, message }) => {
      const where = path.map(String).join('.') || 'request';
      return `${where}: ${code === 'unrecognized_keys' ? 'holds a field that is not known' : message}`;
    })
    .join('; ');

/** The entry that came of it. */
export interface EnteredNow {
  readonly entry: number;
  readonly kind: Entry['kind'];
  readonly subject: string;
  readonly actor: string;
  readonly body: Entry['body'];
}

export type AccountNow = Pick<Account, 'id' | 'name' | 'roles' | 'standing'>;

export interface RegisterItemNow extends RegisterLife {
  /** Seconds by which it is over its limit. */
  readonly over: number;
}

/** Which log the daemon writes. */
export interface LogNow {
  readonly log: string;
  readonly site: string;
}

export type SigningNow = WindowSigning;
