/** What a log is held against from outside: the memory beside the keys, older copies, reports, a fingerprint from paper. */
import { copyFileSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { fingerprintOf } from '../../../src/record/index.ts';
import { auditFile, keysBeside, sha256 } from '../../../src/store/index.ts';
import { createCore, openCore } from '../../../src/store/log-core.ts';
import { codeOf, codesOf, genesis, newPath, traceBatch } from './logs.ts';

const append = (path: string, ...numbers: readonly number[]): void => {
  const log = openCore(path);
  for (const number of numbers) log.append(traceBatch(number));
  log.close();
};

/** A closed log of five entries, and a copy of it from when it had three. */
const newLog = (): { readonly path: string; readonly older: string; readonly keys: string } => {
  const path = newPath();
  createCore(path, genesis).close();
  append(path, 1);
  const older = newPath();
  copyFileSync(path, older);
  append(path, 2);
  return { path, older, keys: keysBeside(path) };
};

/** A log of the same beginning that another key signs. */
const forged = (): string => {
  const path = newPath();
  createCore(path, genesis).close();
  append(path, 1, 2);
  return path;
};

describe('the memory beside the keys', () => {
  test('is that of the last entry after every append, and vouches for all of it', () => {
    const path = newPath();
    const log = createCore(path, genesis);
    const memory = join(keysBeside(path), 'log.db.head.json');
    for (const number of [1, 2]) {
      const { size, root } = log.append(traceBatch(number));
      expect(JSON.parse(readFileSync(memory, 'utf8'))).toMatchObject({ size, root, log: 'l-1' });
    }
    log.close();
    expect(auditFile(path, { keys: keysBeside(path) })).toMatchObject({ damage: [], vouched: 5, notes: [] });
  });

  test('an older copy put back is named, and no writer opens it', () => {
    const { path, older, keys } = newLog();
    copyFileSync(older, path);
    expect(auditFile(path).damage).toEqual([]);
    const found = auditFile(path, { keys });
    expect(codesOf(found.damage)).toEqual(['anchor-beyond']);
    expect(found.damage[0]?.reason.params).toMatchObject({ size: 5, entries: 3, from: 'log.db.head.json' });
    expect(codeOf(() => openCore(path))).toBe('rolled-back');
  });

  test('put back and written on by the same key: the roots part', () => {
    const { path, older, keys } = newLog();
    const memory = join(keys, 'log.db.head.json');
    const kept = readFileSync(memory);
    copyFileSync(older, path);
    rmSync(memory);
    append(path, 8, 9);
    writeFileSync(memory, kept);
    expect(codesOf(auditFile(path, { keys }).damage)).toEqual(['anchor-differs']);
    expect(codeOf(() => openCore(path))).toBe('damaged');
  });

  test('all of it signed anew with another key', () => {
    const { path, keys } = newLog();
    copyFileSync(forged(), path);
    expect(auditFile(path).damage).toEqual([]);
    expect(codesOf(auditFile(path, { keys }).damage)).toEqual(['anchor-other-key']);
    rmSync(join(keys, 'log.db.head.json'));
    expect(codesOf(auditFile(path, { keys }).damage)).toEqual(['key-not-ours']);
    expect(codeOf(() => openCore(path))).toBe('other-key');
  });

  test('another log of the same site put in its place', () => {
    const { path, keys } = newLog();
    const other = join(dirname(path), 'other.db');
    createCore(other, { ...genesis, body: { ...genesis.body, log: 'l-2' } }).close();
    copyFileSync(other, path);
    expect(codesOf(auditFile(path, { keys }).damage)).toEqual(['anchor-other-log']);
    expect(codeOf(() => openCore(path))).toBe('rolled-back');
  });

  test('the log taken away: a new one is not begun in silence', () => {
    const { path } = newLog();
    rmSync(path);
    expect(codeOf(() => createCore(path, genesis))).toBe('rolled-back');
    expect(existsSync(path)).toBe(false);
  });

  test('a copy under another name may be older, and is told so', () => {
    const { older, path, keys } = newLog();
    const copy = join(dirname(path), 'copy.db');
    copyFileSync(older, copy);
    const found = auditFile(copy, { keys });
    expect([codesOf(found.damage), codesOf(found.notes), found.vouched]).toEqual([[], ['copy-is-older'], 0]);
  });

  test('lost, it is begun anew; altered, it proves nothing and is told', () => {
    const { path, keys } = newLog();
    const memory = join(keys, 'log.db.head.json');
    writeFileSync(memory, readFileSync(memory, 'utf8').replace('"size":5', '"size":9'));
    expect(codesOf(auditFile(path, { keys }).notes)).toEqual(['head-no-memory']);
    const log = openCore(path);
    expect(log.opening().map(({ code }) => code)).toEqual(['head-unreadable']);
    log.close();
    rmSync(memory);
    expect(codesOf(auditFile(path, { keys }).notes)).toEqual(['no-memory']);
    openCore(path).close();
    expect(auditFile(path, { keys }).vouched).toBe(5);
  });
});

describe('what people bring', () => {
  const reportOf = (path: string, file: string): string => {
    const log = openCore(path);
    const { log: id, ...checkpoint } = log.head();
    log.close();
    const report = join(dirname(path), file);
    writeFileSync(report, JSON.stringify({ version: 1, log: id, checkpoint }));
    return report;
  };

  test('a report from before: the log goes on from it, or is named', () => {
    const { path, older } = newLog();
    const early = reportOf(path, 'early.json');
    append(path, 3);
    expect(auditFile(path, { against: [early] })).toMatchObject({ damage: [], vouched: 5 });
    expect(codesOf(auditFile(older, { against: [early] }).damage)).toEqual(['anchor-beyond']);
    expect(codesOf(auditFile(forged(), { against: [early] }).damage)).toEqual(['anchor-other-key']);
  });

  test('an older copy: where the two part is named', () => {
    const { path, older } = newLog();
    expect(auditFile(path, { against: [older] })).toMatchObject({ damage: [], vouched: 3 });
    const copy = newPath();
    copyFileSync(older, copy);
    const keys = keysBeside(copy);
    mkdirSync(keys, { mode: 0o700 });
    copyFileSync(join(keysBeside(path), 'site-key.pem'), join(keys, 'site-key.pem'));
    const log = openCore(copy);
    log.append(traceBatch(7));
    log.close();
    const { damage } = auditFile(path, { against: [copy] });
    expect(damage.map(({ entry, reason }) => `${reason.code} ${entry ?? ''}`.trim())).toEqual([
      'anchor-differs',
      'copy-parts 3',
    ]);
  });

  test('a checkpoint whose signature does not fit is refused, and so is a file without one', () => {
    const { path } = newLog();
    const report = reportOf(path, 'report.json');
    writeFileSync(report, readFileSync(report, 'utf8').replace('"size":5', '"size":4'));
    expect(codeOf(() => auditFile(path, { against: [report] }))).toBe('no-checkpoint');
    writeFileSync(report, 'nothing');
    expect(codeOf(() => auditFile(path, { against: [report] }))).toBe('no-checkpoint');
    expect(codeOf(() => auditFile(path, { against: [`${report}x`] }))).toBe('no-checkpoint');
  });

  test('a fingerprint from paper finds its checkpoint, in any log that goes on from it', () => {
    const { path, older } = newLog();
    const { root, log } = auditFile(older);
    const fingerprint = fingerprintOf(sha256, { size: 3, root, log });
    const found = auditFile(path, { fingerprint });
    expect([codesOf(found.damage), codesOf(found.notes), found.vouched]).toEqual([[], ['paper-found'], 3]);
    expect(codesOf(auditFile(forged(), { fingerprint: 'AAAA-BBBB-CCCC-DDDD' }).damage)).toEqual([
      'paper-unknown',
    ]);
  });
});
