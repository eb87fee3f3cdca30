/** Causes of every kind, how they were moved, other decision rules, demands and contradictions: what the report says. */
import { expect, test } from 'vitest';
import {
  htmlReport,
  plotTrial,
  reportJson,
  subjectsOf,
  terminalTable,
  type WindowReport,
} from '../../../src/report/index.ts';
import { byRule, CONTRADICTED, DEMANDED, KINDS } from './kinds.ts';
import { SAMPLE } from './sample.ts';
import { readMarkup, type Seen } from './well-formed.ts';

const words = (html: string): string =>
  html
    .replace(/<style>[^<]*<\/style>/, '')
    .replace(/<[^>]*>/g, ' ')
    .replace(/\s+/g, ' ');
const flat = (table: string): string => table.replace(/\n\s*/g, ' ');

const KINDS_SAY = words(htmlReport(KINDS));

test.each([
  'Must not act when E1.shaft-speed is held for 10 s between 85 % of normal, the edge nearer to normal, and 83 % of normal, beyond neither.',
  'Acts when the sensor of E1.bearing-temperature is declared faulty (a wire-break, a short circuit, a fault code in place of a value).',
  'Acts when nothing is heard of E1.shaft-speed for 5 s.',
  'Acts when E1.bearing-temperature, which should move, moves by no more than 0.5 K for 2 min 10 s.',
  'Acts when the count plc.heartbeat begins anew: the program of the controller was started again.',
  'Acts when 2 of these 3 are there at once: (E1.shaft-speed is below 82 % of normal), (E1.alignment goes to displaced), (E1.bearing-temperature is above 80 °C).',
  'Acts when E1.slip-highest is above 12 %, allowed 11 … 13 %.',
  'Acts when E1.shaft-speed is below the value of E1.set-point − 2 rpm.',
  'Acts when no pulse of E1.shaft-speed comes for 1 s.',
])('the cause is worded: %s', (sentence) => {
  expect(KINDS_SAY).toContain(sentence);
});

test('a level in percent of a known normal is told in the unit of the signal too', () => {
  expect(words(htmlReport(SAMPLE))).toContain(
    'E1.shaft-speed is below 82 % of normal (78.679 … 78.761 rpm), allowed 77.24 … 80.2 rpm.',
  );
});

test('a derived signal says what it is derived from, down to what is read', () => {
  expect(KINDS_SAY).toContain(
    'E1.slip-highest is read from no device; it is worked out: the second highest of E1.slip and E1.bearing-rise.',
  );
  expect(KINDS_SAY).toContain(
    '100 % × (1 − 1.5 × E1.tail-speed ÷ E1.shaft-speed), by how much E1.tail-speed lags.',
  );
  expect(KINDS_SAY).toContain('the change of E1.bearing-temperature over 60 s, per 60 s.');
  expect(words(htmlReport(SAMPLE))).not.toContain('worked out');
});

const GAP = 'tw-gap';
const cssOf = (svg: string, css: string): Seen[] =>
  readMarkup(svg).filter(({ attributes }) => attributes['class'] === css);

test.each(KINDS.book.interlocks.map(({ cause }, index) => [cause.kind, index] as const))(
  'the plot of a trial by %s does not break, and its gaps are gaps',
  (_, index) => {
    const subject = subjectsOf(KINDS)[index]!;
    const trace = subject.report.traces[0]!;
    const svg = plotTrial(KINDS, subject, trace, 'k');
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    const [gap] = cssOf(svg, GAP);
    expect(gap).toBeDefined();
    const from = Number(gap?.attributes['x']);
    const to = from + Number(gap?.attributes['width']);
    for (const one of cssOf(svg, 'tw-signal')) {
      const xs = (one.attributes['points'] ?? '').split(' ').map((corner) => Number(corner.split(',')[0]));
      expect(Math.max(...xs) <= from + 0.5 || Math.min(...xs) >= to - 0.5).toBe(true);
    }
  },
);

