import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { faultText } from '../../../src/config/index.ts';
import { FAULT_TEXTS } from '../../../src/config/messages.ts';
import { ROOT, readTexts } from './load.ts';

const WORDS_SITE = readFileSync(`${ROOT}tests/rulebooks/good/words-site.yaml`, 'utf8');
const WORDS = readFileSync(`${ROOT}tests/rulebooks/good/words.yaml`, 'utf8');
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

const holds = (files: Readonly<Record<string, string>>): void => {
  const read = readTexts('site.yaml', files);
  const faults = 'faults' in read ? read.faults : [];
  for (const fault of [...faults, ...read.warnings]) {
    const text = files[fault.file] ?? '';
    expect(text.split('\n').length).toBeGreaterThanOrEqual(fault.line);
    expect(fault.line * fault.column).toBeGreaterThan(0);
    expect(FAULT_TEXTS).toHaveProperty([fault.code]);
    expect(faultText(fault)).not.toMatch(/undefined|NaN|\[object/);
  }
  if ('faults' in read) expect(faults.length).toBeGreaterThan(0);
};

describe('no mangled file makes the reader throw, lose its place or speak without a text', () => {
  test('a small site', () => {
    fc.assert(
      fc.property(cuts, cuts, (inSite, inLeg) => {
        holds({ 'site.yaml': mangle(SITE, inSite), 'leg.yaml': mangle(LEG, inLeg) });
      }),
      { numRuns: 1_000 },
    );
  });
  test('a site that uses every word', () => {
    fc.assert(
      fc.property(cuts, cuts, (inSite, inWords) => {
        holds({ 'site.yaml': mangle(WORDS_SITE, inSite), 'words.yaml': mangle(WORDS, inWords) });
      }),
      { numRuns: 400 },
    );
  });
});
