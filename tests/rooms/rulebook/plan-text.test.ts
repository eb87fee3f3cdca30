/** What `check` prints of the plan. */
import { expect, test } from 'vitest';
import { decidedLines } from '../../../src/cli/plan-text.ts';
import { feasibility } from '../../../src/rulebook/index.ts';
import { bookOf as demoOf, load, ROOT } from '../config/load.ts';
import { effect, idOf, S } from '../judge/rig.ts';
import { booksOf, stopAt } from './plan-rig.ts';

test('no line is wider than 80 columns, and none is empty, for the site that ships', () => {
  const book = demoOf(load(`${ROOT}config/demo-site.yaml`));
  const lines = decidedLines(book, feasibility(book));
  expect(lines.length).toBeGreaterThan(book.interlocks.length);
  for (const line of lines) {
    expect([...line].length).toBeLessThanOrEqual(80);
    expect(line.trim()).not.toBe('');
    expect(line).not.toMatch(/undefined|NaN|Infinity|[{}[\]]/);
  }
});

test('ramp, hold and step in plain words, in percent of normal', () => {
  const { plan } = booksOf(stopAt(1), { poll: 0.25, scan: 0.05, consistent: false });
  const said = decidedLines(plan, feasibility(plan)).join(' ').replace(/\s+/g, ' ');
  // 82 ± 1.5 % of 96 rpm in steps of 0.1 rpm: (1.44 − 0.1) rpm in five polls and a scan, (1.25 + 0.05) s; the own outputs
  // within 20 s, two brackets of 0.3 s.
  expect(said).toContain('> Ramp at most 1.0 %/s; then hold at 80.3 % for 20.6 s.');
  expect(said).toContain('Or hold at 83.3 % for 2.6 s or longer: it must not act.');
  expect(said).toContain('Then at 80.7 % for 2 s: acting here passes.');
  expect(said).toContain('> For the delay, one step from normal to');
  expect(said).toContain('! With a delay of 1 s, a ramp or a hold alone decides nothing');
});

test('the advice is rounded to the safe side', () => {
  const { plan } = booksOf(stopAt(1), { poll: 0.25, scan: 0.05, consistent: false });
  const [found] = feasibility(plan);
  const hold = found?.advice.find(({ code }) => code === 'plan-or-hold')?.params ?? {};
  const percent = (rpm = 0) => (100 * rpm) / 96;
  const inside = percent(found?.hold?.inside.level) - (hold['inside'] as number);
  const acting = (hold['acting'] as number) - percent(found?.hold?.acting.level);
  const outside = percent(found?.hold?.outside.level) - (hold['outside'] as number);
  for (const slack of [inside, acting, outside]) {
    expect(slack).toBeGreaterThanOrEqual(-1e-9);
    expect(slack).toBeLessThan(0.1);
  }
});

test('without a delay a step is a choice: the ramp is told for either, and from where it must not jump', () => {
  const effects = [effect('run', 0, 2 * S)] as const;
  const { plan } = booksOf(stopAt(undefined, { effects }), { poll: 0.1, scan: 0.05, consistent: false });
  const said = decidedLines(plan, feasibility(plan)).join(' ').replace(/\s+/g, ' ');
  // (1.44 − 0.1) rpm in eight polls and a scan: 1.58 rpm/s, 1.64 %/s; two brackets of 0.15 s later than 2 s it has
  // failed, and for as long the ramp lasts before 83.5 %.
  expect(said).toContain(
    '> Ramp at most 1.6 %/s, without a jump from 87.3 % on; then hold at 80.3 % for 2.3 s.',
  );
  // (1.44 − 0.1) rpm in seven polls and a scan: 1.79 rpm/s, 1.86 %/s.
  expect(said).toMatch(
    /> Or first one step from normal to [\d.]+ % or lower, for 2\.3 s, in the same window: it measures the reaction, and a ramp of at most 1\.8 %\/s is slow enough\./,
  );
});

test('a cause that rises is told the other way round', () => {
  const { plan } = booksOf(
    stopAt(undefined, {
      cause: {
        kind: 'level',
        signal: idOf('temp'),
        side: 'above',
        setPoint: { of: 'absolute', factor: 0, offset: 175 },
        tolerance: { of: 'absolute', factor: 0, offset: 2 },
        clears: { of: 'absolute', factor: 0, offset: 170 },
      },
      effects: [effect('run', 0, 3 * S)],
    }),
    { poll: 1, scan: 0.1, consistent: true },
  );
  const said = decidedLines(plan, feasibility(plan)).join(' ').replace(/\s+/g, ' ');
  expect(said).toContain('set point 175 °F (173 … 177)');
  expect(said).toContain('0.2 °F + 1.1 s of ramp, 0.5 s more until its reaction is measured');
  // (2 − 0.1) °F in three polls and a scan, for 3 s and two brackets of 1.1 s before 173 °F.
  expect(said).toContain('> Ramp at most 0.61 °F/s, without a jump from 169.8 °F on; then hold at 177.1 °F');
  expect(said).toContain('Or hold at 173.1 °F');
  expect(said).toMatch(/Then at 176\.9 °F/);
  expect(said).toMatch(/Then at 177\.1 °F/);
});

test('of a trace nothing is said that depends on polling', () => {
  const { judge } = booksOf(stopAt(1), { poll: 0.25, scan: 0.05, consistent: false });
  const said = decidedLines(judge, feasibility(judge)).join('\n');
  expect(said).not.toContain('    > ');
  expect(said).not.toContain('of ramp');
});
