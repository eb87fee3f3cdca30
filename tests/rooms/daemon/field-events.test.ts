/** What a source tells is a sentence that names place, question, try, time, what is not judged without it, and a next step. */
import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { createFieldEvents } from '../../../src/daemon/field-events.ts';
import type { FieldEvent } from '../../../src/field/index.ts';
import { instant } from '../../../src/measure/index.ts';
import { CATALOGUE } from '../../../src/words/index.ts';
import { bookOf, load, ROOT } from '../config/load.ts';

const book = bookOf(load(`${ROOT}config/demo-site.yaml`));
const tell = createFieldEvents(book);
const plc = book.sources.findIndex(({ name }) => name === 'plc1');

const event = (kind: FieldEvent['kind'], code: string, params: FieldEvent['params']): FieldEvent => ({
  kind,
  source: plc,
  at: instant(0),
  code,
  params: { place: '10.0.0.5:502', unit: 3, ...params },
});

test('a refused address is told with the interlocks that need it, and no others', () => {
  const params = { function: 3, table: 'holding', address: 2, count: 1, attempt: 2, elapsed: 4 };
  const told = tell(event('refused', 'address-refused', { ...params, exception: 2, next: 'check-address' }));
  expect(told.text).toBe(
    'plc1 (10.0.0.5:502 unit 3): It refuses this address (exception 2); the others are read on. Asked: function 3, ' +
      'holding 2 to 2, 4 ms. Try 2. Not judged without it: E1.bearing-alarm, E1.bearing-stop. Check the address: ' +
      '"probe" shows its neighbours too.',
  );
  expect(told).toMatchObject({ kind: 'source-refused', level: 'warn' });
});

test('a lost source takes all its interlocks with it; many are counted', () => {
  const told = tell(event('lost', 'silent', { detail: '1000 ms', attempt: 1, next: 'check-unit' }));
  expect(told.affected.every((name) => name.startsWith('E1.') || name.startsWith('F1.'))).toBe(true);
  expect(told.affected.length).toBeGreaterThan(3);
  expect(told.text).toContain(`and ${told.affected.length - 3} more`);
  expect(told.text).not.toContain('Try');
  const back = tell(event('back', 'back', { attempt: 0 }));
  expect(back).toMatchObject({ kind: 'source-back', level: 'info', affected: [] });
  expect(back.text).toBe('plc1 (10.0.0.5:502 unit 3): Answers again.');
});

test('an unknown code is told as it is', () => {
  expect(tell(event('note', 'never-heard-of', { a: 1 })).text).toContain('never-heard-of (');
});

/** Codes of Modbus fouls and next steps, where they are written. */
test('every code that Modbus polling can tell has its sentence', () => {
  const folder = `${ROOT}src/field/modbus/`;
  const files = readdirSync(folder).filter((name) => name.endsWith('.ts') && !/^probe/.test(name));
  const source = files.map((name) => readFileSync(`${folder}${name}`, 'utf8')).join('\n');
  const nexts = [...source.matchAll(/'(check-[a-z-]+|wait)'/g)].map(([, code]) => `next-${code}`);
  const fouls = [...source.matchAll(/\b(?:code|foul): '([a-z][a-z-]+)'/g)].map(([, code]) => code ?? '');
  const inside = new Set(['stopped', 'not-a-read']);
  const codes = [...nexts, ...fouls.filter((code) => !inside.has(code)).map((code) => `field-${code}`)];
  expect(codes.length).toBeGreaterThan(20);
  expect(codes.filter((code) => !Object.hasOwn(CATALOGUE, code))).toEqual([]);
});
