/** From other machines: certificates, accounts, sessions and roles, with the daemon and the plant as they run. */
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { readLog } from '../../src/store/index.ts';
import { asked, listening, NAME } from './asking.ts';
import { begin, folder, LEG, type PlantUp, plantUp } from './rig.ts';
import { as, hire, IDS, runAs, STAFF, type StaffId, signedInAs } from './staff.ts';

// Passwords take a tenth of a second each, and every command is a process of its own.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

const dir = folder();
const log = join(dir, 'access.log.db');
const file = (name: string): string => join(dir, name);

type Started = Awaited<ReturnType<typeof begin>>;
let plant: PlantUp;
let daemon: Started;
let heard = '';
let ca = '';
let here = '';
let abroad = '';

/** A certificate for 127.0.0.1 and the name, with its key. */
const certificate = (name: string): void => {
  const subject = ['-subj', '/CN=tripwitness test', '-addext', `subjectAltName=IP:127.0.0.1,DNS:${NAME}`];
  const made = ['-newkey', 'rsa:2048', '-nodes', '-keyout', file(`${name}.key`), '-out', file(`${name}.crt`)];
  execFileSync('openssl', ['req', '-x509', '-days', '2', ...made, ...subject], { stdio: 'ignore' });
};
const TLS = (cert = 'one', key = 'one'): string[] => [
  '--tls-cert',
  file(`${cert}.crt`),
  '--tls-key',
  file(`${key}.key`),
];

const start = async (...more: string[]): Promise<void> => {
  const at = `plc1=${plant.modbus.host}:${plant.modbus.port}`;
  daemon = await begin('run', LEG, '--json', '--log', log, '--port', '0', '--at', at, ...more);
  for (const stream of [daemon.process.stdout, daemon.process.stderr])
    stream?.on('data', (data: Buffer) => {
      heard += data.toString();
    });
  here = String(daemon.told['url']);
  abroad = String(daemon.told['abroad'] ?? '');
};
const again = async (...more: string[]): Promise<void> => {
  expect(await daemon.end()).toBe(0);
  await start(...more);
};
const LISTEN = ['--listen', '127.0.0.1:0', '--name', NAME];
const tries = (...more: string[]) => runAs({}, 'run', LEG, '--log', log, '--port', '0', ...more);

const entriesOf = (kind: 'session' | 'mark' | 'window-opened' | 'register') => {
  const reader = readLog(log);
  try {
    return reader.entriesOf({ kind });
  } finally {
    reader.close();
  }
};

beforeAll(async () => {
  for (const name of ['one', 'other']) certificate(name);
  ca = readFileSync(file('one.crt'), 'utf8');
  plant = await plantUp();
  await start();
});
afterAll(async () => {
  plant.hands.close();
  await Promise.all([plant.end(), daemon.end()]);
});

describe('how it is started', () => {
  test('without an account nobody is let in from elsewhere, and it is told how to make one', () => {
    const ran = tries(...LISTEN, ...TLS());
    expect([ran.code, ran.err]).toEqual([64, expect.stringContaining('tripwitness people add')]);
    expect(tries('--sign-in').err).toContain('people add');
    hire(log);
  });

  test('neither certificate nor statement, both, and half of one are refused', () => {
    expect(tries(...LISTEN)).toMatchObject({ code: 64, err: expect.stringContaining('--without-tls') });
    expect(tries(...LISTEN, ...TLS(), '--without-tls').code).toBe(64);
    expect(tries(...LISTEN, '--tls-cert', file('one.crt')).err).toContain('go together');
    expect(tries('--name', NAME).err).toContain('--listen');
    expect(tries('--listen', '10.1.2.3', '--without-tls').err).toContain('ADDRESS:PORT');
  });

  test('files that are no certificate, no key, not of each other, or not there are named', () => {
    writeFileSync(file('empty.crt'), 'nothing');
    writeFileSync(file('empty.key'), ca);
    expect(tries(...LISTEN, ...TLS('one', 'other')).err).toMatch(/other\.key is not the key/);
    expect(tries(...LISTEN, ...TLS('empty')).err).toContain('no certificate');
    expect(tries(...LISTEN, ...TLS('one', 'empty'))).toMatchObject({
      code: 65,
      err: expect.stringContaining('no private key'),
    });
    expect(tries(...LISTEN, ...TLS('missing')).err).toContain('cannot be read');
  });

  test('a port that is taken ends it, and the log is left as it was', async () => {
    await daemon.end();
    const other = createServer();
    const port = await new Promise<number>((told) =>
      other.listen(0, '127.0.0.1', () => told((other.address() as { port: number }).port)),
    );
    const ran = tries('--listen', `127.0.0.1:${port}`, '--without-tls');
    expect([ran.code, ran.err]).toEqual([69, expect.stringMatching(/cannot be taken.*--listen/s)]);
    await new Promise((told) => other.close(told));
    expect(runAs({}, 'audit', log).code).toBe(0);
    await start(...LISTEN, ...TLS());
  });
});

