/** The verdicts on a terminal. */
import { expect, test } from 'vitest';
import { CAUTIONS, htmlReport, markOf, terminalTable, type WindowReport } from '../../../src/report/index.ts';
import { SAMPLE } from './sample.ts';

const widest = (table: string): number => Math.max(...table.split('\n').map((line) => [...line].length));

test('marks differ by shape and by word', () => {
  expect(['pass', 'fail', 'inconclusive', 'not-tested'].map((one) => markOf(one as 'pass'))).toEqual([
    '✔ PASS',
    '✖ FAIL',
    '? INCONCLUSIVE',
    '○ NOT TESTED',
  ]);
});

test('no line is wider than asked for, and every interlock stands in the table', () => {
  for (const columns of [72, 80, 120]) {
    const table = terminalTable(SAMPLE, { columns });
    expect(widest(table)).toBeLessThanOrEqual(columns);
    if (columns >= 80) for (const { name } of SAMPLE.book.interlocks) expect(table).toContain(name);
  }
});

test('each row carries verdict, trip point and response in its own column', () => {
  const rows = terminalTable(SAMPLE).split('\n');
  const stop = rows.find((line) => line.includes('E1.underspeed-stop')) ?? '';
  expect(stop).toMatch(/^✔ PASS {10}E1\.underspeed-stop {10}81\.57 … 82\.49 % {6}0\.86 … 1\.14 s$/);
  const head = rows.find((line) => line.startsWith('VERDICT')) ?? '';
  expect(head.indexOf('TRIP POINT')).toBe(stop.indexOf('81.57'));
  expect(head.indexOf('RESPONSE')).toBe(stop.indexOf('0.86'));
});

test('reasons, what is not proved, and the cautions stand beneath', () => {
  const table = terminalTable(SAMPLE).replace(/\n\s*/g, ' ');
  expect(table).toContain('lies wholly outside the set point band 88.5 … 91.5 %.');
  expect(table).toContain('ramp at most 0.18 °C/s');
  expect(table).toContain('not proved: sensor, motion stopped, horn heard, people informed');
  expect(table).toContain('taken as monotone');
  expect(table).toContain('It does not protect, trip, reset or lock out anything.');
});

test('each caution names the rule that it is from, or says that there is none', () => {
  for (const caution of CAUTIONS) expect(caution).toMatch(/ \([^)]*(?:\([a-z0-9]\)[^)]*)*\)\.$/);
  expect(CAUTIONS.filter((one) => one.endsWith('(common practice, no source).')).length).toBeGreaterThan(0);
});

test('a stop that failed says what to do at once; an alarm that failed, or a stop that passed, does not', () => {
  const [stop, alarm] = SAMPLE.interlocks;
  if (stop === undefined || alarm === undefined) throw new Error('The sample has no interlocks.');
  const failed = { ...stop, verdict: { ...stop.verdict, outcome: 'fail' as const } };
  const told =
    'This stop failed. At once: stop the machine by its normal stop or emergency stop, keep people';
  const of = (one: typeof stop): readonly string[] => {
    const report = { ...SAMPLE, interlocks: [one] };
    return [terminalTable(report).replace(/\n\s*/g, ' '), htmlReport(report)];
  };
  for (const page of of(failed)) expect(page).toContain(told);
  for (const page of [...of(stop), ...of(alarm)]) expect(page).not.toContain('At once');
});

test('colour is only added, never needed', () => {
  const plain = terminalTable(SAMPLE);
  const coloured = terminalTable(SAMPLE, { colour: true });
  expect(coloured).not.toBe(plain);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: the escape character is what is looked for.
  expect(coloured.replace(/\u001b\[[0-9;]*m/g, '')).toBe(plain);
  expect(plain).not.toContain('\u001b');
});

test('a name can neither repaint the terminal nor break the frame', () => {
  const hostile: WindowReport = {
    ...SAMPLE,
    window: 'w\u001b[2J\nFAKE',
    book: {
      ...SAMPLE.book,
      interlocks: SAMPLE.book.interlocks.map((one) => ({
        ...one,
        name: `${'long-name-'.repeat(12)}\u001b[31m`,
      })),
    },
  };
  const table = terminalTable(hostile);
  expect(table).not.toContain('\u001b');
  expect(table).not.toMatch(/^FAKE/m);
  expect(widest(table)).toBeLessThanOrEqual(80);
});
