/**
 * Random edits of a log, by hands that know more or less of it. Whatever changes something that can be read is named by
 * audit; what audit lets pass has changed no row; nothing ends the program with an error that is not its own.
 * `TRIPWITNESS_EDITS=10000` makes it a campaign, `TRIPWITNESS_CAMPAIGN=state.json` keeps where it is (summary beside it),
 * `TRIPWITNESS_SEED=n` tells one edit.
 */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { auditFile } from '../../src/store/index.ts';
import { keep, resumed } from './kept.ts';
import { seeded } from './random.ts';
import { type Base, basesIn } from './tampering-logs.ts';
import { type Judged, type Outcome, tamper } from './tampering-run.ts';

const EDITS = Number(process.env['TRIPWITNESS_EDITS'] ?? 150);
const SEED = process.env['TRIPWITNESS_SEED'];
const STATE = process.env['TRIPWITNESS_CAMPAIGN'];
const FIRST = 4_000_000;

/** What the signatures in the file tell without any memory outside of it. */
const BY_ITSELF = [
  'rows: text of an entry',
  'rows: entry and leaf',
  'rows: entry, leaf and roots',
  'rows: one sample',
  'rows: all signatures taken away',
];

interface Tally {
  readonly seed: number;
  done: number;
  /** By kind of edit: how many came out how. */
  readonly kinds: Record<string, Partial<Record<Outcome | 'alone', number>>>;
  /** How often audit gave which code. */
  readonly codes: Record<string, number>;
  readonly wrong: string[];
}

let folder = '';
let bases: Base[] = [];

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tampering-'));
  bases = basesIn(folder);
  mkdirSync(join(folder, 'edited'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const edit = (seed: number): Judged => {
  const random = seeded(seed);
  return tamper(random.pick(bases), join(folder, 'edited'), random);
};

const count = (tally: Tally, seed: number, { kind, outcome, alone, told }: Judged): void => {
  const own = tally.kinds[kind] ?? {};
  tally.kinds[kind] = own;
  own[outcome] = (own[outcome] ?? 0) + 1;
  if (alone) own.alone = (own.alone ?? 0) + 1;
  if (!alone && BY_ITSELF.includes(kind))
    tally.wrong.push(`seed ${seed}, ${kind}: unseen without the memory`);
  if (outcome === 'named') for (const code of told) tally.codes[code] = (tally.codes[code] ?? 0) + 1;
  if (outcome === 'unseen' || outcome === 'crashed')
    tally.wrong.push(`seed ${seed}, ${kind}: ${outcome} ${told.join(' ')}`);
  tally.done += 1;
};

const summaryOf = (tally: Tally): string => {
  const total = (outcome: Outcome): number =>
    Object.values(tally.kinds).reduce((sum, own) => sum + (own[outcome] ?? 0), 0);
  const rows = Object.entries(tally.kinds)
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(
      ([kind, own]) => `| ${kind} | ${own.named ?? 0} | ${own.alone ?? 0} | ${own['nothing-changed'] ?? 0} |`,
    );
  return [
    `${tally.done} edits, seed ${tally.seed}: ${total('named')} named, ${total('nothing-changed')} changed nothing that can be read,`,
    `${total('unseen')} unseen, ${total('crashed')} ended with an error that is not ours.`,
    '',
    '| edit | named | by the file alone | nothing changed |',
    '|---|---|---|---|',
    ...rows,
    '',
    'Codes: ' +
      Object.entries(tally.codes)
        .sort(([, one], [, other]) => other - one)
        .map(([code, times]) => `${code} ${times}`)
        .join(', '),
    ...tally.wrong,
    '',
  ].join('\n');
};

test('the logs verify before anybody touches them', () => {
  for (const { keys, name } of bases)
    expect([name, auditFile(join(keys, '..', 'log.db'), { keys }).damage]).toEqual([name, []]);
});

test('every edit that touches evidence is named, and none ends the program', { timeout: 36_000_000 }, () => {
  if (SEED !== undefined) {
    const judged = edit(Number(SEED));
    expect([judged.kind, judged.outcome, judged.told]).toEqual([judged.kind, 'named', judged.told]);
    return;
  }
  const tally = resumed<Tally>(STATE, { seed: FIRST, done: 0, kinds: {}, codes: {}, wrong: [] });
  while (tally.done < EDITS) {
    const seed = FIRST + tally.done;
    count(tally, seed, edit(seed));
    if (tally.done % 100 === 0) keep(STATE, tally);
  }
  keep(STATE, tally);
  if (STATE !== undefined) writeFileSync(`${STATE}.txt`, summaryOf(tally));
  expect(tally.wrong).toEqual([]);
  const outcomes = Object.values(tally.kinds);
  expect(outcomes.some((own) => (own.named ?? 0) > 0)).toBe(true);
  expect(outcomes.some((own) => (own['nothing-changed'] ?? 0) > 0)).toBe(true);
});