describe('who gets in', () => {
  test('the place for other machines speaks TLS only, under its own names only', async () => {
    await expect(asked(abroad.replace('https:', 'http:'))).rejects.toThrow();
    const told = await asked(`${abroad}/api/session`, { ca });
    expect(told.json()).toMatchObject({ access: 'accounts', csrf: '', withoutTls: false });
    expect(told.headers['strict-transport-security']).toMatch(/^max-age=\d+$/);
    expect(told.headers['content-security-policy']).toContain("style-src 'self'");
    const statusAs = async (host: string) =>
      (await asked(`${abroad}/api/session`, { ca, headers: { host } })).status;
    expect(await statusAs(NAME)).toBe(200);
    expect(await statusAs(`${NAME}:443`)).toBe(200);
    expect(await statusAs('rebound.example')).toBe(403);
    expect(await statusAs('127.0.0.2')).toBe(403);
    expect(await statusAs('localhost')).toBe(403);
  });

  test('the loopback address stays open, without TLS and what belongs to it', async () => {
    const told = await asked(`${here}/api/session`);
    expect(told.json()).toMatchObject({ access: 'open', csrf: '' });
    expect(told.headers).not.toHaveProperty('strict-transport-security');
    expect((await asked(`${here}/api/now`)).status).toBe(200);
    const body = { id: 'tess', password: STAFF.tess.password };
    expect((await asked(`${here}/api/session`, { method: 'POST', body })).status).toBe(409);
  });

  test('a cookie is out of reach of scripts, of other pages, and of a line without TLS', async () => {
    const { set, session, ask } = await signedInAs(abroad, 'vera', ca);
    const port = new URL(abroad).port;
    expect(set).toMatch(new RegExp(`^__Host-tripwitness-${port}=[A-Za-z0-9_-]{43};`));
    for (const flag of ['Path=/', 'HttpOnly', 'Secure', 'SameSite=Strict']) expect(set).toContain(flag);
    expect(set).not.toMatch(/Domain|Expires|Max-Age/);
    expect(session).toMatchObject({ account: { id: 'vera', name: 'Vera Mill', may: ['viewer'] } });
    const gone = await ask('/api/session', { method: 'DELETE' });
    expect(gone.headers['set-cookie']?.[0]).toMatch(/=;.*Expires=Thu, 01 Jan 1970/);
    expect((await ask('/api/now')).status).toBe(401);
  });

  test('only the hashes of sessions are kept, in a file for its owner alone', async () => {
    const { cookie } = await signedInAs(abroad, 'vera', ca);
    const kept = file('access.log.db-sessions');
    expect(statSync(kept).mode & 0o777).toBe(0o600);
    expect(readFileSync(kept, 'utf8')).not.toContain(cookie.split('=')[1]);
  });

  test('what changes something needs the token of its session, and no page from elsewhere', async () => {
    const { ask, session, cookie } = await signedInAs(abroad, 'tess', ca);
    const post = (headers: Readonly<Record<string, string>>) =>
      asked(`${abroad}/api/windows/w0/close`, {
        ca,
        method: 'POST',
        body: {},
        headers: { cookie, ...headers },
      });
    const other = await signedInAs(abroad, 'vera', ca);
    for (const token of ['', 'x', `${session.csrf}x`, other.session.csrf])
      expect((await post({ 'x-tripwitness-csrf': token })).json()).toMatchObject({ code: 'session-token' });
    expect((await post({})).status).toBe(403);
    expect((await post({ 'x-tripwitness-csrf': session.csrf })).status).toBe(409);
    const origin = { 'x-tripwitness-csrf': session.csrf, origin: 'https://elsewhere.example' };
    expect((await post(origin)).json()).toMatchObject({ code: 'foreign-page' });
    const plain = { ...origin, origin: abroad.replace('https:', 'http:') };
    expect((await post(plain)).status).toBe(403);
    expect((await post({ ...origin, origin: abroad })).status).toBe(409);
    expect(
      (await ask('/api/session', { method: 'DELETE', headers: { 'x-tripwitness-csrf': '' } })).status,
    ).toBe(403);
  });

  test('files beside the page are not to be had', async () => {
    for (const path of [
      '/../package.json',
      '/..%2fpackage.json',
      '/%2e%2e/%2e%2e/package.json',
      '/assets/..%2f..%2f..%2fpackage.json',
      '/assets/..\\..\\package.json',
      '//etc/passwd',
      '/api/../../package.json',
      '/..%00/package.json',
    ]) {
      const answer = await asked(abroad, { ca }, path);
      expect([400, 403, 404], `${path}: ${answer.status}`).toContain(answer.status);
      expect(answer.text).not.toMatch(/dependencies|root:/);
    }
  });
});

