/**
 * deploy/verify_bundle.py, written from deploy/formats.md alone in another language: its verdict on a good bundle and on
 * every tampered one is ours. Needs python3 with Debian's python3-cryptography; skipped with a word where it is missing.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';
import {
  bundleText,
  canonicalText,
  fingerprintOf,
  keyFingerprint,
  verifyBundle,
} from '../../../src/record/index.ts';
import { sha256 } from '../../../src/store/index.ts';
import { GOOD, LOG, TAMPERED } from './bundle-tampered.ts';
import { verified } from './bundled.ts';

const SCRIPT = fileURLToPath(new URL('../../../deploy/verify_bundle.py', import.meta.url));
const PYTHON = ['/usr/bin/python3', 'python3'].find(
  (one) => spawnSync(one, ['-c', 'import cryptography']).status === 0,
);
if (PYTHON === undefined)
  console.warn(
    'Skipped: python3 with python3-cryptography is not there; the independent verifier cannot run.',
  );

const folder = mkdtempSync(join(tmpdir(), 'tripwitness-bundle-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const asked = (text: string, ...more: string[]): { code: number | null; out: string } => {
  const path = join(folder, 'window.bundle.json');
  writeFileSync(path, text);
  const ran = spawnSync(PYTHON ?? '', [SCRIPT, path, ...more], { encoding: 'utf8' });
  return { code: ran.status, out: ran.stdout + ran.stderr };
};

const textOf = (bundle: unknown): string => (typeof bundle === 'string' ? bundle : canonicalText(bundle));

test('it has fewer than 200 lines', () => {
  expect(readFileSync(SCRIPT, 'utf8').trimEnd().split('\n').length).toBeLessThan(200);
});

describe.skipIf(PYTHON === undefined)('the independent verifier', () => {
  test('verifies a good bundle, and shows the fingerprints that we print', () => {
    const { code, out } = asked(bundleText(GOOD));
    expect(out).toContain('VERIFIES\nwindow w-1: 9 entries, nothing left out up to entry 19');
    expect(code).toBe(0);
    const { log, checkpoint } = GOOD;
    expect(out).toContain(`state ${fingerprintOf(sha256, { ...checkpoint, log })}`);
    expect(out).toContain(`key   ${keyFingerprint(sha256, checkpoint.key)}`);
    expect(asked(bundleText(LOG.bundle(1, 'w-0', 'w-1'))).code).toBe(0);
  });

  test('holds the key and the state against what is known of them', () => {
    const { checkpoint, log } = GOOD;
    const text = bundleText(GOOD);
    expect(asked(text, checkpoint.key).code).toBe(0);
    expect(asked(text, keyFingerprint(sha256, checkpoint.key)).code).toBe(0);
    expect(asked(text, fingerprintOf(sha256, { ...checkpoint, log })).code).toBe(0);
    expect(asked(text, 'AAAA-AAAA-AAAA-AAAA').code).toBe(1);
  });

  test('ends without a traceback where nobody reads on', () => {
    const path = join(folder, 'unread.bundle.json');
    for (const [text, code] of [
      [bundleText(GOOD), 0],
      ['{}', 1],
    ] as const) {
      writeFileSync(path, text);
      // The reader has gone before anything is written: the pipe is closed by hand.
      const closed = `import os, subprocess, sys
read, write = os.pipe()
os.close(read)
ran = subprocess.run(sys.argv[1:], stdout=write, stderr=subprocess.PIPE)
print(ran.returncode, ran.stderr.decode())`;
      const ran = spawnSync(PYTHON ?? '', ['-c', closed, PYTHON ?? '', SCRIPT, path], { encoding: 'utf8' });
      expect(ran.stdout.trim()).toBe(`${code}`);
    }
  });

  test.each(TAMPERED)('refuses as we do: %s', (_, __, tampered) => {
    const text = textOf(tampered());
    expect(verifyBundle(text, sha256, verified).damage).not.toEqual([]);
    const { code, out } = asked(text);
    expect(out).toMatch(/^DOES NOT VERIFY\n/);
    expect(code).toBe(1);
  });
});
