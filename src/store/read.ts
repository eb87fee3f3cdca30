import { statSync } from 'node:fs';
import Database from 'better-sqlite3';
import {
  checkpointIn,
  type Damage,
  type Entry,
  type EntryKind,
  type KeptCheckpoint,
  type LogSource,
  parseEntry,
  type StoredCheckpoint,
} from '../record/index.ts';
import { openForReading } from './open-reading.ts';
import { refuseNewer } from './schema.ts';
import { LogError } from './types.ts';

interface Row {
  readonly seq: number;
  readonly text: string;
  readonly leaf: string;
}

/** A log opened for reading; the writer may be at work meanwhile. */
export interface LogReader extends LogSource {
  /** From number `from` on. */
  entries(from?: number): Generator<Row>;
  /** Rows of numbers `from` to `to` whose text holds these characters. */
  between(from: number, to: number, characters: string): Row[];
  /** Parsed entries; one that cannot be read is left to `audit`. */
  parsed(): Entry[];
  /** The same, of one kind or about one window. */
  entriesOf(wanted: { readonly kind?: EntryKind; readonly window?: string }): Entry[];
  /** The newest checkpoint and the identity of the log, from its genesis; undefined where there is none. */
  checkpoint(): KeptCheckpoint | undefined;
  /** `body.log` of the genesis; '' where that cannot be read. */
  log(): string;
  /** The first entry, where it can be read. */
  genesis(): Entry | undefined;
  /** What could not be read so far: a page that is no page any more. Nothing of it is thrown. */
  damage(): readonly Damage[];
  close(): void;
}

const strict = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });

/** Bytes that are no UTF-8 become another text, never by chance the one that was written. */
const textOf = (bytes: Uint8Array | null): string => {
  try {
    return strict.decode(bytes ?? new Uint8Array(0));
  } catch {
    return Buffer.from(bytes ?? []).toString('latin1');
  }
};

const rowOf = (stored: { seq: number; text: Uint8Array | null; leaf: unknown }): Row => ({
  seq: stored.seq,
  text: textOf(stored.text),
  leaf: String(stored.leaf),
});

const CHECKPOINT = 'SELECT size, root, utc, key, signature FROM checkpoints';
/** The same of a log from before there were keys. */
const CHECKPOINT_OLD = 'SELECT size, root, utc FROM checkpoints';
const ENTRY = 'SELECT seq, CAST(text AS BLOB) AS text, leaf FROM entries';
/** An entry is never shorter than this; bounds the search behind a damaged page. */
const SHORTEST_ENTRY = 100;

/** Without what is not there. */
const kept = (row: StoredCheckpoint): object =>
  Object.fromEntries(Object.entries(row).filter(([, value]) => value !== null));

const bytesOf = (path: string): number =>
  [path, `${path}-wal`].reduce(
    (sum, file) => sum + (statSync(file, { throwIfNoEntry: false })?.size ?? 0),
    0,
  );

