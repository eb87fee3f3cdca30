/** Edits through SQL, by somebody who knows the tables, the tree and the checkpoints, but has not the key. */
import { generateKeyPairSync } from 'node:crypto';
import type Database from 'better-sqlite3';
import {
  type Entry,
  entryText,
  leafOfText,
  parseEntry,
  statementText,
  treeHash,
  utf8,
} from '../../src/record/index.ts';
import { signerOf } from '../../src/store/ed25519.ts';
import { sha256 } from '../../src/store/index.ts';
import type { Random } from './random.ts';

export type RowEdit = (database: Database.Database, random: Random) => void;

interface EntryRow {
  readonly seq: number;
  readonly text: string;
  readonly leaf: string;
}
interface CheckpointRow {
  readonly size: number;
  readonly root: string;
  readonly utc: string;
  readonly key: string | null;
}

const entriesOf = (database: Database.Database): EntryRow[] =>
  database.prepare('SELECT * FROM entries ORDER BY seq').all() as EntryRow[];
const checkpointsOf = (database: Database.Database): CheckpointRow[] =>
  database.prepare('SELECT * FROM checkpoints ORDER BY size').all() as CheckpointRow[];
const blocksOf = (database: Database.Database): { hash: string; bytes: Buffer }[] =>
  database.prepare('SELECT * FROM blocks').all() as { hash: string; bytes: Buffer }[];

const putText = (database: Database.Database, seq: number, text: string): void => {
  database
    .prepare('UPDATE entries SET text = ?, leaf = ? WHERE seq = ?')
    .run(text, leafOfText(sha256, text), seq);
};

/** Makes every root anew over what now stands there, so that only the signatures tell. */
const makeRoots = (database: Database.Database): void => {
  const leaves = entriesOf(database).map(({ leaf }) => leaf);
  const put = database.prepare('UPDATE checkpoints SET root = ? WHERE size = ?');
  for (const { size } of checkpointsOf(database)) put.run(treeHash(sha256, leaves.slice(0, size)), size);
};

const changed = (text: string, random: Random): string => {
  const parsed = parseEntry(text);
  if (!('entry' in parsed)) return text;
  const { entry } = parsed;
  const field = random.pick(['actor', 'utc', 'body', 'subject'] as const);
  const other: Entry =
    field === 'body'
      ? { ...entry, body: { ...entry.body, added: Math.floor(random.next() * 1_000) } }
      : { ...entry, [field]: field === 'utc' ? '2025-01-01T00:00:00.000000Z' : 'Eve' };
  return entryText(other);
};

/** An entry rewritten: the text alone, with its leaf, or with all roots above it. */
const rewritten =
  (care: 'text' | 'leaf' | 'roots'): RowEdit =>
  (database, random) => {
    const { seq, text } = random.pick(entriesOf(database));
    if (care === 'text')
      database.prepare('UPDATE entries SET text = ? WHERE seq = ?').run(changed(text, random), seq);
    else putText(database, seq, changed(text, random));
    if (care === 'roots') makeRoots(database);
  };

const deleted: RowEdit = (database, random) => {
  const { seq } = random.pick(entriesOf(database));
  database.prepare('DELETE FROM entries WHERE seq = ?').run(seq);
};

/** Deleted, the rest moved up and renumbered, and all roots made anew. */
const deletedWithCare: RowEdit = (database, random) => {
  const rows = entriesOf(database);
  const gone = random.pick(rows).seq;
  database.exec('DELETE FROM entries');
  const put = database.prepare('INSERT INTO entries VALUES (?, ?, ?)');
  for (const { seq, text } of rows) {
    if (seq === gone) continue;
    const parsed = parseEntry(text);
    const at = seq > gone ? seq - 1 : seq;
    const moved = 'entry' in parsed ? entryText({ ...parsed.entry, seq: at }) : text;
    put.run(at, moved, leafOfText(sha256, moved));
  }
  database.prepare('DELETE FROM checkpoints WHERE size > ?').run(rows.length - 1);
  makeRoots(database);
};

const cutOff: RowEdit = (database, random) => {
  const { size } = random.pick(checkpointsOf(database).slice(0, -1));
  database.prepare('DELETE FROM entries WHERE seq >= ?').run(size);
  if (random.chance(0.7)) database.prepare('DELETE FROM checkpoints WHERE size > ?').run(size);
};

