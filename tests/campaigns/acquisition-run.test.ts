/** The campaign's own judgement and book-keeping: it can find what it looks for, and goes on where it was killed. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { instant } from '../../src/measure/index.ts';
import { type Answer, planReads } from '../../src/signal/index.ts';
import { createOracle, liveSignal } from '../servers/oracle.ts';
import { modbusSource } from '../servers/sources.ts';
import { clock, tickAt, wordAt } from '../servers/truth.ts';
import type { Drawn } from './acquisition-draw.ts';
import { runCampaign } from './acquisition-run.ts';
import { add, newTally, summaryOf } from './acquisition-tally.ts';
import type { Suffered } from './acquisition-watch.ts';

const SOURCE = modbusSource({ line: { kind: 'tcp', host: '127.0.0.1', port: 1 }, unit: 3 });

test('the oracle tells a true word from one of another place, another unit or another time', () => {
  const signals = [liveSignal(0, 0, 'holding', 200), liveSignal(1, 0, 'holding', 201)];
  const oracle = createOracle(signals, [SOURCE], planReads(signals, [SOURCE], []));
  const received = clock.now();
  const sent = instant(received - 2_000);
  const tick = tickAt(instant(received - 1_000));
  const words = (...held: number[]): Answer => ({
    kind: 'words',
    source: 0,
    request: 0,
    sent,
    received,
    words: held,
  });
  const at = (address: number, when = tick, unit = 3): number => wordAt(unit, 'holding', address, when);
  expect(oracle.wrong(words(at(200), at(201)))).toBeUndefined();
  expect(oracle.wrong(words(at(201), at(200)))).toContain('holding 200');
  expect(oracle.wrong(words(at(200, tick, 4), at(201, tick, 4)))).toContain('unit 3');
  expect(oracle.wrong(words(at(200), at(201, tick - 20)))).toContain('holding 201');
  expect(oracle.wrong(words(at(200), at(201, tick + 20)))).toContain('holding 201');
});

test('bits are judged by all of an answer together', () => {
  const signals = Array.from({ length: 24 }, (_, index) => liveSignal(index, 0, 'coil', 64 + index));
  const oracle = createOracle(signals, [SOURCE], planReads(signals, [SOURCE], []));
  const received = clock.now();
  const tick = tickAt(received);
  const words = signals.map((_, index) => wordAt(3, 'coil', 64 + index, tick));
  const answer: Answer = { kind: 'words', source: 0, request: 0, sent: received, received, words };
  expect(oracle.wrong(answer)).toBeUndefined();
  const other = words.map((word, index) => (index === 7 ? 1 - word : word));
  expect(oracle.wrong({ ...answer, words: other })).toContain('coil 64');
});

const LOST: Drawn = { kind: 'tcp, 1 in flight', name: 'answer lost', fault: { kind: 'drop-answer' } };
const LATE: Drawn = {
  kind: 'tcp, 1 in flight',
  name: 'answer late, in time',
  fault: { kind: 'delay-answer', ms: 3 },
};
const borne = (more: Partial<Suffered>): Suffered => ({
  wrongs: [],
  absences: {},
  slots: 0,
  slotsConnected: 0,
  periods: 0.5,
  lasted: 3,
  asleep: 0,
  ...more,
});

test('every kind of failure is counted, with the seed that repeats it', () => {
  const tally = newTally(1);
  add(tally, 10, LOST, borne({ absences: { 'timed-out': 1, interrupted: 2 }, slots: 2, slotsConnected: 2 }));
  expect(tally.wrongs).toEqual([]);
  add(tally, 11, LOST, borne({ wrongs: ['unit 1 holding 200: 7 within 900 us'] }));
  add(tally, 12, LOST, borne({ absences: { implausible: 1 } }));
  add(tally, 13, LOST, borne({ slots: 6, slotsConnected: 3 }));
  add(tally, 14, LATE, borne({ absences: { interrupted: 1 } }));
  add(tally, 15, LATE, borne({ trouble: 'it did not recover' }));
  const found = tally.wrongs.map(({ what, seed }) => `${what} ${seed}`);
  expect(found).toEqual(['value 11', 'reason 12', 'recovery 13', 'needless 14', 'trouble 15']);
  const text = summaryOf(tally, 'the command');
  expect(text).toContain('| answer lost | 4 | 1 | interrupted 2, timed-out 1, implausible 1 |');
  expect(text).toContain('Repeat: the command');
});

test('a machine that was busy is not taken for a client that was slow', () => {
  const tally = newTally(1);
  add(tally, 1, LOST, borne({ slots: 9, slotsConnected: 9, asleep: 80 }));
  add(tally, 2, LATE, borne({ absences: { 'timed-out': 1 }, asleep: 90 }));
  expect(tally.wrongs).toEqual([]);
});

test('a campaign that was stopped goes on, and leaves nothing open', { timeout: 60_000 }, async () => {
  const folder = mkdtempSync(join(tmpdir(), 'campaign-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const state = join(folder, 'state.json');
  const plan = { seed: 70_000, opcUa: 0, chunk: 4, lanes: 4, only: 'tcp, 1 in flight', state } as const;
  const first = await runCampaign({ ...plan, faults: 4 });
  expect(JSON.parse(readFileSync(state, 'utf8'))).toEqual(first);
  writeFileSync(state, JSON.stringify({ ...first, asleep: 1_000 }));
  const told: number[] = [];
  const second = await runCampaign({ ...plan, faults: 6, progress: (done) => told.push(done) });
  // What was done is taken from the file, not done again.
  expect(told).toEqual([5, 6]);
  expect(second.asleep).toBeGreaterThanOrEqual(1_000);
  expect(second.wrongs.filter(({ what }) => what === 'value' || what === 'leak')).toEqual([]);
  expect(second.heap.length).toBe(2);
  await expect(runCampaign({ ...plan, seed: 1, faults: 1 })).rejects.toThrow('belongs to seed 70000');
});
