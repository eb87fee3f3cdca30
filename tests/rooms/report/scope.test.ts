/** What must be proved again after a change. The five degrees of nearness are common practice, no source. */
import { describe, expect, test } from 'vitest';
import { canonicalText } from '../../../src/record/index.ts';
import { historyOf, knownAt, scopeOf, scopeText, whyText } from '../../../src/report/index.ts';
import type { Book } from '../../../src/rulebook/index.ts';
import { bookOf, load, ROOT } from '../config/load.ts';
import { at, pastOf } from './past.ts';

const book = bookOf(load(`${ROOT}config/demo-site.yaml`));
const none = { changed: [], all: false };
const by = (list: ReturnType<typeof scopeOf>, nearness: string) =>
  list.rows.filter((row) => row.nearness === nearness).map(({ interlock }) => interlock);

test('a timer: what names it is direct, what shares a name with that is shared, the rest is sampled', () => {
  const list = scopeOf(book, { ...none, changed: ['Timer T4'] });
  expect(by(list, 'direct')).toEqual(['E1.underspeed-stop']);
  // All of E1 stand on output card 2.
  expect(by(list, 'shared')).toEqual(
    book.interlocks.flatMap(({ name }) =>
      name.startsWith('E1.') && name !== 'E1.underspeed-stop' ? [name] : [],
    ),
  );
  expect(by(list, 'control')).toHaveLength(3);
  expect(by(list, 'control').every((name) => !name.startsWith('E1.'))).toBe(true);
  // The feeder has no revision of its own and is read from the same controller.
  expect(list.machines).toEqual(['E1', 'F1']);
  expect(list.rows.length + list.untouched.length).toBe(book.interlocks.length);
  expect(whyText(list.rows[0] ?? { interlock: '', machine: '', nearness: 'direct', reasons: [] })).toBe(
    'direct: It depends on Timer T4.',
  );
});

test('a tag, a line of a rule; the same sensor shares, the same effect and the cascade are neighbours', () => {
  const bare: Book = {
    ...book,
    interlocks: book.interlocks.map(({ upkeep: _, ...one }) => one),
  };
  const tag = scopeOf(bare, { ...none, changed: ['C2.bearing-temperature'] });
  expect(by(tag, 'direct')).toEqual(['C2.bearing-alarm', 'C2.bearing-stop']);
  expect(by(tag, 'neighbour')).toContain('C2.underspeed-stop');
  const line = scopeOf(bare, { ...none, changed: ['C2.underspeed-stop.delay.time'] });
  expect(by(line, 'direct')).toEqual(['C2.underspeed-stop']);
  expect(by(line, 'shared')).toEqual(['C2.underspeed-alarm', 'C2.pulse-loss-stop']);
  const feeder = scopeOf(bare, { ...none, changed: ['F1.start-permissive'] });
  for (const name of by(feeder, 'neighbour')) expect(name).toMatch(/^E1\./);
});

test('the rules of a log, whose keys are sorted, against the same rules from their files: nothing differs', () => {
  const logged = JSON.parse(canonicalText(book as never)) as Book;
  for (const [before, now] of [
    [logged, book],
    [book, logged],
  ] as const)
    expect(scopeOf(now, { ...none, before }).rows.filter(({ nearness }) => nearness === 'direct')).toEqual(
      [],
    );
});

test('a site file against another: what differs is direct, with what differs', () => {
  const after: Book = {
    ...book,
    interlocks: book.interlocks.flatMap((one) => {
      if (one.name === 'C2.bearing-alarm') return [];
      return one.name === 'C2.underspeed-stop' && one.delay
        ? [{ ...one, delay: { ...one.delay, time: 2e6 } }]
        : [one];
    }),
  };
  const list = scopeOf(after, { ...none, before: book });
  expect(by(list, 'direct')).toEqual(['C2.underspeed-stop']);
  expect(list.gone).toEqual(['C2.bearing-alarm']);
  expect(scopeText(list).replace(/\s+/g, ' ')).toContain(
    'delay was 1 s ± 0.2 s, on return resets, and becomes 2 s ± 0.2 s',
  );
  expect(scopeOf(book, { ...none, before: book }).rows).toEqual([]);
});

test('firmware: everything; a name that nobody knows is told', () => {
  expect(by(scopeOf(book, { ...none, all: true }), 'all')).toHaveLength(book.interlocks.length);
  const list = scopeOf(book, { ...none, changed: ['routine nobody-knows'] });
  expect(list.unknown).toEqual(['routine nobody-knows']);
  expect(list.rows).toEqual([]);
  expect(scopeText(list)).toContain('! "routine nobody-knows" is no interlock');
});

describe('controls', () => {
  test('are those proved longest ago, never proved first; three, or a tenth', () => {
    const names = book.interlocks.map(({ name }) => name).filter((name) => name.startsWith('C2.'));
    const past = pastOf('2026-01-01', book);
    const days = names.map((_, index) => `2026-02-${String(28 - index).padStart(2, '0')}`);
    for (const [index, name] of [...names.entries()].reverse())
      past.window(days[index] ?? '', { id: `w${index}`, tested: [{ name, verdict: { outcome: 'pass' } }] });
    const known = knownAt(historyOf(past.entries), at('2026-03-01'));
    const list = scopeOf(book, { ...none, changed: ['timer T4'] }, known?.evidence);
    const rest = book.interlocks.map(({ name }) => name).filter((name) => !name.startsWith('E1.'));
    const untested = rest.filter((name) => !names.includes(name));
    expect(by(list, 'control')).toEqual([...untested, ...names.reverse()].slice(0, 3));
    const large: Book = {
      ...book,
      interlocks: Array.from({ length: 41 }, (_, index) => ({
        ...(book.interlocks.find(
          ({ name }) => name === 'C2.bearing-stop',
        ) as never as Book['interlocks'][number]),
        name: index === 0 ? 'X.one' : `C2.copy-${index}`,
        ...(index === 0 && {
          effects: book.interlocks[0]?.effects as never,
          cause: book.interlocks[0]?.cause as never,
        }),
      })),
    };
    // 40 untouched: a tenth is four.
    expect(by(scopeOf(large, { ...none, changed: ['X.one'] }), 'control')).toHaveLength(4);
  });
});

test('no line is wider than 80', () => {
  const lines = scopeText(scopeOf(book, { ...none, changed: ['timer T4', 'what is this'] })).split('\n');
  expect(Math.max(...lines.map((line) => [...line].length))).toBeLessThanOrEqual(80);
});
