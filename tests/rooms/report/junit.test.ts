/** JUnit XML: no standard; the elements and counts that its readers share (common practice, no source). */
import { describe, expect, test } from 'vitest';
import { junitXml, type WindowReport } from '../../../src/report/index.ts';
import { type Element, elements, python, withoutPython, xmlOf } from './independent.ts';
import { SAMPLE } from './sample.ts';

const suiteOf = (report: WindowReport): Element => {
  const [suite] = elements(xmlOf(junitXml(report)), 'testsuite');
  if (suite === undefined) throw new Error('no suite');
  return suite;
};

const outcome = (one: Element): string => one.inner[0]?.name ?? 'passed';

describe.skipIf(!python)(`as an independent reader sees it${withoutPython}`, () => {
  test('a fail is a failure, what does not decide is an error, what nobody tested is skipped', () => {
    const cases = elements(suiteOf(SAMPLE), 'testcase');
    const wanted = { pass: 'passed', fail: 'failure', inconclusive: 'error', 'not-tested': 'skipped' };
    expect(cases.map(outcome)).toEqual(SAMPLE.interlocks.map(({ verdict }) => wanted[verdict.outcome]));
    expect(new Set(cases.map(outcome)).size).toBe(4);
  });

  test('the counts of a suite and of all suites are those of its cases', () => {
    const root = xmlOf(junitXml(SAMPLE));
    const cases = elements(root, 'testcase');
    const count = (name: string): string => String(cases.filter((one) => outcome(one) === name).length);
    for (const one of [root, suiteOf(SAMPLE)]) {
      expect(one.attributes).toMatchObject({
        tests: String(cases.length),
        failures: count('failure'),
        errors: count('error'),
        skipped: count('skipped'),
      });
    }
  });

  test('names, times and the moment', () => {
    const suite = suiteOf(SAMPLE);
    expect(suite.attributes['name']).toBe('saltmarsh-mill window w-0007');
    // Opened at 1764063000 s after 1970, by `date -u -d @1764063000`.
    expect(suite.attributes['timestamp']).toBe('2025-11-25T09:30:00');
    expect(suite.attributes['time']).toBe('240.000');
    const [first] = elements(suite, 'testcase');
    expect(first?.attributes['classname']).toBe('saltmarsh-mill.E1');
    expect(first?.attributes['name']).toBe('E1.underspeed-stop');
    for (const one of elements(suite, 'testcase')) expect(one.attributes['time']).toMatch(/^\d+\.\d{3}$/);
  });

  test('the reasons of a failure stand in it, the first as its message', () => {
    for (const one of elements(suiteOf(SAMPLE), 'testcase').filter((each) => outcome(each) !== 'passed')) {
      const [inner] = one.inner;
      expect(inner?.attributes['message']).not.toBe('');
      if (inner?.name !== 'skipped') expect(inner?.text.split('\n')[0]).toBe(inner?.attributes['message']);
    }
  });

  test('names that XML would break on come back', () => {
    const [first, ...rest] = SAMPLE.book.interlocks;
    if (first === undefined) throw new Error('the sample has interlocks');
    const name = `E1.<"&'> Größe ≥ 3`;
    const book = { ...SAMPLE.book, interlocks: [{ ...first, name }, ...rest] };
    const [one] = elements(suiteOf({ ...SAMPLE, book }), 'testcase');
    expect(one?.attributes['name']).toBe(name);
  });

  test('characters that XML 1.0 forbids are shown as a mark', () => {
    const book = { ...SAMPLE.book, site: 'salt\u0000marsh\u001b\uffff' };
    expect(suiteOf({ ...SAMPLE, book }).attributes['name']).toContain('salt\ufffdmarsh\ufffd\ufffd');
  });

  test('a window without verdicts is an error, not a suite in which nothing went wrong', () => {
    const suite = suiteOf({ ...SAMPLE, interlocks: [] });
    expect(suite.attributes).toMatchObject({ tests: '1', errors: '1' });
  });

  test('what says that a protection is not there fails, though every interlock under test passed', () => {
    const reason = { code: 'cause-without-effect', params: {} };
    const contradictions = [
      { at: 3.2, dangerous: true, reason },
      { at: 4.2, dangerous: false, reason },
    ];
    const passed = SAMPLE.interlocks.filter(({ verdict }) => verdict.outcome === 'pass');
    const suite = suiteOf({ ...SAMPLE, interlocks: passed, contradictions });
    expect(suite.attributes).toMatchObject({ tests: String(passed.length + 1), failures: '1' });
  });
});

test('the same report gives the same bytes', () => {
  expect(junitXml(structuredClone(SAMPLE))).toBe(junitXml(SAMPLE));
});
