import { expect, test } from 'vitest';
import { fingerprintOf, keyFingerprint, readFingerprint } from '../../../src/record/index.ts';
import { sha256 } from './vectors.ts';

test('the first 80 bits, five at a time, in the digits of Crockford', () => {
  // Worked out with Python's integers: 0x0123456789abcdef0123 >> 75, 70 … 0, each & 31.
  const short = fingerprintOf(() => '0123456789abcdef0123'.padEnd(64, 'f'), { size: 1, root: '', log: '' });
  expect(short).toBe('04HM-ASW9-NF6Y-Y093');
  expect(keyFingerprint(() => 'f'.repeat(64), '')).toBe('ZZZZ-ZZZZ-ZZZZ-ZZZZ');
});

test('log, size and root all count', () => {
  const one = { size: 1, root: sha256(Uint8Array.of(1)), log: 'l-1' };
  const others = [
    one,
    { ...one, size: 2 },
    { ...one, log: 'l-2' },
    { ...one, root: sha256(Uint8Array.of(2)) },
  ];
  expect(new Set(others.map((other) => fingerprintOf(sha256, other))).size).toBe(4);
});

test('as people type it', () => {
  for (const typed of ['04HM-ASW9-NF6Y-Y093', '04hmasw9nf6yy093', 'O4HM ASW9 NF6Y YO93'])
    expect(readFingerprint(typed)).toBe('04HM-ASW9-NF6Y-Y093');
  expect(readFingerprint('il0l-0000-0000-0000')).toBe('1101-0000-0000-0000');
  for (const typed of ['', '04HM', '04HM-ASW9-NF6Y-Y09U', '04HM-ASW9-NF6Y-Y0933'])
    expect(readFingerprint(typed)).toBeUndefined();
});
