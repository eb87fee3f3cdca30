import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { FAULT_TEXTS } from '../../../src/config/messages.ts';
import { ROOT, readTexts } from './load.ts';

const SITE = readFileSync(`${ROOT}tests/rulebooks/good/site.yaml`, 'utf8').replace('../good/', '');
const LEG = readFileSync(`${ROOT}tests/rulebooks/good/leg.yaml`, 'utf8');

const bits = fc.constantFrom(
  '',
  ' ',
  '\n',
  '\t',
  ':',
  '- ',
  '{',
  '}',
  '[',
  ']',
  '"',
  '&a ',
  '*a',
  '!x ',
  '? ',
  '%',
  '0',
  'NO',
  '~',
  '#',
  '|',
  ',',
);
const mangle = (text: string, changes: readonly { at: number; length: number; put: string }[]): string =>
  changes.reduce((now, cut) => {
    const at = cut.at % (now.length + 1);
    return now.slice(0, at) + cut.put + now.slice(at + cut.length);
  }, text);
const cuts = fc.array(fc.record({ at: fc.nat(5_000), length: fc.nat(12), put: bits }), {
  minLength: 1,
  maxLength: 4,
});

test('no mangled file makes the reader throw, lose its place or speak without a text', () => {
  fc.assert(
    fc.property(cuts, cuts, (inSite, inLeg) => {
      const files = { 'site.yaml': mangle(SITE, inSite), 'leg.yaml': mangle(LEG, inLeg) };
      const read = readTexts('site.yaml', files);
      const faults = 'faults' in read ? read.faults : [];
      for (const fault of [...faults, ...read.warnings]) {
        const text = Object.entries(files).find(([name]) => name === fault.file)?.[1] ?? '';
        expect(text.split('\n').length).toBeGreaterThanOrEqual(fault.line);
        expect(fault.line * fault.column).toBeGreaterThan(0);
        expect(FAULT_TEXTS).toHaveProperty([fault.code]);
      }
      if ('faults' in read) expect(faults.length).toBeGreaterThan(0);
    }),
    { numRuns: 1_500 },
  );
});
