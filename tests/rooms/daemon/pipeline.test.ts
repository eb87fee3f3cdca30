/** The one path from answers to findings: the same for any run of it, and never held up by a source that is silent. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { filesWanted, readSite } from '../../../src/config/index.ts';
import { createPipeline } from '../../../src/daemon/pipeline.ts';
import type { Finding, Mark } from '../../../src/judge/index.ts';
import { instant, type Reading } from '../../../src/measure/index.ts';
import { type Book, readPlan } from '../../../src/rulebook/index.ts';
import type { Answer } from '../../../src/signal/index.ts';

const SITE = fileURLToPath(new URL('../../../config/demo-site.yaml', import.meta.url));

const book = ((): Book => {
  const text = readFileSync(SITE, 'utf8');
  const files = new Map([[SITE, text]]);
  for (const path of filesWanted(text, SITE)) files.set(path, readFileSync(path, 'utf8'));
  const read = readSite(files, SITE);
  if ('faults' in read) throw new Error(JSON.stringify(read.faults));
  return read.book;
})();

const ZERO = 1_700_000_000_000_000;
const at = (seconds: number) => instant(ZERO + seconds * 1_000_000);
const plan = readPlan(book);

/** The controller's registers with the leg running; the alignment switch is displaced from 6 s to 9 s, the leg stops at 8 s. */
const wordsAt = (seconds: number, from: number, count: number): number[] => {
  const displaced = seconds >= 6 && seconds < 9;
  const runs = seconds < 8;
  const alarm = seconds >= 6;
  const bits =
    (runs ? 0b11 : 0) | (runs ? 0 : 1 << 2) | (alarm ? (1 << 5) | (1 << 6) : 0) | (displaced ? 1 << 7 : 0);
  const registers = new Map([
    [0, runs ? 960 : 0],
    // The shaft comes to rest a moment after the motor.
    [1, seconds < 8.4 ? 960 : 0],
    [2, 380],
    [3, 960],
    [4, Math.round(seconds * 50) % 65_536],
    [5, 41],
    [9, bits],
    [10, runs ? 3 : 0],
    [12, runs ? 300 : 0],
  ]);
  return Array.from({ length: count }, (_, index) => registers.get(from + index) ?? 0);
};

const answers = (until: number): Answer[] => {
  const all: Answer[] = [];
  for (let t = 0; t < until; t += 0.05) {
    plan.requests.forEach((request, index) => {
      const words = wordsAt(t, request.at, request.count);
      all.push({
        kind: 'words',
        source: request.source,
        request: index,
        sent: at(t),
        received: at(t + 0.002),
        words,
      });
    });
  }
  return all;
};

const stimuli = book.interlocks
  .filter((one) => one.name.startsWith('E1.misalignment'))
  .map((one) => ({ interlock: one.id, method: 'displaced' as const }));
const OPENED: Mark = { code: 'window-opened', at: at(1), window: 'w', stimuli };
const CLOSED: Mark = { code: 'window-closed', at: at(14) };

const run = (observe?: (rows: readonly Reading[]) => void): Finding[] => {
  const pipeline = createPipeline(book, observe === undefined ? {} : { read: observe });
  const findings: Finding[] = [];
  let opened = false;
  for (const answer of answers(14)) {
    const received = 'sent' in answer ? answer.sent : answer.received;
    if (!opened && received >= OPENED.at) {
      findings.push(...pipeline.mark(OPENED));
      opened = true;
    }
    findings.push(...pipeline.answer(answer));
  }
  return [...findings, ...pipeline.mark(CLOSED)];
};

const outcomes = (findings: readonly Finding[]) =>
  findings.flatMap((one) =>
    one.kind === 'window' ? [[book.interlocks[one.interlock]?.name, one.verdict.outcome]] : [],
  );

test('a belt that is displaced for three seconds: alarm and stop come, are held, and pass', () => {
  expect(outcomes(run())).toEqual([
    ['E1.misalignment-alarm', 'pass'],
    ['E1.misalignment-stop', 'pass'],
  ]);
});

test('twice the same answers give twice the same findings', () => {
  expect(JSON.stringify(run())).toBe(JSON.stringify(run()));
});

test('the OPC UA source says nothing at all, and the Modbus readings are judged all the same, in order', () => {
  const times: number[] = [];
  run((rows) => times.push(...rows.map((row) => row.at.latest)));
  expect(times.length).toBeGreaterThan(1_000);
  expect(times).toEqual([...times].sort((a, b) => a - b));
});

test('a mark has its turn between the readings around its time, whenever it is handed in', () => {
  const early = createPipeline(book);
  const late = createPipeline(book);
  const all = answers(14);
  const before = all.filter((answer) => answer.received < at(1));
  const after = all.filter((answer) => answer.received >= at(1));
  const first = [early.mark(OPENED), ...all.map((answer) => early.answer(answer)), early.mark(CLOSED)].flat();
  const second = [
    ...before.map((answer) => late.answer(answer)),
    late.mark(OPENED),
    ...after.map((answer) => late.answer(answer)),
    late.mark(CLOSED),
  ].flat();
  expect(second).toEqual(first);
});
