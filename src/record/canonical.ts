import canonicalize from 'canonicalize';
import { z } from 'zod';
import { type Entry, type Json, KINDS } from './types.ts';

/** Shape of an entry. Bodies are checked by what reads them: an entry of a newer version stays readable. */
export const entrySchema = z.strictObject({
  version: z.literal(1),
  seq: z.int().min(0),
  kind: z.enum(KINDS),
  subject: z.string(),
  actor: z.string(),
  utc: z.string(),
  monotonic: z.number(),
  boot: z.string(),
  body: z.record(z.string(), z.json()),
});

/** Canonical text after RFC 8785. Throws a RangeError for what it cannot hold (NaN, infinities, lone surrogates). */
export const canonicalText = (value: unknown): string => {
  const text = canonicalize(value);
  if (text === undefined) throw new RangeError('this value has no canonical text');
  return text;
};

/** The only form in which an entry is stored and hashed. */
export const entryText = (entry: Entry): string => canonicalText(entry);

export type Parsed = { readonly entry: Entry } | { readonly fault: string };

/** Reads what `entryText` writes, and nothing else: not the same JSON in another spelling. */
export const parseEntry = (text: string): Parsed => {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { fault: 'not-json' };
  }
  const parsed = entrySchema.safeParse(value);
  if (!parsed.success) return { fault: 'not-an-entry' };
  const entry = parsed.data as Entry;
  return entryText(entry) === text ? { entry } : { fault: 'not-canonical' };
};

/** What JSON keeps of a value: fields that are undefined go. For bodies made from our own plain data. */
export const plain = (value: unknown): Json => JSON.parse(JSON.stringify(value)) as Json;