const who = (id: StaffId) => ({ as: id, password: STAFF[id].password });

describe('what is entered in a session', () => {
  test('carries the account, and no other name', async () => {
    const tess = await signedInAs(abroad, 'tess', ca);
    const open = {
      stimuli: [{ interlock: 'E1.misalignment-stop', method: 'displaced' }],
      people: [{ name: 'Ben Mill', role: 'witness' }],
    };
    const opened = await tess.ask('/api/windows', { method: 'POST', body: open });
    expect(opened.status).toBe(201);
    const { window: id } = opened.json<{ window: string }>();
    const at = `/api/windows/${id}`;
    const mark = (body: object) =>
      tess.ask(`${at}/marks`, { method: 'POST', body: { code: 'now', ...body } });
    expect((await mark({ by: 'Ben Mill' })).json()).toMatchObject({ code: 'session-other-name' });
    expect((await mark({ text: 'here' })).status).toBe(200);
    expect((await mark({ by: 'Tess Post' })).status).toBe(200);
    expect((await tess.ask(`${at}/close`, { method: 'POST', body: {} })).status).toBe(200);
    const person = { id: 'tess', name: 'Tess Post' };
    const made = { actor: 'Tess Post', body: { assurance: 'session', person } };
    expect(entriesOf('window-opened').find(({ subject }) => subject === id)).toMatchObject(made);
    const marks = entriesOf('mark').filter(
      ({ subject, body }) => subject === id && (body['mark'] as { code: string }).code === 'now',
    );
    expect(marks).toMatchObject([made, made]);
    expect(marks[0]?.body['mark']).toMatchObject({ by: 'Tess Post', text: 'here' });
  });

  test('papers too; a signature takes its password all the same, and of a change of accounts nothing less', async () => {
    const rene = await signedInAs(abroad, 'rene', ca);
    const enter = (body: object) => rene.ask('/api/entries', { method: 'POST', body });
    const punch = { do: 'register-open', item: 'punch', on: 'E1', text: 'cover loose', category: 'C' };
    const open = { ...punch, owner: 'Tess', due: '2100-01-01' };
    const entered = await enter(open);
    expect(entered.json()).toMatchObject({
      actor: 'Rene Weir',
      body: { assurance: 'session', person: { id: 'rene' } },
    });
    expect((await enter({ ...open, who: { by: 'Rene Weir' } })).status).toBe(201);
    expect((await enter({ ...open, who: { by: 'Tess Post' } })).json()).toMatchObject({
      code: 'session-other-name',
    });
    expect((await enter({ ...open, who: who('tess') })).json()).toMatchObject({ code: 'session-other-name' });
    const own = await enter({ ...open, who: who('rene') });
    expect(own.json()).toMatchObject({ body: { assurance: 'password' } });
    expect((await enter({ do: 'sign', window: 'w0', meaning: 'reviewed' })).status).toBe(400);
    const root = await signedInAs(abroad, 'root', ca);
    const close = { do: 'person', action: 'closed', id: 'nobody' };
    expect((await root.ask('/api/entries', { method: 'POST', body: close })).json()).toMatchObject({
      code: 'session-needs-password',
    });
  });
});

