/** What a command says: within 80 columns, the most urgent first, and not again and again. */
import { expect, test } from 'vitest';
import type { AdviceNow, FindingTold } from '../../../src/api/index.ts';
import { hung } from '../../../src/cli/hung.ts';
import { changingLine, findingLines, mostUrgent, planLines, shownOf } from '../../../src/cli/lines.ts';

const advice = (code: string, text: string): AdviceNow => ({
  interlock: 'E1.underspeed-stop',
  code,
  params: {},
  text,
});
const SLOW = advice('coach-slow-down', 'Slow down: 3.0 … 3.2 %/s, at most 1.2 %/s.');
const HOLD = advice('coach-hold', 'Hold: 2 s more.');

const screen = (isTTY: boolean) => {
  let written = '';
  return {
    isTTY,
    write(text: string) {
      written += text;
    },
    said: () => written,
  };
};

/** What stands on a terminal at last: a carriage return and "erase line" begin a line anew (ECMA-48, CR and EL). */
const shown = (written: string): string[] =>
  written.split('\n').map((line) => line.split('\r\u001b[2K').at(-1) ?? '');

test('on a terminal the advice changes in place, and what is said meanwhile stands above it', () => {
  const tty = screen(true);
  const line = changingLine(tty);
  line.set(HOLD);
  line.set(SLOW);
  line.above(['  E1.underspeed-stop: Trial began.']);
  expect(shown(tty.said())).toEqual([
    '  E1.underspeed-stop: Trial began.',
    'E1.underspeed-stop: Slow down: 3.0 … 3.2 %/s, at most 1.2 %/s.',
  ]);
  const before = tty.said();
  line.set(SLOW);
  expect(tty.said()).toBe(before);
  line.set(undefined);
  expect(shown(tty.said()).at(-1)).toBe('');
});

test('a line that is too long for the terminal is cut, for it could not be erased', () => {
  const tty = screen(true);
  changingLine(tty).set(advice('coach-hold', 'x'.repeat(200)));
  expect([...(shown(tty.said())[0] ?? '')].length).toBeLessThan(80);
});

test('in a file the same advice with other figures is told once', () => {
  const file = screen(false);
  const line = changingLine(file);
  line.set(SLOW);
  line.set({ ...SLOW, text: 'Slow down: 2.0 … 2.2 %/s, at most 1.2 %/s.' });
  line.set(HOLD);
  line.set(undefined);
  line.set(HOLD);
  expect(
    file
      .said()
      .split('\n')
      .filter((one) => one.includes('Slow down')),
  ).toHaveLength(1);
  expect(
    file
      .said()
      .split('\n')
      .filter((one) => one.includes('Hold')),
  ).toHaveLength(2);
  expect(file.said()).not.toContain('\u001b');
});

test('too fast is more urgent than anything else', () => {
  expect(mostUrgent([HOLD, SLOW])).toBe(SLOW);
  expect(mostUrgent([])).toBeUndefined();
});

const told = (about: Partial<FindingTold>): FindingTold =>
  ({
    index: 0,
    interlock: 'E1.stop',
    text: 'ready',
    aside: false,
    finding: { kind: 'waits' },
    ...about,
  }) as FindingTold;

test('what is about nothing under test is told on request; a danger stands out; nothing is wider than 80 columns', () => {
  const long = 'E1.stop does not act: stop the machine by its normal stop, and keep people away. '.repeat(3);
  const danger = told({
    text: `DANGEROUS: ${long}`,
    finding: { kind: 'contradiction', dangerous: true } as FindingTold['finding'],
  });
  const all = [told({ aside: true, text: 'Trial began.' }), danger, told({ text: long })];
  expect(shownOf(all, false)).toEqual([danger, all[2]]);
  expect(shownOf(all, true)).toEqual(all);
  const lines = all.flatMap(findingLines);
  expect(Math.max(...lines.map((line) => [...line].length))).toBeLessThanOrEqual(80);
  expect(lines.filter((line) => line.startsWith('!!')).length).toBeGreaterThan(3);
  const plan = planLines([
    { interlock: 'E1.stop', advice: [{ code: 'x', params: {}, text: long }], undecidable: [], notes: [] },
  ]);
  expect(plan[1]?.startsWith('    > E1.stop')).toBe(true);
  expect(Math.max(...plan.map((line) => [...line].length))).toBeLessThanOrEqual(80);
});

test('a name cannot repaint the terminal', () => {
  expect(hung('E1\u001b[2Jstop', '').join()).not.toContain('\u001b');
});
