import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type Database from 'better-sqlite3';
import { afterEach } from 'vitest';
import type { EntryKind } from '../../../src/record/index.ts';
import { type Batch, type Draft, LogError, sha256 } from '../../../src/store/index.ts';

const folders: string[] = [];

afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** A path of its own for each test; blanks and signs in it, as people have them. */
export const newPath = (): string => {
  const folder = mkdtempSync(join(tmpdir(), 'log of a mill #1-'));
  folders.push(folder);
  return join(folder, 'log.db');
};

export const draft = (kind: EntryKind, subject = '', body: Draft['body'] = {}): Draft => ({
  version: 1,
  kind,
  subject,
  actor: 'Ada',
  utc: '2026-11-25T09:30:00.000000Z',
  monotonic: 1,
  boot: 'b-1',
  body,
});

export const genesis = draft('genesis', 'saltmarsh-mill', { log: 'l-1', site: 'saltmarsh-mill' });

/** A trace of two rows; each number gives another block. */
export const traceBatch = (number: number): Batch => {
  const bytes = Uint8Array.from({ length: 64 }, (_, index) => (index * 7 + number) % 256);
  return {
    entries: [
      draft('trace', 'w-1', { block: sha256(bytes) }),
      draft('mark', 'w-1', { text: `mark ${number}` }),
    ],
    blocks: [bytes],
  };
};

export const codesOf = (damage: readonly { readonly reason: { readonly code: string } }[]): string[] =>
  damage.map(({ reason }) => reason.code);

/** The code of the LogError that the work ends with, or `done`. */
export const codeOf = (work: () => unknown): string => {
  try {
    work();
  } catch (error) {
    if (error instanceof LogError) return error.code;
    throw error;
  }
  return 'done';
};

/** As somebody would who changes rows by hand. */
export const dropTriggers = (database: Database.Database): void => {
  const named = database.prepare("SELECT name FROM sqlite_master WHERE type = 'trigger'").all();
  for (const { name } of named as { name: string }[]) database.exec(`DROP TRIGGER ${name}`);
};
