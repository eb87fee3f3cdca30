import type { Reason } from '../../measure/index.ts';
import type { Damage, Entry, Json } from '../types.ts';
import { amendmentSchema } from './people-bodies.ts';

/** A correction as entered: what stood there, what should have, and who says so. */
export interface Amendment {
  readonly entry: number;
  readonly utc: string;
  readonly by: string;
  /** Number of the corrected entry, and where in it, as `body.note`. */
  readonly of: number;
  readonly field: string;
  readonly was: string;
  readonly becomes: string;
  readonly reason: string;
  /** What it shows as the old text really stood there. */
  readonly fits: boolean;
}

export interface AmendRequest {
  readonly entry: number;
  readonly field: string;
  readonly becomes: string;
  readonly reason: string;
}

type Path = readonly string[];

/** Texts that people wrote, by kind of entry. `*` is any name; of a mark the second key is its code, of a step what was done. */
const FREE: Readonly<Record<string, readonly Path[]>> = {
  'window-opened': [
    ['note'],
    ['permit'],
    ['people', '*', 'name'],
    ['people', '*', 'role'],
    ['revisions', '*'],
  ],
  transcribed: [['sheet'], ['by'], ['on'], ['values', '*']],
  'mark now': [
    ['mark', 'text'],
    ['mark', 'by'],
  ],
  'mark attested': [
    ['mark', 'where'],
    ['mark', 'by'],
  ],
  'mark observed': [
    ['mark', 'instrument'],
    ['mark', 'by'],
  ],
  'mark adjusted': [
    ['mark', 'text'],
    ['mark', 'by'],
  ],
  'mark trial-aborted': [
    ['mark', 'text'],
    ['mark', 'by'],
  ],
  'mark bypassed': [
    ['mark', 'text'],
    ['mark', 'by'],
  ],
  'mark revision typed': [['mark', 'text']],
  'step left': [['step', 'why']],
  'step restored': [['step', 'note']],
};

const isObject = (value: Json | undefined): value is { readonly [key: string]: Json } =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const markOf = ({ body }: Entry): { readonly [key: string]: Json } => {
  const mark = body['mark'];
  return isObject(mark) ? mark : {};
};

const freeIn = (entry: Entry): readonly Path[] => {
  const { step } = entry.body;
  if (entry.kind === 'step') return FREE[`step ${isObject(step) ? String(step['do']) : ''}`] ?? [];
  if (entry.kind !== 'mark') return FREE[entry.kind] ?? [];
  const { code, quality } = markOf(entry);
  const key = code === 'revision' ? `mark revision ${String(quality)}` : `mark ${String(code)}`;
  return FREE[key] ?? [];
};

/** The keys that `field` names below `value`; a key may hold dots of its own. */
const pathIn = (value: Json | undefined, parts: Path): Path | undefined => {
  if (parts.length === 0) return [];
  if (typeof value !== 'object' || value === null) return undefined;
  for (let length = parts.length; length > 0; length -= 1) {
    const key = parts.slice(0, length).join('.');
    if (!Object.hasOwn(value, key)) continue;
    const rest = pathIn((value as Record<string, Json>)[key], parts.slice(length));
    if (rest !== undefined) return [key, ...rest];
  }
  return undefined;
};

const fieldPath = ({ body }: Entry, field: string): Path | undefined => {
  const parts = field.split('.');
  return parts[0] === 'body' && parts.length > 1 ? pathIn(body, parts.slice(1)) : undefined;
};

const at = (value: Json | undefined, path: Path): Json | undefined =>
  path.reduce<Json | undefined>(
    (inner, key) =>
      typeof inner === 'object' && inner !== null && Object.hasOwn(inner, key)
        ? (inner as Record<string, Json>)[key]
        : undefined,
    value,
  );

const isFree = (entry: Entry, path: Path): boolean =>
  freeIn(entry).some(
    (free) => free.length === path.length && free.every((key, index) => key === '*' || key === path[index]),
  );

/** Fields of an entry that may be corrected, as they are written on the command line. */
export const amendable = (entry: Entry): readonly string[] => {
  const found: string[] = [];
  const walk = (value: Json | undefined, path: Path): void => {
    if (typeof value === 'string' && isFree(entry, path)) found.push(['body', ...path].join('.'));
    if (typeof value !== 'object' || value === null || path.length > 3) return;
    for (const [key, inner] of Object.entries(value)) walk(inner as Json, [...path, key]);
  };
  walk(entry.body, []);
  return found;
};

