import { z } from 'zod';
import {
  ASSURANCES,
  amendmentSchema,
  commentSchema,
  personSchema,
  sessionSchema,
  signatureSchema,
  transcribedSchema,
} from './people/people-bodies.ts';
import { registerSchema, scopeSchema } from './register/bodies.ts';
import { stepBodySchema } from './step-body.ts';
import type { EntryKind } from './types.ts';

/**
 * What the body of each kind of entry holds at least. Loose on purpose: a newer version of a kind only adds, and an
 * older reader still finds what it knows.
 */
const sha256Hex = z.string().regex(/^[0-9a-f]{64}$/);
const count = z.int().min(0);
const json = z.record(z.string(), z.unknown());

const person = z.looseObject({
  name: z.string(),
  role: z.string().optional(),
  /** How sure it is that it was this person. */
  assurance: z.enum(ASSURANCES).optional(),
});

/** A window: what is exercised and how, who is there, and what all of it is judged by. */
export const openingSchema = z.looseObject({
  stimuli: z.array(z.looseObject({ interlock: count, method: z.string() })),
  /** Hash of the book entry. */
  book: sha256Hex,
  engine: z.int(),
  people: z.array(person).optional(),
  /** People are led through it step by step; then also under which permit, and what they confirmed before. */
  guided: z.boolean().optional(),
  permit: z.string().optional(),
  precautions: z.array(z.string()).optional(),
});

/** Answers of a window as one block; `first` is the running number of the first of them. */
export const traceSchema = z.looseObject({
  encoding: z.string(),
  block: sha256Hex,
  count,
  first: count,
  from: z.string(),
  to: z.string(),
});

const anything = z.looseObject({});

/**
 * The end of a window. `entries`: how many entries of the window stand before this one, so that whoever holds the window
 * alone sees whether one was left out. Older logs do not have it.
 */
export const closingSchema = z.looseObject({
  entries: count.optional(),
  answers: count.optional(),
  findings: count.optional(),
});

/**
 * From the next checkpoint on this key signs. `key`: the raw 32 bytes of the Ed25519 public key as hex. Where it takes over
 * from another, `by` is that one's, and `proof` its signature (hex) over the canonical text of `{key, log, takesOverFrom}`, where
 * `takesOverFrom` is `by` and `log` the `log` of the genesis. The checkpoint over this very entry is the first that `key` signs.
 */
export const keySchema = z.looseObject({
  key: sha256Hex,
  by: sha256Hex.optional(),
  proof: z
    .string()
    .regex(/^[0-9a-f]{128}$/)
    .optional(),
});

/** One schema for each kind; an entry is kept and verified also where its body is none of these. */
export const bodySchemas: Readonly<Record<EntryKind, z.ZodType>> = {
  /** `key`: raw public key of the site, 64 hex digits; not in logs from before there were keys. */
  genesis: z.looseObject({ log: z.string(), site: z.string(), key: sha256Hex.optional() }),
  'daemon-started': anything,
  'daemon-stopped': anything,
  /** The whole resolved input, not only its name. */
  book: z.looseObject({ hash: sha256Hex, book: json }),
  'window-opened': openingSchema,
  'window-closed': closingSchema,
  'window-interrupted': closingSchema,
  /** `position`: answers of the window that were fed before it. */
  mark: z.looseObject({ mark: json, position: count }),
  trace: traceSchema,
  finding: z.looseObject({ finding: json }),
  verdict: z.looseObject({ finding: json }),
  'source-lost': anything,
  'source-refused': anything,
  'source-note': anything,
  'source-back': anything,
  /** The machine's. */
  'clock-stepped': anything,
  /** A source's clock, or ours where the subject is '': what was found of it. */
  clock: z.looseObject({ what: z.string() }),
  revision: anything,
  /** Seen outside of any window. */
  contradiction: z.looseObject({ finding: json }),
  key: keySchema,
  /** The log goes on from an older copy of itself: the newest checkpoint that was known of what is lost. */
  restored: z.looseObject({
    size: count,
    root: sha256Hex,
    utc: z.string(),
    key: sha256Hex,
    signature: z.string(),
  }),
  /** Chain over the checkpoints up to the one of `size` entries. */
  sealed: z.looseObject({ checkpoints: count, size: count, digest: sha256Hex }),
  person: personSchema,
  signature: signatureSchema,
  amendment: amendmentSchema,
  transcribed: transcribedSchema,
  register: registerSchema,
  scope: scopeSchema,
  session: sessionSchema,
  comment: commentSchema,
  step: stepBodySchema,
};
