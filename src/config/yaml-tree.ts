import {
  type Document,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  LineCounter,
  parseAllDocuments,
  type Scalar as YamlScalar,
} from 'yaml';
import type { Place, Tell } from './fault.ts';
import type { Entry, Scalar, Tree } from './tree.ts';

/** What the YAML library calls it, in our codes; anything else is `yaml-syntax`. */
const CODES: Readonly<Record<string, string>> = {
  DUPLICATE_KEY: 'duplicate-key',
  TAB_AS_INDENT: 'tab',
  TAG_RESOLVE_FAILED: 'yaml-tag',
  BAD_INDENT: 'bad-indent',
  MISSING_CHAR: 'missing-character',
};

interface Reader {
  readonly place: (offset: number) => Place;
  readonly tell: Tell;
  readonly text: string;
}

const offsetOf = (node: unknown): number => {
  const range = (node as { range?: readonly number[] | null } | null)?.range;
  return range?.[0] ?? 0;
};

const scalarOf = (node: YamlScalar, reader: Reader): Tree => {
  const place = reader.place(offsetOf(node));
  const text = node.source ?? String(node.value);
  const value = typeof node.value === 'bigint' ? Number(node.value) : node.value;
  const quoted = node.type === 'QUOTE_DOUBLE' || node.type === 'QUOTE_SINGLE';
  const read = { kind: 'scalar', place, value: value as Scalar, text, loose: false } as const;
  if (quoted || typeof value !== 'number' || !/^[+-]?0\d/.test(text)) return read;
  reader.tell(place, 'leading-zero', { text });
  return { ...read, told: true };
};

const entryOf = (key: unknown, value: unknown, reader: Reader): Entry => {
  const place = reader.place(offsetOf(key));
  if (!isScalar(key) || key.value === null) reader.tell(place, 'key-not-a-word');
  const word = isScalar(key) ? (key.source ?? String(key.value)) : '';
  return { key: word, place, value: treeOf(value, reader, place) };
};

const treeOf = (node: unknown, reader: Reader, owner: Place): Tree => {
  if (isMap(node)) {
    const seen = new Set<string>();
    const all = node.items.map((pair) => entryOf(pair.key, pair.value, reader));
    // Of a key that stands twice the first is read on: the second has been told.
    const entries = all.filter(({ key }) => !seen.has(key) && seen.add(key));
    return { kind: 'map', place: reader.place(offsetOf(node)), entries };
  }
  if (isSeq(node)) {
    const place = reader.place(offsetOf(node));
    return { kind: 'list', place, items: node.items.map((item) => treeOf(item, reader, place)) };
  }
  if (isScalar(node)) return scalarOf(node, reader);
  if (isAlias(node)) {
    const place = reader.place(offsetOf(node));
    reader.tell(place, 'alias', { name: node.source });
    return { kind: 'scalar', place, value: '', text: `*${node.source}`, loose: false, told: true };
  }
  return { kind: 'scalar', place: owner, value: null, text: '', loose: false };
};

/** Faults after which keys and values can still be trusted to belong where they seem to. */
const HARMLESS = new Set(['duplicate-key', 'yaml-tag', 'several-documents']);

/** Tells what the YAML library found; true where the shape of the file cannot be trusted any more. */
const troubles = (doc: Document.Parsed, reader: Reader): boolean => {
  let broken = false;
  for (const trouble of [...doc.errors, ...doc.warnings]) {
    if (trouble.code === 'BAD_ALIAS') continue; // told where the alias stands
    const what = trouble.message.split('\n')[0] ?? '';
    const code = CODES[trouble.code] ?? (/tab/i.test(what) ? 'tab' : 'yaml-syntax');
    const start = trouble.pos[0];
    const word = /^[^\s:,{}[\]]+/.exec(reader.text.slice(start))?.[0] ?? '';
    reader.tell(reader.place(start), code, { what: what.replace(/ at line \d+.*$/, ''), word });
    if (!HARMLESS.has(code)) broken = true;
  }
  return broken;
};

/**
 * Reads YAML 1.2 (core schema), strictly: one document, no duplicate keys, no tabs, no tags of others, no
 * aliases. Undefined where nothing can be read; what is wrong has been told.
 */
export const readYaml = (text: string, file: string, tell: Tell): Tree | undefined => {
  const counter = new LineCounter();
  const docs = parseAllDocuments(text, {
    version: '1.2',
    schema: 'core',
    uniqueKeys: true,
    strict: true,
    prettyErrors: false,
    keepSourceTokens: false,
    lineCounter: counter,
  });
  const place = (offset: number): Place => {
    const { line, col } = counter.linePos(offset);
    return { file, line: Math.max(1, line), column: Math.max(1, col) };
  };
  const reader: Reader = { place, tell, text };
  const list: readonly Document.Parsed[] = Array.isArray(docs) ? docs : [];
  const [first, second] = list;
  if (first === undefined || first.contents === null) {
    tell({ file, line: 1, column: 1 }, 'empty-file');
    return undefined;
  }
  if (second !== undefined) tell(place(offsetOf(second)), 'several-documents');
  const version = /^%YAML\s+(\S+)/m.exec(text);
  if (version !== null && version[1] !== '1.2')
    tell(place(version.index), 'yaml-version', { version: version[1] ?? '' });
  const broken = list.map((doc) => troubles(doc, reader)).some((found) => found);
  return broken ? undefined : treeOf(first.contents, reader, place(0));
};