test('a value below zero stays inside its strip', () => {
  const subject = subjectsOf(KINDS)[4]!;
  const svg = plotTrial(KINDS, subject, subject.report.traces[0]!, 'k');
  const ys = cssOf(svg, 'tw-signal').flatMap(({ attributes }) =>
    (attributes['points'] ?? '').split(' ').map((corner) => Number(corner.split(',')[1])),
  );
  // The first strip of a plot without a level begins at 26 and is 26 high.
  expect(Math.min(...ys)).toBeGreaterThanOrEqual(26);
  expect(Math.max(...ys)).toBeLessThanOrEqual(52);
});

test('a number line without a limit says nothing of one', () => {
  expect(KINDS_SAY).toContain('Hatched: allowed around the set point.');
  expect(KINDS_SAY).not.toContain('Ruled: beyond the limit');
  expect(words(htmlReport(SAMPLE))).toContain('Ruled: beyond the limit.');
});

test('a group says which of its causes is drawn', () => {
  expect(KINDS_SAY.match(/Of the causes of this interlock, \S+ is drawn\./g)).toEqual([
    'Of the causes of this interlock, E1.shaft-speed is drawn.',
  ]);
});

test('each trial says how its cause was moved and what that can prove', () => {
  const page = words(htmlReport(SAMPLE));
  expect(page).toContain(
    'Pulses or current injected in place of the sensor. Ramp, 0.96 rpm/s (1 %/s of normal). A ramp can prove the level only together with a trial that shows the delay.',
  );
  expect(page).toContain(
    'Step to 71.95 … 72.05 rpm. A step can prove the delay; it says little of the level.',
  );
  expect(page).toContain(
    'Held at 82.90 … 83.10 rpm for 4.3 s. A hold beyond the set point can prove that it acts there.',
  );
  expect(page).toContain('There is no trip point here: it can prove that the effects come, and when.');
  expect(KINDS_SAY.match(/It can prove that nothing acts there\./g)).toHaveLength(1);
  const table = terminalTable(SAMPLE);
  expect(table).toMatch(/^ {4}trial 1: ramp, 0\.96 rpm\/s \(1 %\/s of normal\)$/m);
  expect(table).toMatch(/^ {4}trial 2: step to 71\.95 … 72\.05 rpm$/m);
});

test('a hold just inside is told as one', () => {
  const [, alarm] = SAMPLE.interlocks;
  const [trial] = alarm!.verdict.trials;
  const course = { kind: 'hold' as const, held: { low: 88, high: 88.2 }, seconds: 12.04, inside: true };
  const verdict = { ...alarm!.verdict, trials: [{ ...trial!, course }] };
  const table = flat(terminalTable({ ...SAMPLE, interlocks: [{ ...alarm!, verdict }] }));
  expect(table).toContain('trial 1: held at 88.00 … 88.20 rpm for 12 s, just inside the set point');
});

test.each([
  [{ rule: 'guard-band', r: 0.5 } as const, 'guard band, r = 0.5'],
  [{ rule: 'simple' } as const, 'simple acceptance'],
])('by %o the sentence gives the probability, and the report names the rule', (decision, name) => {
  const report = byRule(decision);
  const sentence =
    'Trip point 80.1 … 82.5 % lies inside the set point band 80.5 … 83.5 %; by its best estimate, probability of conformance 83.26 %.';
  const page = words(htmlReport(report));
  expect(page).toContain(sentence);
  expect(page).toContain(`Decision rule: ${name}.`);
  expect(page).toMatch(
    new RegExp(`E1\\.underspeed-stop: ${name.replace('.', '\\.')}: the best estimate decides`),
  );
  expect(page).not.toContain('80.5 … 83.5 %: wholly inside');
  const table = flat(terminalTable(report));
  expect(table).toContain(sentence);
  expect(table).toContain(`decision rule: ${name}`);
});

