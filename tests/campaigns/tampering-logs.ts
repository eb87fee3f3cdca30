/** Logs for the tampering campaign, made through the real writer, each with what a forger could put in its place. */
import { copyFileSync, existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { EntryKind } from '../../src/record/index.ts';
import { type Batch, type Draft, sha256 } from '../../src/store/index.ts';
import { rotateKey } from '../../src/store/key-change.ts';
import { createCore, openCore } from '../../src/store/log-core.ts';

/** A file as it lies there, with its write-ahead file if it has one. */
export interface Files {
  readonly log: Buffer;
  readonly wal?: Buffer;
}

export interface Base extends Files {
  readonly name: string;
  /** Folder of its keys and memory. */
  readonly keys: string;
  /** Whole files that somebody could put in its place. */
  readonly others: Readonly<Record<'older' | 'same-key' | 'other-key', Files>>;
}

let minute = 0;

const draft = (kind: EntryKind, subject: string, body: Draft['body'] = {}): Draft => {
  minute += 1;
  const clock = `${String(Math.floor(minute / 60) % 24).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
  return {
    version: 1,
    kind,
    subject,
    actor: 'Ada',
    utc: `2026-11-25T${clock}:00.000000Z`,
    monotonic: minute,
    boot: 'b-1',
    body,
  };
};

const genesis = (log: string): Draft => draft('genesis', 'saltmarsh-mill', { log, site: 'saltmarsh-mill' });

/** A window in batches as the daemon writes them: opened, answers and findings, closed. */
const windowBatches = (id: string, traces: number, length: number): Batch[] => [
  { entries: [draft('window-opened', id, { people: [{ name: 'Ada', role: 'fitter' }] })], blocks: [] },
  ...Array.from({ length: traces }, (_, index): Batch => {
    const bytes = Uint8Array.from({ length }, (_zero, at) => (at * 7 + index * 31 + minute * 13) % 256);
    return {
      entries: [
        draft('trace', id, { block: sha256(bytes), count: 1, first: index }),
        draft('finding', id, { finding: { trial: index, code: 'waits' } }),
      ],
      blocks: [bytes],
    };
  }),
  {
    entries: [draft('verdict', id, { finding: { outcome: 'pass' } }), draft('window-closed', id)],
    blocks: [],
  },
];

const append = (path: string, batches: readonly Batch[]): void => {
  const log = openCore(path);
  for (const batch of batches) log.append(batch);
  log.close();
};

const filesOf = (path: string): Files => ({
  log: readFileSync(path),
  ...(existsSync(`${path}-wal`) && { wal: readFileSync(`${path}-wal`) }),
});

/** Room in the file that no record stands in: what a table leaves that came and went. */
const leaveFreePages = (path: string): void => {
  const database = new Database(path);
  database.exec('CREATE TABLE gone (text TEXT)');
  const put = database.prepare('INSERT INTO gone VALUES (?)');
  for (let row = 0; row < 12; row += 1) put.run('x'.repeat(3_000));
  database.exec('DROP TABLE gone');
  database.close();
};

interface Shape {
  readonly windows: number;
  readonly traces: number;
  readonly length: number;
  readonly rotates: boolean;
  readonly free: boolean;
  /** Taken while the writer is still at work, so that the newest entries stand in the write-ahead file. */
  readonly open: boolean;
}

const SHAPES: Readonly<Record<string, Shape>> = {
  small: { windows: 2, traces: 2, length: 64, rotates: false, free: false, open: false },
  rotated: { windows: 3, traces: 3, length: 400, rotates: true, free: true, open: false },
  'with write-ahead file': { windows: 2, traces: 2, length: 200, rotates: false, free: false, open: true },
};

const baseOf = (folder: string, name: string, shape: Shape): Base => {
  const place = join(folder, name);
  mkdirSync(place);
  const path = join(place, 'log.db');
  const { windows, traces, length } = shape;
  const part = (from: number, to: number): Batch[] =>
    Array.from({ length: to - from }, (_, index) =>
      windowBatches(`w-${from + index}`, traces, length),
    ).flat();
  createCore(path, genesis(`l-${name}`)).close();
  append(path, part(0, windows - 1));
  const older = filesOf(path);
  if (shape.rotates) rotateKey(path);
  if (shape.free) leaveFreePages(path);
  const sameKey = join(place, 'same-key.db');
  createCore(sameKey, genesis(`l-${name}-2`)).close();
  append(sameKey, part(0, windows));
  const elsewhere = join(place, 'elsewhere');
  mkdirSync(elsewhere);
  const otherKey = join(elsewhere, 'log.db');
  createCore(otherKey, genesis(`l-${name}`)).close();
  append(otherKey, part(0, windows));
  const log = openCore(path);
  for (const batch of part(windows - 1, windows)) log.append(batch);
  const taken = join(place, 'taken.db');
  if (shape.open) {
    copyFileSync(path, taken);
    copyFileSync(`${path}-wal`, `${taken}-wal`);
  }
  log.close();
  return {
    name,
    keys: join(place, 'keys'),
    ...filesOf(shape.open ? taken : path),
    others: { older, 'same-key': filesOf(sameKey), 'other-key': filesOf(otherKey) },
  };
};

export const basesIn = (folder: string): Base[] =>
  Object.entries(SHAPES).map(([name, shape]) => baseOf(folder, name.replaceAll(' ', '-'), shape));