const swapped: RowEdit = (database, random) => {
  const rows = entriesOf(database);
  const [one, other] = [random.pick(rows), random.pick(rows)];
  const put = database.prepare('UPDATE entries SET text = ?, leaf = ? WHERE seq = ?');
  put.run(other.text, other.leaf, one.seq);
  put.run(one.text, one.leaf, other.seq);
  if (random.chance(0.5)) makeRoots(database);
};

const putIn: RowEdit = (database, random) => {
  const rows = entriesOf(database);
  const parsed = parseEntry(random.pick(rows).text);
  if (!('entry' in parsed)) return;
  const seq = rows.length;
  const text = entryText({ ...parsed.entry, seq });
  database.prepare('INSERT INTO entries VALUES (?, ?, ?)').run(seq, text, leafOfText(sha256, text));
  if (random.chance(0.5)) return;
  const last = checkpointsOf(database).at(-1);
  const leaves = entriesOf(database).map(({ leaf }) => leaf);
  const root = treeHash(sha256, leaves);
  database
    .prepare('INSERT INTO checkpoints SELECT ?, ?, ?, key, signature FROM checkpoints WHERE size = ?')
    .run(seq + 1, root, parsed.entry.utc, last?.size);
};

/** A new key brought in behind the end, without a proof or with a wrong one, and everything behind it signed by it. */
const ownKeyAtTheEnd: RowEdit = (database, random) => {
  const signer = signerOf(generateKeyPairSync('ed25519').privateKey);
  const rows = entriesOf(database);
  const [first, last] = [rows[0], rows.at(-1)].map((row) => parseEntry(row?.text ?? ''));
  if (first === undefined || last === undefined || !('entry' in first) || !('entry' in last)) return;
  const seq = rows.length;
  const before = checkpointsOf(database).at(-1)?.key ?? '';
  const proof = random.chance(0.5) ? { by: before, proof: '0'.repeat(128) } : {};
  const entry: Entry = { ...last.entry, seq, kind: 'key', subject: '', body: { key: signer.key, ...proof } };
  const text = entryText(entry);
  database.prepare('INSERT INTO entries VALUES (?, ?, ?)').run(seq, text, leafOfText(sha256, text));
  const statement = {
    key: signer.key,
    log: String(first.entry.body['log']),
    root: treeHash(sha256, [...rows.map(({ leaf }) => leaf), leafOfText(sha256, text)]),
    size: seq + 1,
    utc: entry.utc,
  };
  database
    .prepare('INSERT INTO checkpoints VALUES (?, ?, ?, ?, ?)')
    .run(seq + 1, statement.root, entry.utc, signer.key, signer.sign(utf8(statementText(statement))));
};

/** The whole log signed anew: another key in the genesis, every leaf, root and signature made again. */
const signedAnew: RowEdit = (database, random) => {
  const signer = signerOf(generateKeyPairSync('ed25519').privateKey);
  let log = '';
  for (const { seq, text } of entriesOf(database)) {
    const parsed = parseEntry(text);
    if (!('entry' in parsed)) continue;
    const { entry } = parsed;
    if (seq === 0) log = String(entry.body['log']);
    const isKey = seq === 0 || entry.kind === 'key';
    const body = isKey ? { ...entry.body, key: signer.key } : entry.body;
    const other = random.chance(0.1) ? { ...entry, body, actor: 'Eve' } : { ...entry, body };
    putText(database, seq, entryText(other));
  }
  makeRoots(database);
  const put = database.prepare('UPDATE checkpoints SET key = ?, signature = ? WHERE size = ?');
  for (const { size, root, utc } of checkpointsOf(database)) {
    const statement = { key: signer.key, log, root, size, utc };
    put.run(signer.key, signer.sign(utf8(statementText(statement))), size);
  }
};

const oneSample: RowEdit = (database, random) => {
  const { hash, bytes } = random.pick(blocksOf(database));
  const where = Math.floor(random.next() * bytes.length);
  bytes[where] = (bytes[where] ?? 0) ^ (1 + Math.floor(random.next() * 255));
  database.prepare('UPDATE blocks SET bytes = ? WHERE hash = ?').run(bytes, hash);
};

