import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { auditFile, LogError } from '../../../src/store/index.ts';
import { createCore, openCore } from '../../../src/store/log-core.ts';
import { codesOf, dropTriggers, genesis, newPath, traceBatch } from './logs.ts';

interface Stored {
  readonly path: string;
  readonly bytes: Buffer;
  readonly entries: readonly { readonly seq: number; readonly text: string; readonly leaf: string }[];
  readonly blocks: readonly { readonly hash: string; readonly bytes: Buffer }[];
  readonly checkpoints: readonly { readonly size: number; readonly root: string; readonly utc: string }[];
}

/** A closed log: everything in one file, nothing in the write-ahead file. Times differ, so that each text is found once. */
const newLog = (batches: number): Stored => {
  const path = newPath();
  const log = createCore(path, genesis);
  for (let number = 0; number < batches; number += 1) {
    const { entries, blocks } = traceBatch(number);
    const utc = `2026-11-25T09:31:00.${String(number).padStart(6, '0')}Z`;
    log.append({ entries: entries.map((entry) => ({ ...entry, utc })), blocks });
  }
  log.close();
  const database = new Database(path, { readonly: true });
  const all = <T>(query: string): T[] => database.prepare(query).all() as T[];
  const stored = {
    path,
    bytes: readFileSync(path),
    entries: all<Stored['entries'][number]>('SELECT * FROM entries ORDER BY seq'),
    blocks: all<Stored['blocks'][number]>('SELECT * FROM blocks'),
    checkpoints: all<Stored['checkpoints'][number]>('SELECT * FROM checkpoints ORDER BY size'),
  };
  database.close();
  return stored;
};

const auditOf = (bytes: Uint8Array) => {
  const path = newPath();
  writeFileSync(path, bytes);
  return auditFile(path);
};

/** Where a record lies in the file; it must lie there once. */
const placeOf = (log: Stored, record: string | Buffer): number => {
  const at = log.bytes.indexOf(record);
  expect(at).toBeGreaterThan(0);
  return at;
};

/** Where a hash stands inside the texts of entries. */
const placesOfText = (log: Stored, hash: string): number[] =>
  log.entries.flatMap(({ text }) => {
    const inside = text.indexOf(hash);
    return inside < 0 ? [] : [placeOf(log, text) + inside];
  });

/** Audits the file with each of these bytes changed in turn; calls back with what was named. */
const sweep = (
  log: Stored,
  record: { readonly at: number; readonly length: number; readonly step?: number },
  look: (named: readonly (number | undefined)[], codes: readonly string[]) => void,
): void => {
  const path = newPath();
  for (let offset = 0; offset < record.length; offset += record.step ?? 1) {
    const bytes = Buffer.from(log.bytes);
    const at = record.at + offset;
    bytes[at] = (bytes[at] ?? 0) ^ (offset % 2 === 0 ? 0x01 : 0x80);
    writeFileSync(path, bytes);
    const { damage } = auditFile(path);
    look(
      damage.map(({ entry }) => entry),
      codesOf(damage),
    );
  }
};