const likely = (probability: number): WindowReport => {
  const [first] = byRule({ rule: 'simple' }).interlocks;
  const code = 'delay-outside';
  const params = { delay: { low: 1.4, high: 1.6 }, allowed: { low: 0.8, high: 1.2 }, probability };
  const verdict = { ...first!.verdict, outcome: 'fail' as const, reasons: [{ code, params }] as const };
  return { ...byRule({ rule: 'simple' }), interlocks: [{ ...first!, verdict }] };
};

test('a probability of zero or one is told, and as no more certain than its last digit', () => {
  expect(flat(terminalTable(likely(0)))).toContain('probability of conformance at most 0.01 %.');
  expect(flat(terminalTable(likely(1)))).toContain('probability of conformance at least 99.99 %.');
  expect(flat(terminalTable(likely(0.0001)))).toContain('probability of conformance 0.01 %.');
});

test('by bounds nothing is said of a probability', () => {
  expect(words(htmlReport(SAMPLE))).not.toContain('probability');
  expect(words(htmlReport(SAMPLE))).toContain('Decision rule: bounds.');
});

test('a demand is marked, and claims neither a method nor people', () => {
  const page = words(htmlReport(DEMANDED));
  expect(page).toContain('DEMAND A real trip outside any test; partial evidence.');
  expect(page).toContain('Demand d-0003');
  for (const claim of [
    'Test window',
    'Test method',
    'not stated.',
    'Tested by',
    'Witness',
    'Permit',
    'As found',
    'as found',
    'Trial 1',
    'daemon',
  ])
    expect(page).not.toContain(claim);
  readMarkup(htmlReport(DEMANDED));
  const table = terminalTable(DEMANDED);
  expect(table).toMatch(/^◆ DEMAND: A real trip outside any test; partial evidence\./m);
  expect(table).toContain('demand 1: ramp');
  expect(JSON.parse(reportJson(DEMANDED))).toMatchObject({ demand: true });
  expect(words(htmlReport(SAMPLE))).not.toContain('DEMAND');
  expect(terminalTable(SAMPLE)).not.toContain('DEMAND');
});

test('a demand in which nothing acted says so', () => {
  expect(words(htmlReport({ ...DEMANDED, interlocks: [] }))).toContain('No interlock has a verdict.');
});

test('contradictions stand above the verdicts with their time, the dangerous ones first, by shape and word', () => {
  const page = htmlReport(CONTRADICTED);
  const seen = readMarkup(page).flatMap(({ name, attributes }) =>
    name === 'li' && /^tw-(danger|note)$/.test(attributes['class'] ?? '') ? [attributes['class']] : [],
  );
  expect(seen).toEqual(['tw-danger', 'tw-note']);
  expect(page.indexOf('tw-danger"')).toBeLessThan(page.indexOf('id="summary"'));
  expect(words(page)).toMatch(
    /▲ DANGER 33\.4 s 2025-11-25 09:30:33\.400 UTC E1\.underspeed-stop does not act: .* Stop the machine/,
  );
  expect(words(page)).toMatch(/◇ NOTE 12\.3 s 2025-11-25 09:30:12\.250 UTC E1\.horn was told to sound/);
  const table = terminalTable(CONTRADICTED);
  expect(table.indexOf('▲ DANGER at 33.4 s')).toBeGreaterThan(0);
  expect(table.indexOf('▲ DANGER at 33.4 s')).toBeLessThan(table.indexOf('◇ NOTE at 12.3 s'));
  expect(table.indexOf('◇ NOTE at 12.3 s')).toBeLessThan(table.indexOf('VERDICT'));
  expect(JSON.parse(reportJson(CONTRADICTED)).contradictions).toHaveLength(2);
  expect(htmlReport(SAMPLE)).not.toContain('What cannot both be right');
});

test('no line of any of these is wider than 80 columns', () => {
  for (const report of [KINDS, CONTRADICTED, DEMANDED, byRule({ rule: 'guard-band', r: 1 })])
    for (const line of terminalTable(report).split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
});
