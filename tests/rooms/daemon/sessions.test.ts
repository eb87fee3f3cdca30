/** Sessions: how long they last, what ends them, what is kept of them, and that failures cannot fill the log. */
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { Declined } from '../../../src/api/index.ts';
import { createAccounts } from '../../../src/daemon/access/accounts.ts';
import { createBounded } from '../../../src/daemon/access/bounded.ts';
import { createSessions } from '../../../src/daemon/access/sessions.ts';
import { type Instant, instant, SECOND } from '../../../src/measure/index.ts';
import { bodySchemas, type Entry, type EntryKind } from '../../../src/record/index.ts';
import { sessionsBeside } from '../../../src/store/index.ts';
import { newPath } from '../store/logs.ts';

const HOUR = 3_600 * SECOND;
const RIGHT = 'ada correct staple';

const person = (seq: number, body: object): Entry =>
  ({
    kind: 'person',
    seq,
    body: { id: 'ada', name: 'Ada Post', roles: ['tester'], ...body },
  }) as unknown as Entry;

const rigOf = (path = newPath(), begun = 0) => {
  let at = instant(begun + 1_000 * HOUR);
  const accounts = createAccounts([person(3, { action: 'added' })]);
  const entered: { subject: string; actor: string; body: Entry['body'] }[] = [];
  const kept = sessionsBeside(path, 'l-1');
  const sessions = createSessions({
    accounts,
    kept,
    now: () => at,
    desk: {
      async prove({ as, password }) {
        const account = accounts.get(as);
        if (account !== undefined && password === RIGHT) return account;
        throw new Declined({ code: 'password-wrong', params: {} }, 'no');
      },
    },
    logbook: {
      enter(kind: EntryKind, subject, actor, body) {
        expect(kind).toBe('session');
        expect(bodySchemas.session.safeParse(body).success).toBe(true);
        return entered.push({ subject, actor, body: body as Entry['body'] });
      },
      settled: async () => undefined,
    },
  });
  return {
    path,
    accounts,
    sessions,
    entered,
    file: `${path}-sessions`,
    pass: (by: number) => {
      at = instant(at + by);
    },
    signIn: (password = RIGHT, id = 'ada') => sessions.signIn(id, password, '10.0.0.7'),
  };
};

test('it ends 12 hours after it was last used, and after 24 hours in any case', async () => {
  const rig = rigOf();
  const secret = await rig.signIn();
  rig.pass(12 * HOUR);
  expect(rig.sessions.account(secret)).toMatchObject({ id: 'ada' });
  rig.pass(12 * HOUR);
  expect(rig.sessions.account(secret)).toBeDefined();
  rig.pass(1);
  expect(rig.sessions.account(secret)).toBeUndefined();
  const idle = await rig.signIn();
  rig.pass(12 * HOUR + 1);
  expect(rig.sessions.account(idle)).toBeUndefined();
});

test('what ends it by time ends what runs in it, without anybody asking', async () => {
  const rig = rigOf();
  const secret = await rig.signIn();
  let ended = 0;
  const quiet = rig.sessions.onEnd(secret, () => {
    ended += 100;
  });
  rig.sessions.onEnd(secret, () => {
    ended += 1;
  });
  quiet();
  rig.sessions.look();
  expect(ended).toBe(0);
  rig.pass(12 * HOUR + 1);
  rig.sessions.look();
  expect(ended).toBe(1);
});

test.each([
  ['another password', { action: 'password-changed' }],
  ['other roles', { action: 'roles-changed', roles: ['tester', 'reviewer'] }],
  ['a lock', { action: 'locked' }],
  ['its closing', { action: 'closed' }],
])('%s of the account ends it at once, and for good', async (_, body) => {
  const rig = rigOf();
  const secret = await rig.signIn();
  let ended = false;
  rig.sessions.onEnd(secret, () => {
    ended = true;
  });
  rig.accounts.take(person(9, body));
  expect(ended).toBe(true);
  rig.accounts.take(person(10, { action: 'unlocked' }));
  expect(rig.sessions.account(secret)).toBeUndefined();
});