/** Two windows' traces swapped: the bytes, or the names in the entries, with leaves and roots made anew. */
const tracesSwapped: RowEdit = (database, random) => {
  const blocks = blocksOf(database);
  const [one, other] = [random.pick(blocks), random.pick(blocks)];
  if (random.chance(0.5)) {
    const put = database.prepare('UPDATE blocks SET bytes = ? WHERE hash = ?');
    put.run(other.bytes, one.hash);
    put.run(one.bytes, other.hash);
    return;
  }
  for (const { seq, text } of entriesOf(database)) {
    const moved = text
      .replaceAll(one.hash, 'ONE')
      .replaceAll(other.hash, one.hash)
      .replaceAll('ONE', other.hash);
    if (moved !== text) putText(database, seq, moved);
  }
  makeRoots(database);
};

const blockGone: RowEdit = (database, random) => {
  database.prepare('DELETE FROM blocks WHERE hash = ?').run(random.pick(blocksOf(database)).hash);
};
const blockPutIn: RowEdit = (database, random) => {
  const bytes = Buffer.from(String(random.next()));
  database.prepare('INSERT INTO blocks VALUES (?, ?)').run(sha256(bytes), bytes);
};

/** One column of a checkpoint: another value of the same kind, or none. */
const checkpointChanged: RowEdit = (database, random) => {
  const { size } = random.pick(checkpointsOf(database));
  const [column, value] = random.pick([
    ['root', sha256(Buffer.from(String(random.next())))],
    ['utc', '2025-01-01T00:00:00.000000Z'],
    ['key', sha256(Buffer.from(String(random.next())))],
    ['key', null],
    ['signature', '0'.repeat(128)],
    ['signature', null],
    ['size', 100_000 + size],
  ] as const);
  database.prepare(`UPDATE checkpoints SET ${column} = ? WHERE size = ?`).run(value, size);
};

const checkpointGone: RowEdit = (database, random) => {
  database.prepare('DELETE FROM checkpoints WHERE size = ?').run(random.pick(checkpointsOf(database)).size);
};
const checkpointsUnsigned: RowEdit = (database) =>
  void database.exec('UPDATE checkpoints SET key = NULL, signature = NULL');

export const ROW_EDITS: Readonly<Record<string, RowEdit>> = {
  'text of an entry': rewritten('text'),
  'entry and leaf': rewritten('leaf'),
  'entry, leaf and roots': rewritten('roots'),
  'entry deleted': deleted,
  'entry deleted, the rest made anew': deletedWithCare,
  'end cut off': cutOff,
  'entries swapped': swapped,
  'entry put in': putIn,
  'own key brought in': ownKeyAtTheEnd,
  'signed anew with another key': signedAnew,
  'one sample': oneSample,
  'traces of two windows swapped': tracesSwapped,
  'block deleted': blockGone,
  'block put in': blockPutIn,
  'checkpoint changed': checkpointChanged,
  'checkpoint deleted': checkpointGone,
  'all signatures taken away': checkpointsUnsigned,
};

const exec =
  (...statements: readonly string[]): RowEdit =>
  (database) => {
    for (const statement of statements) database.exec(statement);
  };

export const SCHEMA_EDITS: Readonly<Record<string, RowEdit>> = {
  'table dropped': (database, random) =>
    void database.exec(`DROP TABLE ${random.pick(['entries', 'blocks', 'checkpoints'])}`),
  'table emptied': (database, random) =>
    void database.exec(`DELETE FROM ${random.pick(['entries', 'blocks', 'checkpoints'])}`),
  'table renamed': (database, random) =>
    void database.exec(`ALTER TABLE ${random.pick(['entries', 'blocks', 'checkpoints'])} RENAME TO other`),
  'column dropped': (database, random) =>
    void database.exec(`ALTER TABLE checkpoints DROP COLUMN ${random.pick(['key', 'signature'])}`),
  'view in place of the entries': exec(
    'ALTER TABLE entries RENAME TO kept',
    "CREATE VIEW entries AS SELECT seq, replace(text, 'Ada', 'Eve') AS text, leaf FROM kept",
  ),
  'table without its key': exec(
    'CREATE TABLE other AS SELECT * FROM entries',
    'DROP TABLE entries',
    'ALTER TABLE other RENAME TO entries',
    'INSERT INTO entries SELECT seq, text, leaf FROM entries WHERE seq = 1',
  ),
  'version of the tables': (database, random) =>
    void database.pragma(`user_version = ${random.pick([0, 1, 3, 99])}`),
  'mark of the program': exec('PRAGMA application_id = 7'),
  'table added': exec('CREATE TABLE notes (text TEXT)', "INSERT INTO notes VALUES ('x')"),
  'packed anew': exec('VACUUM'),
};
