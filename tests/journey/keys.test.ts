/** The commands around the key and copies of a log, as a person runs them: exit codes, JSON, lines of 80 columns. */
import { copyFileSync, existsSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { createCore, openCore } from '../../src/store/log-core.ts';
import { draft, genesis, traceBatch } from '../rooms/store/logs.ts';
import { cli, folder, type Ran } from './rig.ts';

const newLog = (): string => {
  const path = join(folder(), 'mill.log.db');
  const log = createCore(path, genesis);
  log.append(traceBatch(1));
  log.close();
  return path;
};

const append = (path: string, number: number): void => {
  const log = openCore(path);
  log.append(traceBatch(number));
  log.close();
};

const told = (ran: Ran): Record<string, unknown> => JSON.parse(ran.out);
/** Paths are as long as they are; all else fits. */
const fits = ({ out }: Ran): boolean =>
  out.split('\n').every((line) => line.length <= 80 || line.includes('/'));

test('a key is shown, changed, shown again; audit knows both', () => {
  const path = newLog();
  const before = told(cli('keys', 'show', path, '--json'));
  expect(before).toMatchObject({ ok: true, keys: [{ entry: 0, how: 'genesis' }] });
  const rotated = cli('keys', 'rotate', path);
  expect([rotated.code, fits(rotated)]).toEqual([0, true]);
  const after = told(cli('keys', 'show', path, '--json'));
  expect(after).toMatchObject({ ok: true, keys: [{ how: 'genesis' }, { entry: 3, how: 'proved' }] });
  expect(after['key']).not.toBe(before['key']);
  const shown = cli('keys', 'show', path);
  expect([shown.code, fits(shown)]).toEqual([0, true]);
  expect(shown.out).toContain('the key before it signed for it');
  expect(told(cli('audit', path, '--json'))).toMatchObject({ ok: true, vouched: 4, breaks: [] });
});

test('while the daemon writes, a key is not changed, but a copy is made, and it verifies', () => {
  const path = newLog();
  const log = openCore(path);
  const refused = cli('keys', 'rotate', path);
  expect(refused.code).toBe(74);
  expect(refused.err).toContain('is being written by another daemon');
  log.append({ entries: [draft('mark', 'w-1', { text: 'still in the write-ahead file' })], blocks: [] });
  const copy = `${path}.copy`;
  const made = cli('backup', path, copy, '--json');
  expect([made.code, told(made)]).toMatchObject([0, { ok: true, entries: 4, root: log.head().root }]);
  log.append(traceBatch(2));
  log.close();
  const again = cli('backup', path, copy);
  expect(again.code).toBe(74);
  expect(again.err).toContain('exists already');
  expect(told(cli('audit', copy, '--json'))).toMatchObject({
    ok: true,
    notes: [{ reason: { code: 'copy-is-older' } }],
  });
  expect(told(cli('audit', path, '--against', copy, '--json'))).toMatchObject({ ok: true });
});

test('the drill: the log is lost, the copy goes on, and what is lost is named for ever', () => {
  const path = newLog();
  const copy = `${path}.copy`;
  expect(cli('backup', path, copy).code).toBe(0);
  append(path, 2);
  const early = cli('restore', path, '--from', copy);
  expect([early.code, early.err.includes('move it away first')]).toEqual([64, true]);
  renameSync(path, `${path}.gone`);
  for (const rest of ['-wal', '-shm']) rmSync(`${path}${rest}`, { force: true });
  const restored = cli('restore', path, '--from', copy);
  expect([restored.code, fits(restored)]).toEqual([0, true]);
  expect(restored.out).toContain('It goes on from its first 3 entries; 5 were known');
  append(path, 3);
  expect(told(cli('audit', path, '--json'))).toMatchObject({
    ok: true,
    entries: 6,
    breaks: [{ entry: 3, reason: { code: 'log-restored' } }],
  });
  expect(told(cli('restore', path, '--json'))).toMatchObject({ ok: true, lost: null });
  // Without its memory nobody can tell who went on from there.
  const elsewhere = join(folder(), 'mill.log.db');
  copyFileSync(path, elsewhere);
  const alone = cli('audit', elsewhere);
  expect([alone.code, fits(alone)]).toEqual([2, true]);
  expect(alone.out).toContain('What decides');
  expect(cli('audit', elsewhere, '--against', path).code).toBe(0);
});

test('put back in silence: refused and named; a copy that is damaged is not put in place', () => {
  const path = newLog();
  const copy = `${path}.copy`;
  copyFileSync(path, copy);
  append(path, 2);
  copyFileSync(copy, path);
  const found = cli('audit', path);
  expect([found.code, fits(found)]).toEqual([1, true]);
  expect(found.out.replaceAll(/\s+/g, ' ')).toContain('put back to an older copy of itself');
  rmSync(path);
  writeFileSync(copy, 'x'.repeat(9_000));
  const refused = cli('restore', path, '--from', copy);
  expect(refused.code).not.toBe(0);
  expect(existsSync(path)).toBe(false);
});

test('the fingerprint that is shown finds itself; another does not, and what is none is said', () => {
  const path = newLog();
  const { fingerprint } = told(cli('audit', path, '--json')) as { fingerprint: string };
  append(path, 2);
  expect(cli('audit', path, '--fingerprint', fingerprint.toLowerCase().replaceAll('-', ' ')).code).toBe(0);
  expect(cli('audit', path, '--fingerprint', '0000-0000-0000-0000').code).toBe(1);
  expect(cli('audit', path, '--fingerprint', 'x').code).toBe(64);
  // On paper the key's stands beside it.
  const { keys } = told(cli('audit', path, '--json')) as { keys: { fingerprint: string }[] };
  const ofKey = cli('audit', path, '--fingerprint', keys[0]?.fingerprint ?? '');
  expect([ofKey.code, ofKey.err]).toEqual([64, expect.stringContaining('of a key of this log')]);
  expect(cli('audit', path, '--against', `${path}.nowhere`).code).toBe(65);
});

test('a key that is lost: refused, adopted, and named', () => {
  const path = newLog();
  rmSync(join(path, '..', 'keys', 'site-key.pem'));
  expect(cli('keys', 'show', path).out).toContain('there is no key');
  expect(() => openCore(path)).toThrow(/keys adopt/);
  expect(cli('keys', 'adopt', path).code).toBe(0);
  const found = cli('audit', path);
  expect(found.code).toBe(0);
  expect(found.out).toContain('did not sign for it');
});
