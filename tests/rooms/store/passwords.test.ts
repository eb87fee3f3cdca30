/** Passwords: only scrypt hashes (RFC 7914) are kept, for the owner alone; what is wrong is counted. */
import { scryptSync } from 'node:crypto';
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type Passwords, passwordFault, passwordsOf, preparePassword } from '../../../src/store/index.ts';
import { newPath } from './logs.ts';

const PASSWORD = 'correct horse battery';

interface Kept {
  logs: Record<
    string,
    Record<
      string,
      {
        set: number;
        failures: number;
        scrypt: { N: number; r: number; p: number; salt: string; hash: string };
      }
    >
  >;
}

const prepared = await preparePassword(PASSWORD);
const begun = (): {
  readonly log: string;
  readonly file: string;
  readonly passwords: Passwords;
  kept(): Kept;
} => {
  const log = newPath();
  const file = join(dirname(log), 'people.json');
  const passwords = passwordsOf(log, 'l-1');
  passwords.put('ada', prepared, 4);
  return { log, file, passwords, kept: () => JSON.parse(readFileSync(file, 'utf8')) as Kept };
};

test('the right one is right; the file holds a hash that another program makes too, and no password', async () => {
  const { passwords, file, kept } = begun();
  expect(await passwords.check('ada', PASSWORD, 4)).toEqual({ outcome: 'right' });
  expect(readFileSync(file, 'utf8')).not.toContain('horse');
  const { salt, hash, ...cost } = kept().logs['l-1']!['ada']!.scrypt;
  expect(cost.N).toBeGreaterThanOrEqual(2 ** 15);
  const again = scryptSync(PASSWORD, Buffer.from(salt, 'hex'), 32, { ...cost, maxmem: 1 << 28 });
  expect(again.toString('hex')).toBe(hash);
  expect((await preparePassword(PASSWORD)).scrypt.salt).not.toBe(salt);
});

test.skipIf(process.platform === 'win32')(
  'nobody but its owner may read the file, also where it was open before',
  () => {
    const { passwords, file } = begun();
    expect(statSync(file).mode & 0o777).toBe(0o600);
    writeFileSync(file, readFileSync(file), { mode: 0o644 });
    passwords.put('ben', prepared, 5);
    expect(statSync(file).mode & 0o777).toBe(0o600);
  },
);

test('wrong ones are counted in the file, over restarts, until a right one', async () => {
  const { passwords, log, kept } = begun();
  expect(await passwords.check('ada', 'wrong horse battery', 4)).toEqual({ outcome: 'wrong', failures: 1 });
  expect(await passwordsOf(log, 'l-1').check('ada', '', 4)).toEqual({ outcome: 'wrong', failures: 2 });
  await passwords.check('ada', PASSWORD, 4);
  expect(kept().logs['l-1']?.['ada']?.failures).toBe(0);
  await passwords.check('ada', 'wrong', 4);
  passwords.forgive('ada');
  expect(kept().logs['l-1']?.['ada']?.failures).toBe(0);
});

test('no such account, no such password, one of another time or of another log', async () => {
  const { passwords, log } = begun();
  expect(await passwords.check('eve', PASSWORD, undefined)).toEqual({ outcome: 'wrong', failures: 0 });
  expect(await passwords.check('eve', PASSWORD, 9)).toEqual({ outcome: 'lost' });
  // An old file put back: the log names a later entry.
  expect(await passwords.check('ada', PASSWORD, 8)).toEqual({ outcome: 'lost' });
  expect(await passwordsOf(log, 'l-2').check('ada', PASSWORD, 4)).toEqual({ outcome: 'lost' });
  expect(await passwords.check('__proto__', PASSWORD, 4)).toEqual({ outcome: 'lost' });
});

test('two logs of one folder keep their accounts apart', async () => {
  const { passwords, log } = begun();
  passwordsOf(log, 'l-2').put('ada', await preparePassword('another password'), 1);
  expect(await passwords.check('ada', PASSWORD, 4)).toEqual({ outcome: 'right' });
  expect(await passwordsOf(log, 'l-2').check('ada', PASSWORD, 1)).toMatchObject({ outcome: 'wrong' });
});

describe('a file that is not ours', () => {
  test.each([
    ['no JSON', () => '{"secret'],
    [
      'a cheaper hash',
      (kept: Kept) => {
        kept.logs['l-1']!['ada']!.scrypt.N = 2;
        return JSON.stringify(kept);
      },
    ],
    ['another field', (kept: Kept) => JSON.stringify({ ...kept, more: 'secret' })],
  ] as [string, (kept: Kept) => string][])(
    '%s is refused, and nothing of it is repeated',
    async (_name, made) => {
      const { passwords, file, kept } = begun();
      writeFileSync(file, made(kept()));
      const error = await passwords.check('ada', PASSWORD, 4).catch((cause: unknown) => cause);
      expect(error).toMatchObject({ code: 'damaged' });
      expect(String(error)).not.toContain('secret');
      expect(() => passwords.put('ada', prepared, 5)).toThrow('people.json');
    },
  );
});

test.each([
  ['eleven char', 'password-short'],
  ['ü'.repeat(11), 'password-short'],
  ['x'.repeat(257), 'password-long'],
  ['Ada Elisa Post', 'password-name'],
  ['twelve chars', undefined],
])('a new password "%s": %s', (password, code) => {
  expect(passwordFault(password, 'ada', 'ada elisa post')?.code).toBe(code);
});

test('one text in two spellings is one password', async () => {
  const { passwords } = begun();
  passwords.put('zoe', await preparePassword('zoe\u0308 of the mill'), 6);
  expect(await passwords.check('zoe', 'zo\u00eb of the mill', 6)).toEqual({ outcome: 'right' });
});
