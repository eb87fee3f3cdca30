/** What rules ask of a record, and what is said where it is missing; since when a protection may have been absent. */
import { expect, test } from 'vitest';
import { htmlReport, subjectsOf, systemFields, type WindowReport } from '../../../src/report/index.ts';
import { rulesHeld } from '../../../src/report/record-rules.ts';
import { SAMPLE } from './sample.ts';

const held = (report: WindowReport) =>
  new Map(rulesHeld(report, subjectsOf(report)).map((one) => [one.rule, one.missing]));

test('29 CFR 1910.272(m)(3): date, name, identifier; each one that is blank is named', () => {
  expect(held(SAMPLE).get('29 CFR 1910.272(m)(3)')).toEqual([]);
  expect(held({ ...SAMPLE, people: [] }).get('29 CFR 1910.272(m)(3)')).toEqual([
    'name of the person who tested',
  ]);
  const nameless = { ...SAMPLE, book: { ...SAMPLE.book, machines: [] } };
  expect(held(nameless).get('29 CFR 1910.272(m)(3)')).toEqual([
    'serial number or other identifier of the equipment',
  ]);
});

test('a rule on records holds where an interlock cites its part', () => {
  expect([...held(SAMPLE).keys()]).toContain('51 FR 34552');
  expect(held(SAMPLE).get('51 FR 34552')).toEqual(['signature of the person who tested']);
  expect([...held(SAMPLE).keys()]).not.toContain('46 CFR 109.435');
});

test('the page says it by rule and field, and nothing of a demand', () => {
  const page = htmlReport({ ...SAMPLE, people: [] });
  expect(page).toMatch(
    /29 CFR 1910\.272\(m\)\(3\)<\/th>.*?not stated:<\/strong> name of the person who tested/,
  );
  expect(htmlReport({ ...SAMPLE, demand: true })).not.toContain('What rules ask of a record');
});

test('a revision tells where each of its two statements comes from', () => {
  const told = (more: Partial<WindowReport['revisions'][number]>): string | undefined => {
    const revisions = [{ machine: 'E1', opened: 'V1', quality: 'typed', ...more } as const];
    const report = { ...SAMPLE, revisions };
    return systemFields(report, subjectsOf(report)).find(({ name }) => name === 'Program revision')?.value;
  };
  expect(told({})).toBe('E1: V1 at the start, not read at the end (typed in)');
  expect(told({ closed: 'V1', quality: 'tag' })).toBe(
    'E1: V1 at the start, V1 at the end (read from the controller)',
  );
  expect(told({ closed: 'V1', closedQuality: 'tag' })).toBe(
    'E1: V1 at the start (typed in), V1 at the end (read from the controller)',
  );
});

test('a fail as found tells since when the protection may have been absent', () => {
  const name = SAMPLE.book.interlocks[1]?.name ?? '';
  const passed = { utc: '2025-03-14T09:21:00.000000Z', window: 'w-0003' };
  expect(htmlReport({ ...SAMPLE, lastPass: { [name]: passed } })).toContain(
    'Its last pass was in window w-0003, 2025-03-14 09:21 UTC',
  );
  expect(htmlReport({ ...SAMPLE, lastPass: { [name]: null } })).toContain(
    'no earlier pass of it in this log',
  );
  expect(htmlReport(SAMPLE)).not.toContain('May have been absent');
});