describe('how a session ends', () => {
  const change = (...args: string[]) => runAs({}, 'people', ...args, ...as('root'));

  test('not with the daemon: a tablet goes on after a restart', async () => {
    const tess = await signedInAs(abroad, 'tess', ca);
    await again(...LISTEN, ...TLS());
    const cookie = `__Host-tripwitness-${new URL(abroad).port}=${tess.cookie.split('=')[1]}`;
    const told = await asked(`${abroad}/api/session`, { ca, headers: { cookie } });
    expect(told.json()).toEqual({ ...tess.session });
  });

  test('at once, and with it every stream, when the account gets another password, other roles, or is closed', async () => {
    const added = change(
      'add',
      log,
      'temp',
      '--name',
      'Tim Temp',
      '--role',
      'tester',
      '--new-password-from',
      'TESS_PASSWORD',
    );
    expect(added.err).toBe('');
    const body = { id: 'temp', password: STAFF.tess.password };
    const until = async (...args: string[]): Promise<void> => {
      const answer = await asked(`${abroad}/api/session`, { ca, method: 'POST', body });
      expect(answer.status).toBe(201);
      const headers = { cookie: answer.headers['set-cookie']?.[0]?.split(';')[0] ?? '' };
      const stream = await listening(`${abroad}/api/stream`, { ca, headers });
      await stream.until((text) => text.includes('event: now'));
      expect(change(...args).err).toBe('');
      await stream.ended;
      expect((await asked(`${abroad}/api/now`, { ca, headers })).status).toBe(401);
    };
    await until('roles', log, 'temp', '--role', 'viewer');
    await until('password', log, 'temp', '--new-password-from', 'TESS_PASSWORD');
    await until('close', log, 'temp');
    expect((await asked(`${abroad}/api/session`, { ca, method: 'POST', body })).status).toBe(401);
  });

  test('wrong passwords sound like unknown accounts, lock in the end, and stand in the log', async () => {
    const wrong = (id: string) =>
      asked(`${abroad}/api/session`, { ca, method: 'POST', body: { id, password: 'certainly not this' } });
    const vera = await signedInAs(abroad, 'vera', ca);
    const unknown = await wrong('my secret password');
    expect([unknown.status, unknown.json()]).toMatchObject([401, { code: 'password-wrong' }]);
    for (let time = 0; time < 4; time += 1) expect((await wrong('vera')).json()).toEqual(unknown.json());
    expect((await vera.ask('/api/now')).status).toBe(200);
    expect((await wrong('vera')).json()).toMatchObject({ code: 'password-locked' });
    expect((await vera.ask('/api/now')).status).toBe(401);
    const body = { id: 'vera', password: STAFF.vera.password };
    const locked = await asked(`${abroad}/api/session`, { ca, method: 'POST', body });
    expect(locked.json()).toMatchObject({ code: 'password-locked' });
    expect(change('unlock', log, 'vera').code).toBe(0);
    await signedInAs(abroad, 'vera', ca);
    const told = entriesOf('session').map((entry) => ({
      subject: entry.subject,
      action: entry.body['action'],
      from: entry.body['from'],
    }));
    const from = '127.0.0.1';
    expect(told).toContainEqual({ subject: 'vera', action: 'signed-in', from });
    expect(told).toContainEqual({ subject: 'vera', action: 'signed-out', from });
    expect(told.filter(({ action, subject }) => action === 'failed' && subject === 'vera').length).toBe(6);
    expect(told).toContainEqual({ subject: '', action: 'failed', from });
  });
});

