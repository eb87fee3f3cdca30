/** The one path from answers to findings: the same for any run of it, and never held up by a source that is silent. */
import { expect, test } from 'vitest';
import { createPipeline } from '../../../src/daemon/pipeline.ts';
import type { Finding, Mark } from '../../../src/judge/index.ts';
import type { Readings } from '../../../src/measure/index.ts';
import type { Answer } from '../../../src/signal/index.ts';
import { at, book, plan, wordsOf } from './leg.ts';

/** The leg runs; the alignment switch is displaced from 6 s to 9 s, the leg stops at 8 s. */
const wordsAt = wordsOf({ displaced: [6, 9], alarm: 6, stop: 8 });

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

const run = (observe?: (rows: Readings) => void): Finding[] => {
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
  run((rows) => times.push(...rows.latest.subarray(0, rows.length)));
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