export const readerOf = (database: Database.Database, path: string, close: () => void): LogReader => {
  const damage: Damage[] = [];
  let findBlock: Database.Statement | undefined;
  const note = (error: unknown, entry?: number): void => {
    if (!(error instanceof Database.SqliteError)) throw error;
    const reason = { code: 'database-damaged', params: { path, why: String(error) } };
    damage.push({ ...(entry !== undefined && { entry }), reason });
  };
  const guarded = <T>(look: () => T, instead: T): T => {
    try {
      return look();
    } catch (error) {
      note(error);
      return instead;
    }
  };
  const most = (): number => {
    const size = guarded(() => database.prepare('SELECT max(size) FROM checkpoints').pluck().get(), 0);
    return Math.min(Number(size ?? 0), bytesOf(path) / SHORTEST_ENTRY);
  };

  /** Entries behind a damaged page are still reached one by one; those on it are named. */
  function* behind(from: number): Generator<Row> {
    const one = database.prepare(`${ENTRY} WHERE seq = ?`);
    const end = most();
    for (let seq = from; seq < end; seq += 1) {
      let stored: Parameters<typeof rowOf>[0] | undefined;
      try {
        stored = one.get(seq) as typeof stored;
      } catch (error) {
        note(error, seq);
      }
      if (stored !== undefined) yield rowOf(stored);
    }
  }

  function* entries(from = 0): Generator<Row> {
    let next = from;
    try {
      for (const stored of database.prepare(`${ENTRY} WHERE seq >= ? ORDER BY seq`).iterate(from)) {
        const row = rowOf(stored as Parameters<typeof rowOf>[0]);
        next = row.seq + 1;
        yield row;
      }
      return;
    } catch (error) {
      note(error);
    }
    try {
      yield* behind(next);
    } catch (error) {
      note(error);
    }
  }

  function* rowsOf<T>(query: string): Generator<T> {
    try {
      yield* database.prepare(query).iterate() as Iterable<T>;
    } catch (error) {
      note(error);
    }
  }

  /** A damaged page is left to `entries`, which names what stood on it. */
  function* holding(characters: string): Generator<Row> {
    try {
      const rows = database.prepare(`${ENTRY} WHERE instr(text, ?) > 0 ORDER BY seq`).iterate(characters);
      for (const stored of rows) yield rowOf(stored as Parameters<typeof rowOf>[0]);
    } catch (error) {
      note(error);
    }
  }

  const between = (from: number, to: number, characters: string): Row[] =>
    guarded(() => {
      const query = `${ENTRY} WHERE seq BETWEEN ? AND ? AND instr(text, ?) > 0 ORDER BY seq`;
      return database
        .prepare(query)
        .all(from, to, characters)
        .map((stored) => rowOf(stored as Parameters<typeof rowOf>[0]));
    }, []);

  const columns = (): string => {
    const named = guarded(() => database.pragma('table_info(checkpoints)') as { name: string }[], []);
    return named.some(({ name }) => name === 'signature') ? CHECKPOINT : CHECKPOINT_OLD;
  };

  const genesis = (): Entry | undefined => {
    const stored = guarded(() => database.prepare(`${ENTRY} WHERE seq = 0`).get(), undefined);
    if (stored === undefined) return undefined;
    const one = parseEntry(rowOf(stored as Parameters<typeof rowOf>[0]).text);
    return 'entry' in one ? one.entry : undefined;
  };

  const log = (): string => {
    const named = genesis()?.body['log'];
    return typeof named === 'string' ? named : '';
  };

  const checkpoint = (): KeptCheckpoint | undefined => {
    const query = `${columns()} ORDER BY size DESC LIMIT 1`;
    const last = guarded(() => database.prepare(query).get(), undefined) as StoredCheckpoint | undefined;
    return last && checkpointIn({ ...kept(last), log: log() });
  };

  const read = (rows: Iterable<Row>): Entry[] =>
    [...rows].flatMap(({ text }) => {
      const one = parseEntry(text);
      return 'entry' in one ? [one.entry] : [];
    });

  /** Found by what the canonical text of such an entry holds; what only looks like it goes out again. */
  const entriesOf = (wanted: { readonly kind?: EntryKind; readonly window?: string }): Entry[] => {
    const { kind, window } = wanted;
    const mark = window === undefined ? `"kind":"${kind}"` : `"subject":${JSON.stringify(window)}`;
    const rows = kind === undefined && window === undefined ? entries() : holding(mark);
    return read(rows).filter(
      (entry) =>
        (kind === undefined || entry.kind === kind) && (window === undefined || entry.subject === window),
    );
  };

  const block = (hash: string): Uint8Array | undefined => {
    findBlock ??= database.prepare('SELECT bytes FROM blocks WHERE hash = ?').pluck();
    const bytes = findBlock.get(hash);
    return bytes instanceof Uint8Array ? bytes : undefined;
  };

  return {
    entries,
    checkpoints: () => rowsOf<StoredCheckpoint>(`${columns()} ORDER BY size`),
    checkpoint,
    genesis,
    log,
    holding,
    between,
    block: (hash) => guarded(() => block(hash), undefined),
    *blockNames() {
      for (const { hash } of rowsOf<{ hash: unknown }>('SELECT hash FROM blocks')) yield String(hash);
    },
    parsed: () => read(entries()),
    entriesOf,
    damage: () => damage,
    close,
  };
};

export const mustExist = (path: string): void => {
  if (statSync(path, { throwIfNoEntry: false })?.isFile() === true) return;
  throw new LogError(`${path} is not there, or no file; name the right log`, { code: 'missing' });
};

/** The system would not let us read, which says nothing about the log. */
export const isFileError = (error: unknown): boolean =>
  error instanceof Error && 'syscall' in error && !(error instanceof Database.SqliteError);

export const noAccess = (path: string, cause: unknown): LogError =>
  new LogError(`${path} cannot be read: ${String(cause)}; check its rights`, { code: 'no-access', cause });

/** Opens a log for reading. Throws a LogError where there is no file, or one that is no database any more. */
export const readLog = (path: string): LogReader => {
  mustExist(path);
  try {
    const { database, close } = openForReading(path);
    try {
      refuseNewer(database, path);
    } catch (error) {
      close();
      throw error;
    }
    return readerOf(database, path, close);
  } catch (cause) {
    if (isFileError(cause)) throw noAccess(path, cause);
    if (!(cause instanceof Database.SqliteError)) throw cause;
    throw new LogError(`${path} cannot be read: ${String(cause)}; run audit on it`, {
      code: 'damaged',
      cause,
    });
  }
};
