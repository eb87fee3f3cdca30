/** The campaign's book-keeping: goes on where it was killed, counts what it must, shows a bar on a terminal alone. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import type { Compared } from './compare.ts';
import { bar, runCampaign } from './run.ts';
import { add, newTally, ratioOf, summaryOf } from './tally.ts';

const folder = (): string => {
  const path = mkdtempSync(join(tmpdir(), 'campaign-'));
  onTestFinished(() => rmSync(path, { recursive: true, force: true }));
  return path;
};

test('a campaign that was stopped goes on and ends with the same tally', () => {
  const state = join(folder(), 'state.json');
  const whole = runCampaign({ seed: 500, plants: 6 });
  const first = runCampaign({ seed: 500, plants: 2, state });
  expect(first.done).toBe(2);
  expect(JSON.parse(readFileSync(state, 'utf8'))).toEqual(first);
  // What was done is taken from the file, not done again.
  writeFileSync(state, JSON.stringify({ ...first, reasons: { ...first.reasons, marked: 1 } }));
  const told: number[] = [];
  const second = runCampaign({ seed: 500, plants: 6, state, progress: (done) => told.push(done) });
  expect(told).toEqual([6]);
  expect(second).toEqual({ ...whole, reasons: { ...whole.reasons, marked: 1 } });
});

test('the state of another campaign is not taken for this one', () => {
  const state = join(folder(), 'state.json');
  writeFileSync(state, JSON.stringify(newTally(1)));
  expect(() => runCampaign({ seed: 2, plants: 1, state })).toThrow('belongs to seed 1');
});

const one = (more: Partial<Compared>): Compared => ({
  seed: 7,
  plan: 'speed:ramp',
  truth: 'good',
  outcome: 'inconclusive',
  disturbed: false,
  codes: ['delay-undecided'],
  detail: 'detail of 7',
  ...more,
});

test('the ratio compares what judge and reference leave open, and disturbed plants do not count', () => {
  const tally = newTally(1);
  add(tally, one({ reference: 'undecidable' }));
  add(tally, one({ reference: 'undecidable' }));
  add(tally, one({ reference: 'pass', wrong: 'needless', seed: 9, detail: 'detail of 9' }));
  add(tally, one({ disturbed: true }));
  add(tally, one({ outcome: 'pass', reference: 'pass' }));
  expect(ratioOf(Object.values(tally.kinds))).toBe(1.5);
  expect(tally.checked).toBe(1);
  const text = summaryOf(tally, 'the command');
  expect(text).toContain('Left open by the judge / by the reference, undisturbed plants: 1.500');
  expect(text).toContain('needless seed 9: detail of 9');
  expect(text).toContain('Repeat: the command');
  expect(text).not.toContain('seed 7:');
});

test('the bar is drawn on a terminal and nowhere else', () => {
  const written: string[] = [];
  const write = (text: string): number => written.push(text);
  bar({ write })(1, 2);
  expect(written).toEqual([]);
  const shown = bar({ isTTY: true, write });
  shown(1, 2);
  shown(2, 2);
  expect(written.join('')).toContain('1/2');
  expect(written.at(-1)).toBe('\n');
});
