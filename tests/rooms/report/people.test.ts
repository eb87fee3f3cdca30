/** People on the page: signatures with their worth, what is missing, corrections with the old text, sheets as transcribed. */
import { expect, test } from 'vitest';
import type { Signed } from '../../../src/record/index.ts';
import { htmlReport, type PapersReport, reportJson, terminalTable } from '../../../src/report/index.ts';
import { SAMPLE } from './sample.ts';
import { readMarkup } from './well-formed.ts';

const signed = (entry: number, more: Partial<Signed>): Signed => ({
  entry,
  window: 'w-0007',
  utc: '2026-11-25T10:00:00.000000Z',
  person: { id: 'ada', name: 'Ada <Post>' },
  role: 'tester',
  meaning: 'performed',
  covers: { last: 40, entries: 30, digest: 'a'.repeat(64) },
  state: 'whole',
  since: {},
  ...more,
});

const PAPERS: PapersReport = {
  signing: {
    signatures: [
      signed(41, {}),
      signed(42, { meaning: 'witnessed', state: 'since', since: { amendment: 1, transcribed: 2 } }),
      signed(43, { meaning: 'reviewed', state: 'differs' }),
    ],
    demanded: ['performed', 'reviewed'],
    missing: ['reviewed'],
    notIndependent: [43],
  },
  attestations: [
    {
      entry: 30,
      utc: '2026-11-25T09:31:00.000000Z',
      by: 'Ben',
      machine: 'E1',
      what: 'horn-heard',
      where: 'head house',
    },
    { entry: 31, utc: '2026-11-25T09:31:05.000000Z', by: 'Ben', machine: 'E1', what: 'motion-stopped' },
  ],
  amendments: [
    {
      entry: 44,
      utc: '2026-11-25T10:01:00.000000Z',
      by: 'Ada',
      of: 3,
      field: 'body.note',
      was: 'permit 118',
      becomes: 'permit 119',
      reason: 'slip',
      fits: true,
    },
    {
      entry: 45,
      utc: '2026-11-25T10:01:00.000000Z',
      by: 'Eve',
      of: 3,
      field: 'body.note',
      was: 'x',
      becomes: 'y',
      reason: 'z',
      fits: false,
    },
  ],
  transcribed: [
    {
      entry: 46,
      utc: '2026-11-25T10:02:00.000000Z',
      enteredBy: 'Cleo',
      sheet: 'sheet 4',
      by: 'Ben',
      on: 'Monday',
      values: { 'trip point': '79.1 rpm' },
    },
  ],
};
const REPORT = { ...SAMPLE, papers: PAPERS };
const html = htmlReport(REPORT);
const bare = html.replaceAll(/<[^>]+>/g, ' ').replaceAll(/\s+/g, ' ');

test('the page stays well-formed, and what people wrote stays text', () => {
  expect(() => readMarkup(html)).not.toThrow();
  expect(html).not.toContain('<Post>');
});

test('a signature shows printed name, time and meaning (21 CFR 11.50), and what it is worth now', () => {
  expect(bare).toContain(
    'Ada &lt;Post&gt; (ada) performed the test 2026-11-25 10:00:00 UTC ✔ covers all of this window 41',
  );
  expect(bare).toContain('△ entered since, and not covered: 1 correction, 2 transcribed sheets');
  expect(bare).toContain('✖ DOES NOT MATCH what stands in the log NOT INDEPENDENT');
});

test('a record without a demanded signature says that it is not complete', () => {
  expect(bare).toContain(
    'NOT COMPLETE. The site asks for these signatures: performed, reviewed. Missing: reviewed',
  );
  const whole = { ...REPORT, papers: { ...PAPERS, signing: { ...PAPERS.signing, missing: [] } } };
  expect(htmlReport(whole)).not.toContain('NOT COMPLETE');
  expect(terminalTable(REPORT)).toContain('NOT COMPLETE');
  expect(htmlReport(SAMPLE)).not.toContain('Signatures by password');
});

test('attested: what, where, who and when; a place that nobody stated is told', () => {
  expect(bare).toContain('horn heard: E1 head house Ben 2026-11-25 09:31:00 UTC');
  expect(bare).toContain('motion seen stopped: E1 not stated Ben');
});

test('a correction shows old and new by word and line, and one that misquotes says so', () => {
  expect(html).toContain('was: <del>permit 118</del><br>now: <ins>permit 119</ins>');
  expect(bare).toContain('✖ this old text did not stand there');
});

test('attempts keep their numbers over windows; what was found first stays to be seen', () => {
  const one = {
    entry: 9,
    utc: '2026-11-25T09:00:00.000000Z',
    trial: 1,
    standing: 'complete',
    asFound: true,
    demand: false,
  };
  const attempts = [
    { ...one, attempt: 1, window: 'w-0006', outcome: 'fail' as const },
    { ...one, attempt: 2, window: 'w-0007', outcome: 'pass' as const, standing: 'aborted', asFound: false },
  ];
  const page = htmlReport({
    ...REPORT,
    attempts: [{ interlock: 'E1.stop', attempts }],
  });
  const plain = page.replaceAll(/<[^>]+>/g, ' ').replaceAll(/\s+/g, ' ');
  expect(plain).toContain('E1.stop 1 of 2 w-0006, trial 1 ✖ FAIL as found 2026-11-25 09:00:00 UTC');
  expect(plain).toContain('E1.stop 2 of 2 this window , trial 1 ✔ PASS (aborted)');
});

test('a sheet is printed as transcribed, with who and when, and as nothing that was judged', () => {
  expect(bare).toContain('Filled in by Ben, Monday; entered by Cleo, 2026-11-25 10:02:00 UTC');
  expect(bare).toContain('none of it was measured or judged');
});

test('the terminal keeps to its width, and scripts get the same', () => {
  for (const line of terminalTable(REPORT).split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
  expect((JSON.parse(reportJson(REPORT)) as { papers: unknown }).papers).toEqual(PAPERS);
});
