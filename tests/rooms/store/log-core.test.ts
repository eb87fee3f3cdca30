import { chmodSync, copyFileSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { auditFile, readLog, sha256 } from '../../../src/store/index.ts';
import { createCore, openCore, STEPS, type Trouble } from '../../../src/store/log-core.ts';
import { vectors } from '../record/vectors.ts';
import { codeOf, codesOf, draft, genesis, newPath, traceBatch } from './logs.ts';

/** Rights do not hold root back: as root, the work is done as a user without any. */
const asSomebodyElse = (work: () => void): void => {
  const root = process.geteuid?.() === 0;
  if (root) process.seteuid?.(65_534);
  try {
    work();
  } finally {
    if (root) process.seteuid?.(0);
  }
};

/** Folders of copies that a reader made and did not take away. */
const copiesLeft = (): string[] => readdirSync(tmpdir()).filter((name) => name.startsWith('tripwitness-'));

interface Messages {
  readonly messages: readonly { readonly text: string; readonly times: number; readonly sha256: string }[];
}

test.each(vectors<Messages>('sha256/messages.json').messages)('SHA-256 of $times × "$text"', (message) => {
  expect(sha256(Buffer.from(message.text.repeat(message.times)))).toBe(message.sha256);
});

describe('writing', () => {
  test('the writer numbers the entries; what it says is what is read and verifies', () => {
    const path = newPath();
    const log = createCore(path, genesis);
    expect(log.head().size).toBe(1);
    const first = log.append(traceBatch(1));
    expect(first).toMatchObject({ first: 1, size: 3 });
    const second = log.append(traceBatch(2));
    expect(second).toMatchObject({ first: 3, size: 5 });
    log.close();
    expect(auditFile(path)).toMatchObject({ entries: 5, root: second.root, damage: [], open: [] });
    const reader = readLog(path);
    expect(reader.parsed().map(({ seq, kind }) => `${seq} ${kind}`)).toEqual([
      '0 genesis',
      '1 trace',
      '2 mark',
      '3 trace',
      '4 mark',
    ]);
    expect(reader.entriesOf({ kind: 'mark', window: 'w-1' }).map(({ body }) => body['text'])).toEqual([
      'mark 1',
      'mark 2',
    ]);
    expect(reader.entriesOf({ window: 'w-2' })).toEqual([]);
    reader.close();
  });

  test('opened again it goes on where it was', () => {
    const path = newPath();
    const log = createCore(path, genesis);
    const { root } = log.append(traceBatch(1));
    log.close();
    const again = openCore(path);
    expect(again.head()).toMatchObject({ size: 3, root });
    expect(again.append(traceBatch(2)).first).toBe(3);
    again.close();
    expect(auditFile(path).damage).toEqual([]);
  });

  test('rows cannot be changed or deleted through SQL', () => {
    const path = newPath();
    const log = createCore(path, genesis);
    log.append(traceBatch(1));
    log.close();
    const database = new Database(path);
    for (const table of ['entries', 'blocks', 'checkpoints']) {
      expect(() => database.exec(`DELETE FROM ${table}`)).toThrow(/never deleted/);
      const column = { entries: 'text', blocks: 'bytes', checkpoints: 'root' }[table];
      expect(() => database.exec(`UPDATE ${table} SET ${column} = ${column}`)).toThrow(/never changed/);
    }
    // REPLACE deletes without asking the triggers of DELETE.
    const replace = (text: string) => () => database.exec(text);
    expect(replace("REPLACE INTO entries VALUES (1, 'x', 'y')")).toThrow(/never changed/);
    expect(replace("REPLACE INTO checkpoints VALUES (1, 'x', 'y', 'z', 'z')")).toThrow(/never changed/);
    expect(replace("REPLACE INTO blocks SELECT hash, x'00' FROM blocks")).toThrow(/never changed/);
    database.close();
    expect(auditFile(path).damage).toEqual([]);
  });

  test('an entry that could not be read back is refused, and its batch with it', () => {
    const path = newPath();
    const log = createCore(path, genesis);
    const wrong = draft('mark', '', { level: Number.NaN });
    expect(codeOf(() => log.append({ entries: [draft('mark'), wrong], blocks: [] }))).toBe('write-failed');
    expect(log.head().size).toBe(1);
    expect(log.append({ entries: [draft('mark')], blocks: [] }).first).toBe(1);
    log.close();
    expect(auditFile(path)).toMatchObject({ entries: 2, damage: [] });
  });

  test('windows without an end are found', () => {
    const path = newPath();
    const log = createCore(path, genesis);
    const kinds = ['window-opened', 'window-closed'] as const;
    log.append({
      entries: [...kinds.map((kind) => draft(kind, 'w-1')), draft('window-opened', 'w-2')],
      blocks: [],
    });
    log.close();
    expect(auditFile(path).open).toEqual(['w-2']);
  });
});

describe.each(STEPS)('trouble at the step "%s"', (step) => {
  const run = (trouble: Trouble, persisted: boolean): void => {
    const path = newPath();
    let armed = false;
    const log = createCore(path, genesis, {
      before: (now) => (armed && now === step ? trouble.before?.(now) : undefined),
      after: (now) => (armed && now === step ? trouble.after?.(now) : undefined),
    });
    log.append(traceBatch(1));
    armed = true;
    expect(codeOf(() => log.append(traceBatch(2)))).toBe('write-failed');
    armed = false;
    const stands = persisted ? 5 : 3;
    expect(log.head().size).toBe(stands);
    expect(auditFile(path)).toMatchObject({ entries: stands, damage: [] });
    // The writer goes on, without a gap and without writing anything twice.
    expect(log.append(traceBatch(3)).first).toBe(stands);
    log.close();
    expect(auditFile(path)).toMatchObject({ entries: stands + 2, damage: [] });
  };
  const fail = (): never => {
    throw new Error('the disk is full');
  };

  test('it fails', () => run({ before: fail }, step === 'head'));
  test('it is done, and fails all the same', () =>
    run({ after: fail }, step === 'commit' || step === 'head'));
});

describe('opening', () => {
  test('a missing file is an error, never a fresh start', () => {
    const path = newPath();
    expect(codeOf(() => openCore(path))).toBe('missing');
    expect(codeOf(() => readLog(path))).toBe('missing');
    expect(codeOf(() => auditFile(path))).toBe('missing');
    expect(readdirSync(dirname(path))).toEqual([]);
  });

  test('a log is never started over another file', () => {
    const path = newPath();
    writeFileSync(path, 'notes');
    expect(codeOf(() => createCore(path, genesis))).toBe('in-use');
    expect(readFileSync(path, 'utf8')).toBe('notes');
  });

  test('one unfinished by a crash leaves no log, and the next attempt makes it', () => {
    const path = newPath();
    writeFileSync(`${path}-new`, 'half a database');
    const log = createCore(path, genesis);
    log.close();
    expect(existsSync(`${path}-new`)).toBe(false);
    expect(auditFile(path)).toMatchObject({ entries: 1, damage: [] });
  });

  test('only one writer, also within one process; readers are welcome', () => {
    const path = newPath();
    const log = createCore(path, genesis);
    expect(codeOf(() => openCore(path))).toBe('in-use');
    expect(codeOf(() => createCore(path, genesis))).toBe('in-use');
    expect(auditFile(path)).toMatchObject({ entries: 1, damage: [] });
    expect(log.append(traceBatch(1)).first).toBe(1);
    log.close();
    openCore(path).close();
  });

  test('another database stays as it is, to the byte', () => {
    const path = newPath();
    const database = new Database(path);
    database.exec('CREATE TABLE notes (text TEXT)');
    database.close();
    const before = readFileSync(path);
    expect(codeOf(() => openCore(path))).toBe('not-a-log');
    expect(readFileSync(path).equals(before)).toBe(true);
    expect(codesOf(auditFile(path).damage)).toContain('database-damaged');
  });

  test('no database at all', () => {
    const path = newPath();
    writeFileSync(path, 'x'.repeat(5_000));
    expect(codeOf(() => openCore(path))).toBe('damaged');
    expect(codeOf(() => readLog(path))).toBe('damaged');
    expect(auditFile(path)).toMatchObject({ entries: 0, damage: [{ reason: { code: 'database-damaged' } }] });
  });

  test('an altered log is not written on', () => {
    const path = newPath();
    const log = createCore(path, genesis);
    log.append(traceBatch(1));
    log.close();
    const bytes = readFileSync(path);
    bytes.write('mark 9', bytes.indexOf('mark 1'));
    writeFileSync(path, bytes);
    expect(codeOf(() => openCore(path))).toBe('damaged');
  });

  test('a folder that is not there is said', () => {
    expect(codeOf(() => createCore(`${newPath()}/nowhere/log.db`, genesis))).toBe('write-failed');
  });

  test('a copy reads like the log itself, with the write-ahead file and, once closed, without', () => {
    const path = newPath();
    const log = createCore(path, genesis);
    const { root } = log.append(traceBatch(1));
    const copy = newPath();
    copyFileSync(path, copy);
    copyFileSync(`${path}-wal`, `${copy}-wal`);
    expect(auditFile(copy)).toMatchObject({ entries: 3, root, damage: [], open: [] });
    log.close();
    const alone = newPath();
    copyFileSync(path, alone);
    expect(auditFile(alone)).toMatchObject({ entries: 3, root, damage: [], open: [] });
  });

  test('in a folder that cannot be written a copy is read, and nothing is left behind', () => {
    const path = newPath();
    const log = createCore(path, genesis);
    const { root } = log.append(traceBatch(1));
    log.close();
    chmodSync(path, 0o444);
    chmodSync(dirname(path), 0o555);
    const [before, copies] = [readdirSync(dirname(path)), copiesLeft()];
    asSomebodyElse(() => {
      expect(() => new Database(path, { readonly: true }).pragma('schema_version')).toThrow(
        /unable to open|readonly database/,
      );
      expect(auditFile(path)).toMatchObject({ entries: 3, root, damage: [], open: [] });
    });
    expect(readdirSync(dirname(path))).toEqual(before);
    expect(copiesLeft()).toEqual(copies);
    chmodSync(dirname(path), 0o755);
  });

  test('what the system does not let us read is an error, not damage', () => {
    const path = newPath();
    createCore(path, genesis).close();
    chmodSync(path, 0o000);
    chmodSync(dirname(path), 0o755);
    asSomebodyElse(() => {
      expect(codeOf(() => auditFile(path))).toBe('no-access');
      expect(codeOf(() => readLog(path))).toBe('no-access');
    });
    expect(codeOf(() => auditFile(dirname(path)))).toBe('missing');
  });
});