describe('one byte changed in the file', () => {
  const log = newLog(4);

  test('of the text of an entry: each byte, that entry alone', () => {
    expect(auditOf(log.bytes).damage).toEqual([]);
    for (const { seq, text } of [log.entries[0]!, log.entries[3]!, log.entries.at(-1)!]) {
      sweep(log, { at: placeOf(log, text), length: text.length }, (named, codes) => {
        expect(codes).toContain('entry-altered');
        // A trace whose text no longer says its block leaves that block without a name.
        const others = named.filter((_, index) => codes[index] !== 'block-unnamed');
        expect(new Set(others)).toEqual(new Set([seq]));
      });
    }
  });

  test('of a leaf: its entry alone', () => {
    for (const { seq, leaf } of [log.entries[0]!, log.entries[4]!]) {
      sweep(log, { at: placeOf(log, leaf), length: leaf.length }, (named, codes) => {
        expect(codes).toEqual(['entry-altered']);
        expect(named).toEqual([seq]);
      });
    }
  });

  test('of a block: the entry that names it', () => {
    const [block] = log.blocks;
    const seq = log.entries.find(({ text }) => text.includes(block!.hash))?.seq;
    sweep(log, { at: placeOf(log, block!.bytes), length: block!.bytes.length }, (named, codes) => {
      expect(codes).toEqual(['block-altered']);
      expect(named).toEqual([seq]);
    });
  });

  test('of the name of a block: the file is damaged, since its index says another', () => {
    const [block] = log.blocks;
    // The name stands in the entry and in the index too; in the row of the block it stands right before the bytes.
    const at = placeOf(log, block!.bytes) - 64;
    sweep(log, { at, length: 64, step: 5 }, (_named, codes) => expect(codes).toContain('database-damaged'));
  });

  test('of the name of a block in the index: the entry that misses it', () => {
    const [block] = log.blocks;
    const seq = log.entries.find(({ text }) => text.includes(block!.hash))?.seq;
    const places = [...log.bytes.toString('latin1').matchAll(new RegExp(block!.hash, 'g'))].map(
      ({ index }) => index,
    );
    const own = new Set([placeOf(log, block!.bytes) - 64, ...placesOfText(log, block!.hash)]);
    const at = places.find((place) => !own.has(place));
    sweep(log, { at: at ?? 0, length: 64, step: 5 }, (named, codes) => {
      expect(codes).toContain('block-missing');
      expect(named).toContain(seq);
    });
  });

  test('of a checkpoint, its root or its time: the entry that it follows', () => {
    const { size, root, utc } = log.checkpoints[2]!;
    const at = placeOf(log, root);
    sweep(log, { at, length: 64 + utc.length }, (named, codes) => {
      expect(new Set(codes)).toEqual(new Set(['checkpoint-altered']));
      expect(new Set(named)).toEqual(new Set([size - 1]));
    });
  });

  test('of the last checkpoint: the range under it', () => {
    const { root } = log.checkpoints.at(-1)!;
    sweep(log, { at: placeOf(log, root), length: 64 }, (_named, codes) => {
      expect(codes).toEqual(['checkpoint-differs']);
    });
  });

  test('anywhere: the audit ends, and never in an exception', () => {
    let silent = 0;
    sweep(log, { at: 0, length: log.bytes.length, step: 37 }, (_named, codes) => {
      if (codes.length === 0) silent += 1;
    });
    // Pages have unused room, and the header has counters that no record stands in.
    expect(silent).toBeGreaterThan(0);
  });
});

describe('rows taken, put in and moved behind the triggers', () => {
  const change = (...statements: readonly string[]): ReturnType<typeof auditFile> => {
    const { path } = newLog(4);
    const database = new Database(path);
    dropTriggers(database);
    for (const statement of statements) database.exec(statement);
    database.close();
    return auditFile(path);
  };
  const namedBy = (...statements: readonly string[]): string[] =>
    change(...statements).damage.map(({ entry, reason }) => `${reason.code} ${entry ?? ''}`.trim());

  test('nothing done', () => expect(change().damage).toEqual([]));
  test('an entry deleted', () =>
    expect(namedBy('DELETE FROM entries WHERE seq = 4')).toContain('entry-missing 4'));
  test('the end cut off', () =>
    expect(namedBy('DELETE FROM entries WHERE seq > 5')).toContain('entries-cut-off 6'));
  test('a trace deleted with its block', () => {
    const named = namedBy('DELETE FROM blocks', 'DELETE FROM entries WHERE seq = 1');
    expect(named).toContain('entry-missing 1');
    expect(named).toContain('block-missing 3');
  });
  test('two entries swapped', () => {
    const named = namedBy(
      'UPDATE entries SET seq = 100 WHERE seq = 3',
      'UPDATE entries SET seq = 3 WHERE seq = 5',
      'UPDATE entries SET seq = 5 WHERE seq = 100',
    );
    expect(named).toEqual(
      expect.arrayContaining(['entry-misplaced 3', 'entry-misplaced 5', 'checkpoint-differs']),
    );
  });
  test('an entry put in, the rest moved up', () => {
    const named = namedBy(
      'UPDATE entries SET seq = seq + 1001 WHERE seq >= 4',
      'INSERT INTO entries SELECT 4, text, leaf FROM entries WHERE seq = 2',
      'UPDATE entries SET seq = seq - 1000 WHERE seq > 1000',
    );
    expect(named).toEqual(expect.arrayContaining(['entry-misplaced 4', 'no-checkpoint 9']));
  });
  test('an entry put in at the end', () => {
    const named = namedBy('INSERT INTO entries SELECT 9, text, leaf FROM entries WHERE seq = 2');
    expect(named).toEqual(['entry-misplaced 9', 'no-checkpoint 9']);
  });
  test('a block put in', () =>
    expect(namedBy("INSERT INTO blocks VALUES ('x', x'00')")).toEqual(['block-unnamed']));
  test('all checkpoints deleted', () =>
    expect(namedBy('DELETE FROM checkpoints')).toEqual(['no-checkpoint 0']));
  test('a table dropped', () => expect(namedBy('DROP TABLE blocks')).toContain('database-damaged'));
  test('everything deleted', () => {
    expect(namedBy('DELETE FROM entries', 'DELETE FROM checkpoints')).toContain('log-empty');
  });
});