test('a change of another account ends nothing', async () => {
  const rig = rigOf();
  const secret = await rig.signIn();
  rig.accounts.take(person(9, { action: 'added', id: 'ben', name: 'Ben' }));
  rig.accounts.take(person(10, { action: 'closed', id: 'ben', name: 'Ben' }));
  expect(rig.sessions.account(secret)).toMatchObject({ id: 'ada' });
});

test('it outlives the daemon by a file that holds no secret and is for its owner alone', async () => {
  const rig = rigOf();
  const secret = await rig.signIn();
  expect(secret).toMatch(/^[A-Za-z0-9_-]{43}$/);
  expect(statSync(rig.file).mode & 0o777).toBe(0o600);
  expect(readFileSync(rig.file, 'utf8')).not.toContain(secret);
  expect(rigOf(rig.path).sessions.account(secret)).toMatchObject({ id: 'ada' });
  expect(rigOf(rig.path, 13 * HOUR).sessions.account(secret)).toBeUndefined();
});

test('a file that is damaged, or of another log, holds none', async () => {
  const rig = rigOf();
  const secret = await rig.signIn();
  expect(sessionsBeside(rig.path, 'l-2').read()).toEqual([]);
  writeFileSync(rig.file, readFileSync(rig.file, 'utf8').replace('"began"', '"begun"'));
  expect(rigOf(rig.path).sessions.account(secret)).toBeUndefined();
  writeFileSync(rig.file, '{');
  expect(rigOf(rig.path).sessions.account(secret)).toBeUndefined();
});

test('signing in and out is entered under the account; what nobody is called is not', async () => {
  const rig = rigOf();
  const secret = await rig.signIn();
  await rig.sessions.signOut(secret, '10.0.0.7');
  await rig.sessions.signOut(secret, '10.0.0.7');
  await expect(rig.signIn('wrong')).rejects.toThrow();
  await expect(rig.signIn('wrong', 'ada correct staple')).rejects.toThrow();
  const ada = { id: 'ada', name: 'Ada Post', from: '10.0.0.7' };
  expect(rig.entered).toEqual([
    { subject: 'ada', actor: 'Ada Post', body: { action: 'signed-in', ...ada } },
    { subject: 'ada', actor: 'Ada Post', body: { action: 'signed-out', ...ada } },
    { subject: 'ada', actor: 'daemon', body: { action: 'failed', ...ada } },
    { subject: '', actor: 'daemon', body: { action: 'failed', id: '', name: '', from: '10.0.0.7' } },
  ]);
  expect(rig.sessions.account(secret)).toBeUndefined();
});

test('an account has 20 sessions at most: the oldest ends', async () => {
  const rig = rigOf();
  const first = await rig.signIn();
  const second = await rig.signIn();
  for (let more = 0; more < 19; more += 1) await rig.signIn();
  expect(rig.sessions.account(first)).toBeUndefined();
  expect(rig.sessions.account(second)).toBeDefined();
});

test('failures beyond 20 at once and one a minute are counted, not entered one by one', async () => {
  const rig = rigOf();
  const fail = () => rig.signIn('wrong').catch(() => undefined);
  for (let time = 0; time < 50; time += 1) await fail();
  expect(rig.entered.length).toBe(20);
  rig.pass(60 * SECOND);
  await fail();
  expect(rig.entered.at(-1)?.body).toMatchObject({ action: 'failed', more: 30 });
  await fail();
  expect(rig.entered.length).toBe(21);
  rig.sessions.stop();
  expect(rig.entered.at(-1)?.body).toEqual({ action: 'failed', id: '', name: '', more: 1 });
});

test('the bound fills up again by the minute, and no higher than it was', () => {
  const bounded = createBounded();
  const at = (minutes: number): Instant => instant(minutes * 60 * SECOND);
  const admitted = (minutes: number, times: number) =>
    Array.from({ length: times }, () => bounded.admit(at(minutes))).filter((one) => one !== undefined).length;
  expect(admitted(0, 30)).toBe(20);
  expect(admitted(0.9, 5)).toBe(0);
  expect(admitted(3, 30)).toBe(3);
  expect(admitted(1_000, 30)).toBe(20);
});
