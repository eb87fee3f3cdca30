import { z } from 'zod';

/** What an account may do; a person may have several. */
export const ACCOUNT_ROLES = ['viewer', 'tester', 'reviewer', 'administrator'] as const;
export type AccountRole = (typeof ACCOUNT_ROLES)[number];

/** What somebody does in a test window. One person may do several. */
export const WINDOW_ROLES = [
  'sensor',
  'screen',
  'final-element',
  'horn',
  'witness',
  'reviewer',
  'permit-holder',
] as const;
export type WindowRole = (typeof WINDOW_ROLES)[number];

/** What a signature says (21 CFR 11.50(a)(3)). */
export const MEANINGS = ['performed', 'witnessed', 'reviewed'] as const;
export type Meaning = (typeof MEANINGS)[number];

/**
 * How sure it is who entered something: a name as typed; an account that was signed in; its password, asked for this very
 * entry. A signature takes the last.
 */
export const ASSURANCES = ['typed', 'session', 'password'] as const;

const sha256Hex = z.string().regex(/^[0-9a-f]{64}$/);
const text = z.string().max(2_000);
const name = z.string().min(1).max(120);

/** An account was made, changed or closed. Never its password, nor a hash of it. */
export const personSchema = z.looseObject({
  action: z.enum(['added', 'roles-changed', 'password-changed', 'closed', 'locked', 'unlocked']),
  id: name,
  name,
  roles: z.array(z.enum(ACCOUNT_ROLES)),
  /** Set at the file, after all passwords of administrators were lost: nobody had shown who he was. */
  recovered: z.boolean().optional(),
});

/**
 * A signature by password. `covers`: number of the last entry that was signed for, how many entries of the window stand
 * up to there, and the SHA-256 over their leaf hashes, one behind the other as bytes. Whatever is entered on the window
 * later is not covered.
 */
export const signatureSchema = z.looseObject({
  meaning: z.enum(MEANINGS),
  person: z.strictObject({ id: name, name }),
  role: z.string().max(60),
  assurance: z.literal('password'),
  covers: z.strictObject({ last: z.int().min(0), entries: z.int().min(1), digest: sha256Hex }),
});

/** A correction: what an entry said, what it should have said, and why. The entry itself stays as it is. */
export const amendmentSchema = z.looseObject({
  of: z.int().min(0),
  field: z.string().min(1).max(200),
  was: text,
  becomes: text,
  reason: text.min(1),
});

/** Values from a sheet that was filled in by hand, entered later. */
export const transcribedSchema = z.looseObject({
  sheet: z.string().max(200),
  /** Who filled it in, and when, as it says there. */
  by: name,
  on: z.string().max(60),
  values: z.record(z.string(), text),
});

/**
 * Somebody signed in to the daemon or out of it, or tried to; the subject is the account, '' where there is none of that id.
 * What was typed as an id that nobody has is not kept: it may be a password. `from`: network address. `more`: so many failures
 * before this one were not entered one by one, so that nobody can fill the log.
 */
export const sessionSchema = z.looseObject({
  action: z.enum(['signed-in', 'signed-out', 'failed']),
  id: z.string().max(120),
  name: z.string().max(120),
  from: z.string().max(60).optional(),
  more: z.int().min(1).optional(),
});

/**
 * What somebody has to say on a window afterwards. It changes no verdict. `at`: seconds after the opening that it speaks
 * of; `trial` is one of the named interlock.
 */
export const commentSchema = z.looseObject({
  text: text.min(1),
  interlock: name.optional(),
  trial: z.int().min(1).optional(),
  at: z.number().optional(),
});