/** Follows the entries of a log in their order, and holds each correction against the text that it shows as the old one. */
export interface Amending {
  take(entry: Entry): void;
  amendments(): readonly Amendment[];
}

export const followAmendments = (): Amending => {
  const seen = new Map<number, Entry>();
  /** What a corrected text says by now. */
  const now = new Map<string, string>();
  const found: Amendment[] = [];
  const stood = (about: Entry | undefined, field: string): Json | undefined => {
    const path = about && fieldPath(about, field);
    return about && path && isFree(about, path) ? at(about.body, path) : undefined;
  };
  return {
    take(entry) {
      if (freeIn(entry).length > 0) seen.set(entry.seq, entry);
      const read = entry.kind === 'amendment' ? amendmentSchema.safeParse(entry.body) : undefined;
      if (!read?.success) return;
      const { of, field, was, becomes, reason } = read.data;
      const about = seen.get(of);
      const key = `${of} ${field}`;
      const fits = about?.subject === entry.subject && (now.get(key) ?? stood(about, field)) === was;
      if (fits) now.set(key, becomes);
      found.push({
        entry: entry.seq,
        utc: entry.utc,
        by: entry.actor,
        of,
        field,
        was,
        becomes,
        reason,
        fits,
      });
    },
    amendments: () => found,
  };
};

/** The amendments among the entries of one window, in their order. */
export const amendmentsOf = (own: Iterable<Entry>): readonly Amendment[] => {
  const amending = followAmendments();
  for (const entry of own) amending.take(entry);
  return amending.amendments();
};

/** Amendments that show an old text which never stood there, or correct what nobody may. */
export const checkAmendments = (amendments: readonly Amendment[]): readonly Damage[] =>
  amendments.flatMap(({ entry, of, field, fits }) =>
    fits ? [] : [{ entry, reason: { code: 'amendment-misquotes', params: { of, field } } }],
  );

const replaced = (value: Json, path: Path, text: string): Json => {
  const [key, ...rest] = path;
  if (key === undefined) return text;
  if (Array.isArray(value))
    return value.map((inner: Json, index) => (String(index) === key ? replaced(inner, rest, text) : inner));
  if (!isObject(value)) return value;
  return { ...value, [key]: replaced(value[key] ?? null, rest, text) };
};

/** The body of an entry as its amendments would have it. Judging never asks for it. */
export const amendedBody = (entry: Entry, amendments: readonly Amendment[]): Entry['body'] =>
  amendments
    .filter(({ of, fits }) => fits && of === entry.seq)
    .reduce<Entry['body']>((body, { field, becomes }) => {
      const path = fieldPath({ ...entry, body }, field);
      return path === undefined ? body : (replaced(body, path, becomes) as Entry['body']);
    }, entry.body);

const refusalOf = (entry: Entry, field: string): Reason => {
  const params = { entry: entry.seq, kind: entry.kind, field, may: [...amendable(entry)].join(', ') };
  if (['trace', 'finding', 'verdict', 'contradiction'].includes(entry.kind))
    return { code: 'amend-evidence', params };
  return { code: 'amend-not-text', params };
};

/**
 * The body of an amendment to one of the entries of a window (`own`, in their order), or why there can be none: only
 * what people wrote is corrected, never what was read, found or judged, nor what a verdict rests on.
 */
export const amendmentFor = (
  own: readonly Entry[],
  request: AmendRequest,
): { readonly body: Entry['body'] } | { readonly refused: Reason } => {
  const about = own.find(({ seq }) => seq === request.entry);
  const { field, becomes, reason } = request;
  if (about === undefined) return { refused: { code: 'amend-no-entry', params: { entry: request.entry } } };
  const path = fieldPath(about, field);
  if (path === undefined || !isFree(about, path)) return { refused: refusalOf(about, field) };
  const was = at(amendedBody(about, amendmentsOf(own)), path);
  if (typeof was !== 'string') return { refused: refusalOf(about, field) };
  if (was === becomes) return { refused: { code: 'amend-same', params: { field } } };
  return { body: { of: about.seq, field: ['body', ...path].join('.'), was, becomes, reason } };
};