describe('the command line where accounts are asked for', () => {
  test('signs in on this machine and from another', async () => {
    const url = ['--daemon', abroad];
    const trust = { NODE_EXTRA_CA_CERTS: file('one.crt') };
    const nobody = runAs(trust, 'window', 'open', '--interlock', 'E1.misalignment-stop', ...url);
    expect([nobody.code, nobody.err]).toEqual([64, expect.stringContaining('--as')]);
    const viewer = runAs(trust, 'window', 'open', ...url, ...as('vera'));
    expect(viewer.err).toContain('the role tester');
    const opened = runAs(
      trust,
      'window',
      'open',
      '--interlock',
      'E1.misalignment-stop',
      '--json',
      ...url,
      ...as('tess'),
    );
    expect(opened.err).toBe('');
    expect(runAs(trust, 'window', 'mark', 'now', ...url, ...as('tess')).out).toContain('entered');
    expect(runAs(trust, 'window', 'close', ...url, ...as('tess')).code).toBe(2);
  });

  test('and with --sign-in on the loopback address too', async () => {
    await again('--sign-in');
    expect((await asked(`${here}/api/now`)).status).toBe(401);
    const { set, session } = await signedInAs(here, 'tess');
    expect(set).not.toContain('Secure');
    expect(session.withoutTls).toBe(false);
    expect(runAs({}, 'window', 'show', '--daemon', here).err).toContain('Sign in first');
    const added = runAs({}, 'people', 'roles', log, 'vera', '--role', 'viewer', ...as('root'));
    expect([added.code, added.err]).toEqual([0, '']);
    const noted = runAs({}, 'register', 'note', log, 'punch-1', '--text', 'ordered', '--by', 'Ada');
    expect([noted.code, noted.err]).toEqual([64, expect.stringContaining('--as')]);
    expect(runAs({}, 'register', 'note', log, 'punch-1', '--text', 'ordered', ...as('tess')).code).toBe(0);
  });

  test('in the clear it says so, to people and to pages', async () => {
    await again('--listen', '127.0.0.1:0', '--without-tls');
    const told = await asked(`${abroad}/api/session`);
    expect(told.json()).toMatchObject({ access: 'accounts', withoutTls: true });
    expect(told.headers).not.toHaveProperty('strict-transport-security');
    const { set } = await signedInAs(abroad, 'tess');
    expect(set).toMatch(/^tripwitness-\d+=.*HttpOnly; SameSite=Strict$/);
  });
});

test('no password and no session is in any file, nor in anything that was said', async () => {
  const { cookie, session } = await signedInAs(abroad, 'tess');
  await daemon.end();
  const files = readdirSync(dir, { recursive: true, withFileTypes: true }).filter((one) => one.isFile());
  const secrets = [...IDS.map((id) => STAFF[id].password), 'certainly not this', 'my secret password'];
  for (const secret of [...secrets, cookie.split('=')[1] ?? '', session.csrf]) {
    expect(heard).not.toContain(secret);
    for (const one of files)
      expect(readFileSync(join(one.parentPath, one.name)).includes(secret), one.name).toBe(false);
  }
  expect(runAs({}, 'audit', log).code).toBe(0);
});