describe('pages that are no pages any more', () => {
  const PAGE = 4_096;

  test('entries on a torn page are named, those on the others are still read', () => {
    const log = newLog(60);
    const torn = Math.floor(placeOf(log, log.entries[50]!.text) / PAGE);
    const bytes = Buffer.from(log.bytes).fill(0xff, torn * PAGE, (torn + 1) * PAGE);
    const { damage, entries } = auditOf(bytes);
    const lost = log.entries
      .filter(({ text }) => Math.floor(log.bytes.indexOf(text) / PAGE) === torn)
      .map(({ seq }) => seq);
    expect(lost).toContain(50);
    const named = damage.filter(({ reason }) => reason.code === 'database-damaged').map(({ entry }) => entry);
    expect(named).toEqual(expect.arrayContaining(lost));
    expect(entries).toBe(log.entries.length - lost.length);
    const altered = damage.filter(({ reason }) => reason.code === 'entry-altered');
    expect(altered).toEqual([]);
  });

  test('each page in turn: always damage, never an exception', () => {
    const log = newLog(30);
    for (let page = 0; page < log.bytes.length / PAGE; page += 1) {
      const bytes = Buffer.from(log.bytes).fill(0, page * PAGE, (page + 1) * PAGE);
      expect(auditOf(bytes).damage.length).toBeGreaterThan(0);
    }
  });

  test('cut short, and empty', () => {
    const log = newLog(30);
    for (const pages of [1, 2, 5])
      expect(auditOf(log.bytes.subarray(0, pages * PAGE)).damage.length).toBeGreaterThan(0);
    expect(auditOf(Buffer.alloc(0)).damage.length).toBeGreaterThan(0);
  });
});

describe('the write-ahead file after a crash', () => {
  /** Both files as a killed writer leaves them: taken while it is still open. */
  const crashed = () => {
    const path = newPath();
    const log = createCore(path, genesis);
    for (let number = 0; number < 4; number += 1) log.append(traceBatch(number));
    const copy = newPath();
    copyFileSync(path, copy);
    copyFileSync(`${path}-wal`, `${copy}-wal`);
    log.close();
    return { copy, wal: readFileSync(`${copy}-wal`) };
  };
  const FRAME = 24 + 4_096;

  test('whole it verifies', () => {
    expect(auditFile(crashed().copy)).toMatchObject({ entries: 9, damage: [] });
  });

  test('one byte changed in a committed transaction is damage, and no writer opens it', () => {
    const { copy, wal } = crashed();
    const frames = Math.floor((wal.length - 32) / FRAME);
    expect(frames).toBeGreaterThan(8);
    // Frame header (page number, salt, checksum) and page content of each of the first frames; the file header as well.
    for (const at of [0, 9, 16, 24, 32, 32 + 9, 32 + 17, 32 + 24 + 100, 32 + FRAME + 2_000]) {
      const bytes = Buffer.from(wal);
      bytes[at] = (bytes[at] ?? 0) ^ 0x10;
      writeFileSync(`${copy}-wal`, bytes);
      expect(codesOf(auditFile(copy).damage)).toContain('wal-broken');
      expect(() => openCore(copy)).toThrow(LogError);
      // Refused before anything was moved: the evidence is still there.
      expect(readFileSync(`${copy}-wal`).equals(bytes)).toBe(true);
    }
  });

  test('its last transaction half written is a crash, not damage', () => {
    const { copy, wal } = crashed();
    writeFileSync(`${copy}-wal`, wal.subarray(0, wal.length - 100));
    expect(auditFile(copy)).toMatchObject({ entries: 7, damage: [] });
  });
});
