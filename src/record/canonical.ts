import canonicalize from 'canonicalize';
import { z } from 'zod';
import { parseUtc } from '../measure/index.ts';
import { type Entry, type Json, KINDS } from './types.ts';

const isUtc = (text: string): boolean => text.endsWith('Z') && parseUtc(text) !== undefined;

/** Shape of an entry. Bodies are checked by what reads them: an entry of a newer version stays readable. */
export const entrySchema = z.strictObject({
  version: z.literal(1),
  seq: z.int().min(0),
  kind: z.enum(KINDS),
  subject: z.string(),
  actor: z.string(),
  utc: z.string().refine(isUtc),
  monotonic: z.number(),
  boot: z.string(),
  // What JSON.parse made is JSON; what has no canonical text (1e400) is refused with the text.
  body: z.record(z.string(), z.unknown()),
});

/** Canonical text after RFC 8785. Throws a RangeError for what it cannot hold (NaN, infinities, lone surrogates). */
export const canonicalText = (value: unknown): string => {
  let text: string | undefined;
  try {
    text = canonicalize(value);
  } catch (cause) {
    throw new RangeError(`this value has no canonical text: ${String(cause)}`, { cause });
  }
  if (text === undefined) throw new RangeError('this value has no canonical text');
  return text;
};

/** The only form in which an entry is stored and hashed. Throws a RangeError for what `parseEntry` would refuse. */
export const entryText = (entry: Entry): string => {
  const text = canonicalText(entry);
  const parsed = parseEntry(text);
  if ('fault' in parsed) throw new RangeError(`this entry could not be read back: ${parsed.fault}`);
  return text;
};

export type Parsed =
  | { readonly entry: Entry }
  | { readonly fault: 'not-json' | 'not-an-entry' | 'not-canonical' };

const jsonOf = (text: string): { readonly value: unknown } | undefined => {
  try {
    return { value: JSON.parse(text) };
  } catch {
    return undefined;
  }
};

/** Reads what `entryText` writes, and nothing else: not the same JSON in another spelling. Never throws. */
export const parseEntry = (text: string): Parsed => {
  const json = jsonOf(text);
  if (json === undefined) return { fault: 'not-json' };
  try {
    const parsed = entrySchema.safeParse(json.value);
    if (!parsed.success) return { fault: 'not-an-entry' };
    const entry = parsed.data as Entry;
    return canonicalText(entry) === text ? { entry } : { fault: 'not-canonical' };
  } catch {
    // Nested deeper than the stack, or a number beyond a double: nothing that was written here.
    return { fault: 'not-canonical' };
  }
};

/** What JSON keeps of a value: fields that are undefined go. For bodies made from our own plain data. */
export const plain = (value: unknown): Json => JSON.parse(JSON.stringify(value)) as Json;
