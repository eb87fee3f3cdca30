/** Proofs over a year in a real log, as somebody asks for them on the command line. */
import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { bookOf, load } from '../rooms/config/load.ts';
import { pastOf } from '../rooms/report/past.ts';
import { builtFolder } from '../rooms/store/built.ts';
import { cli, folder, SITE } from './rig.ts';

// The log's writer is a worker, which runs from the compiled files.
const door = pathToFileURL(join(builtFolder(), 'store/index.js')).href;
const { createLog }: typeof import('../../src/store/index.ts') = await import(door);

const home = folder();
const log = join(home, 'log.db');
const book = bookOf(load(SITE));
const STOP = 'E1.underspeed-stop';
const LOSS = 'E1.pulse-loss-stop';

/** Writes entries as a daemon would have. */
const write = async (entries: ReturnType<typeof pastOf>['entries']): Promise<void> => {
  const [genesis, ...rest] = entries.map(({ seq: _, ...draft }) => draft);
  if (genesis === undefined) throw new Error('no genesis');
  const written = await createLog(log, genesis);
  await written.append({ entries: rest, blocks: [] });
  await written.close();
};

const trip = (low: number, high: number) => ({ outcome: 'pass', tripPercent: { low, high } }) as const;

beforeAll(async () => {
  const past = pastOf('2026-01-01', book)
    .window('2026-01-10', {
      id: 'w1',
      revisions: { E1: 'V1' },
      tested: [
        { name: STOP, verdict: trip(81.5, 82.4) },
        { name: LOSS, verdict: { outcome: 'pass' } },
      ],
    })
    .revision('2026-02-01', 'E1', 'V2')
    .window('2026-02-03', {
      id: 'w2',
      revisions: { E1: 'V2' },
      tested: [{ name: STOP, verdict: { ...trip(82.5, 83), asFound: 'fail' } }],
    });
  await write(past.entries);
});
afterAll(() => rmSync(home, { recursive: true, force: true }));

interface Row {
  readonly interlock: string;
  readonly standing: string;
  readonly urgency: string;
}
const rowsOf = (...args: string[]) => {
  const ran = cli(...args, '--json');
  const { rows } = JSON.parse(ran.out) as { rows: readonly Row[] };
  return { code: ran.code, of: (name: string) => rows.find(({ interlock }) => interlock === name) };
};

test('pass, another revision, stale, proved again; what was not proved again waits for a scope', () => {
  const standing = (name: string, on: string) => rowsOf('matrix', log, '--on', on).of(name)?.standing;
  expect(standing(STOP, '2026-01-11')).toBe('proved');
  expect(standing(STOP, '2026-02-02')).toBe('stale');
  expect(standing(STOP, '2026-02-04')).toBe('proved');
  expect(standing(LOSS, '2026-02-04')).toBe('stale');
  const due = rowsOf('due', log, '--on', '2026-02-04');
  expect(due.of(LOSS)?.urgency).toBe('stale');
  expect(due.code).toBe(2);
  // 2026-02-03 and 90 days are 2026-05-04; grace is nine days.
  expect(rowsOf('due', log, '--on', '2026-05-10').of(STOP)?.urgency).toBe('grace');
  expect(rowsOf('due', log, '--on', '2026-05-20').of(STOP)?.urgency).toBe('overdue');
});

test('two revisions side by side', () => {
  const ran = cli('compare', log, 'V1', 'V2');
  expect(ran.out).toMatch(/≠ CHANGED: trip point 81\.50 … 82\.40 % → 82\.50 … 83\.00 %, by 0\.1 … 1\.5 %/);
  expect(ran.out).toMatch(/^\? E1\.pulse-loss-stop\n.*not tested in V2$/m);
  expect(ran.code).toBe(1);
  expect(cli('compare', log, 'V1', 'V9').code).toBe(64);
});

test('the scope of a change: told, entered through the real writer, and what it lists waits', () => {
  const change = ['--changed', 'timer T4'];
  const told = cli('scope', log, ...change);
  expect(told.code).toBe(2);
  expect(told.out).toContain('E1.underspeed-stop');
  expect(cli('scope', log).code).toBe(64);
  const missing = cli('scope', log, ...change, '--enter', '--by', 'A. Fitter');
  expect(missing.code).toBe(64);
  expect(missing.err).toContain('--revision');
  const strange = cli(
    'scope',
    log,
    '--changed',
    'nothing known',
    '--enter',
    '--by',
    'A. Fitter',
    '--revision',
    'V2',
  );
  expect(strange.code).toBe(65);
  const entered = cli(
    'scope',
    log,
    ...['--changed', 'E1.alignment', '--machine', 'E1', '--machine', 'F1'],
    ...['--enter', '--by', 'A. Fitter', '--revision', 'V2', '--change', 'rung of the alignment switch'],
  );
  expect(entered.err).toBe('');
  expect(entered.out).toContain('the scope is entered');
  const matrix = rowsOf('matrix', log);
  const scope = JSON.stringify(cli('scope', log, '--changed', 'E1.alignment', '--json').out);
  // It shares the output card, so it is to be proved; the reason is in the matrix.
  expect(scope).toContain(LOSS);
  expect(matrix.of(LOSS)?.standing).toBe('stale');
  expect(cli('matrix', log, '--machine', 'E1').out.replace(/\s+/g, ' ')).toContain(
    'put into the scope: shared',
  );
  const audit = cli('audit', log);
  expect(audit.code).toBe(0);
});

test('bad input says what, where and what to do', () => {
  expect(cli('due', log, '--on', 'tomorrow')).toMatchObject({ code: 64 });
  expect(cli('due', log, '--on', '2025-01-01').code).toBe(65);
  expect(cli('matrix', log, '--machine', 'E9').err).toContain('there are: E1');
});

test('the page of the matrix stands alone', () => {
  const page = join(home, 'matrix.html');
  expect(cli('matrix', log, '--html', page).out).toContain(`written: ${page}`);
});
