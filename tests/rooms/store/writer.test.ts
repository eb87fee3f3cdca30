import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import type * as Store from '../../../src/store/index.ts';
import { auditFile, readLog } from '../../../src/store/index.ts';
import { builtFolder } from './built.ts';
import { draft, genesis, newPath, traceBatch } from './logs.ts';

const SCRIPT = fileURLToPath(new URL('./append-for-ever.mjs', import.meta.url));
let dist = '';
let store: typeof Store;

beforeAll(async () => {
  dist = builtFolder();
  store = await import(pathToFileURL(join(dist, 'store/index.js')).href);
}, 300_000);

const codeOf = (work: Promise<unknown>): Promise<unknown> =>
  work.then(
    () => 'done',
    (error: unknown) => (error as { code?: unknown }).code,
  );

describe('the writer in its own thread', () => {
  test('answers in the order of the questions, and what it answered is on the disk', async () => {
    const path = newPath();
    const log = await store.createLog(path, genesis);
    expect(log.head().size).toBe(1);
    const answers = await Promise.all([1, 2, 3].map((number) => log.append(traceBatch(number))));
    expect(answers.map(({ first }) => first)).toEqual([1, 3, 5]);
    expect(log.head()).toMatchObject({ size: 7, root: answers[2]?.root });
    // Still open: a reader sees what was acknowledged.
    expect(auditFile(path)).toMatchObject({ entries: 7, root: answers[2]?.root, damage: [] });
    await log.close();
    expect(auditFile(path)).toMatchObject({ entries: 7, damage: [] });
  });

  test('what was asked before closing is written; afterwards every question is refused, none hangs', async () => {
    const path = newPath();
    const log = await store.createLog(path, genesis);
    const asked = log.append(traceBatch(1));
    await log.close();
    expect((await asked).size).toBe(3);
    expect(await codeOf(log.append(traceBatch(2)))).toBe('closed');
    await log.close();
    expect(auditFile(path)).toMatchObject({ entries: 3, damage: [] });
  });

  test('a batch that cannot be written is refused, the next one is taken', async () => {
    const log = await store.createLog(newPath(), genesis);
    const wrong = draft('mark', '', { level: Number.NaN });
    expect(await codeOf(log.append({ entries: [wrong], blocks: [] }))).toBe('write-failed');
    expect((await log.append(traceBatch(1))).first).toBe(1);
    await log.close();
  });

  test('missing, there already, in use: refused with a code', async () => {
    const path = newPath();
    expect(await codeOf(store.openLog(path))).toBe('missing');
    const log = await store.createLog(path, genesis);
    expect(await codeOf(store.createLog(path, genesis))).toBe('in-use');
    expect(await codeOf(store.openLog(path))).toBe('in-use');
    await log.close();
    const again = await store.openLog(path);
    await again.close();
  });
});

interface Acknowledged {
  readonly number: number;
  readonly first: number;
  readonly boot: string;
}

/** Runs a writer until it has acknowledged so many batches, then kills it; it may be in the middle of anything. */
const killAfter = async (path: string, count: number): Promise<Acknowledged[]> => {
  const child = spawn(process.execPath, [SCRIPT, dist, path], { stdio: ['ignore', 'pipe', 'inherit'] });
  const gone = once(child, 'exit');
  const acknowledged: Acknowledged[] = [];
  for await (const line of createInterface({ input: child.stdout })) {
    if (line !== 'ready') {
      const [number, first] = line.split(' ').map(Number);
      acknowledged.push({ number: number ?? -1, first: first ?? -1, boot: String(child.pid) });
    }
    // Lines that were on their way before it died still count.
    if (acknowledged.length >= count) child.kill('SIGKILL');
  }
  expect(await gone).toEqual([null, 'SIGKILL']);
  return acknowledged;
};

test('kill -9, twenty times: every acknowledged batch is there, and the log verifies each time', async () => {
  const path = newPath();
  const log = await store.createLog(path, genesis);
  await log.append({ entries: [draft('window-opened', 'w-1')], blocks: [] });
  await log.close();
  const all: Acknowledged[] = [];
  for (let round = 0; round < 20; round += 1) {
    // From none at all (killed as soon as it is open) to a hundred.
    all.push(...(await killAfter(path, (round * 37) % 101)));
    const { damage, open } = auditFile(path);
    expect(damage).toEqual([]);
    // Nobody closed it, so it is open until the daemon enters it as interrupted.
    expect(open).toEqual(['w-1']);
  }
  const reader = readLog(path);
  const entries = reader.parsed();
  reader.close();
  expect(all.length).toBeGreaterThan(500);
  for (const { number, first, boot } of all)
    expect(entries[first + 1]).toMatchObject({ seq: first + 1, boot, body: { number } });
}, 120_000);
