/** Every security mode with every kind of user against a real server, and distrust in both directions. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import {
  certificateFactsOf,
  diagnose,
  examineOpcUa,
  knownCertificates,
  type OwnCertificate,
  ownCertificate,
  setTrust,
} from '../../../src/field/index.ts';
import { type Plant, startPlant } from '../../../src/plant/index.ts';
import type { OpcUaAccess, SecurityPolicy } from '../../../src/signal/index.ts';
import { folder, good, inPlant, signals, watchOpcUa } from './opcua-rig.ts';

const PASSWORD = 'correct horse';
const secret = (variable: string): string | undefined =>
  ({ PLANT_PASSWORD: PASSWORD, WRONG_PASSWORD: 'wrong horse' })[variable];

const pki = folder();
let plant: Plant;
let own: OwnCertificate;
/** Another certificate than that of the application: a user has his own. */
let user: OwnCertificate;

beforeAll(async () => {
  plant = await startPlant({ seed: 1, opcuaPort: 0, opcuaGuard: { users: { reader: PASSWORD } } });
  own = await ownCertificate(pki);
  user = await ownCertificate(folder());
  await plant.opcua!.trust('user', user.certificate);
});
afterAll(() => plant.stop());

const SECURED: OpcUaAccess = {
  mode: 'sign-and-encrypt',
  policy: 'Basic256Sha256',
  user: { kind: 'anonymous' },
};
const named = (passwordFrom: string): OpcUaAccess['user'] => ({
  kind: 'name',
  name: 'reader',
  passwordFrom,
});

const examine = (access: OpcUaAccess, more: { endpoint?: string; pki?: string } = {}) =>
  examineOpcUa(
    { endpoint: more.endpoint ?? plant.opcua!.endpoint, access, timeout: 10_000 },
    { pki: more.pki ?? pki, secret },
  );
const codes = (seen: Awaited<ReturnType<typeof examine>>): string[] =>
  diagnose(seen).map(({ code, whose }) => `${whose}: ${code}`);

test('a store that a killed process held is open again soon', { timeout: 10_000 }, async () => {
  const store = folder();
  // How the library's lock looks: a folder, as old as the hold.
  const lock = join(store, 'mutex.lock');
  mkdirSync(lock);
  const then = new Date(Date.now() - 20_000);
  utimesSync(lock, then, then);
  const { certificate } = await ownCertificate(store);
  expect(existsSync(certificate)).toBe(true);
});

test('our certificate is made on first use, in our own name, and its key is ours alone', async () => {
  const facts = await certificateFactsOf(own.certificate);
  expect(facts).toMatchObject({
    uri: `urn:${hostname()}:tripwitness`,
    hosts: [hostname()],
    bits: 2048,
    subject: `CN=tripwitness, DC=${hostname()}`,
  });
  expect(statSync(own.key).mode & 0o777).toBe(0o600);
  expect(statSync(pki).mode & 0o777).toBe(0o700);
  const before = readFileSync(own.certificate, 'utf8');
  expect(readFileSync((await ownCertificate(pki)).certificate, 'utf8')).toBe(before);
});

test.skipIf(!existsSync('/usr/bin/openssl'))(
  `fingerprints are those that openssl shows${existsSync('/usr/bin/openssl') ? '' : ' (skipped: openssl is missing)'}`,
  async () => {
    const facts = await certificateFactsOf(own.certificate);
    const shown = (digest: string): string =>
      execFileSync(
        '/usr/bin/openssl',
        ['x509', '-noout', '-fingerprint', `-${digest}`, '-in', own.certificate],
        {
          encoding: 'utf8',
        },
      )
        .trim()
        .replace(/^.*=/, '');
    expect(facts?.sha1).toBe(shown('sha1'));
    expect(facts?.sha256).toBe(shown('sha256'));
  },
);

test('distrust is told for the side on which it is, and ends when that side trusts', async () => {
  const first = await examine(SECURED);
  expect(codes(first)).toEqual(['us: we-do-not-trust-server']);
  expect(first.theirs).toMatchObject({ uri: 'urn:tripwitness:plant', bits: 2048 });
  expect(first.application).toBe('urn:tripwitness:plant');

  const [seen] = await knownCertificates(pki);
  expect(seen).toMatchObject({ trusted: false, facts: { sha256: first.theirs?.sha256 } });
  expect(await setTrust(pki, '12', true)).toEqual({ code: 'fingerprint-short' });
  expect(await setTrust(pki, '0123456789', true)).toEqual({ code: 'fingerprint-unknown' });
  // As somebody copies it from a screen.
  const typed = (seen?.facts.sha1 ?? '').toLowerCase().replaceAll(':', ' ').slice(0, 20);
  expect(await setTrust(pki, typed, true)).toMatchObject({ moved: { trusted: true } });

  const second = await examine(SECURED);
  expect(codes(second)).toEqual(['nobody: we-trust-server', 'them: server-may-not-trust-us']);
  expect(diagnose(second)[1]?.params).toMatchObject({
    fingerprint: first.ours?.sha1,
    file: own.certificate,
    uri: own.uri,
  });

  await plant.opcua!.trust('client', own.certificate);
  expect(codes(await examine(SECURED))).toEqual(['nobody: we-trust-server', 'nobody: server-trusts-us']);
});

const WAYS: readonly (readonly [OpcUaAccess['mode'], SecurityPolicy])[] = [
  ['none', 'Basic256Sha256'],
  ['sign', 'Aes256_Sha256_RsaPss'],
  ['sign-and-encrypt', 'Basic256Sha256'],
  ['sign-and-encrypt', 'Aes128_Sha256_RsaOaep'],
];

test.each(WAYS)('%s %s delivers to every kind of user', async (mode, policy) => {
  for (const who of [
    { kind: 'anonymous' } as const,
    named('PLANT_PASSWORD'),
    { kind: 'certificate', certificate: user.certificate, key: user.key } as const,
  ]) {
    const access = { mode, policy, user: who };
    const watched = watchOpcUa(
      plant.opcua!.endpoint,
      signals(inPlant('E1.normal-speed')),
      { access },
      { pki, secret },
    );
    await watched.until(() => watched.items().some(good) || watched.events.length > 0);
    await watched.source.stop();
    expect(watched.events, who.kind).toEqual([]);
    expect(watched.items().find(good)?.value, who.kind).toBe(96);
  }
});

test('a wrong user is told by what is wrong, and no secret is', async () => {
  const stranger = await ownCertificate(folder());
  const wrong: readonly (readonly [OpcUaAccess['user'], string])[] = [
    [named('WRONG_PASSWORD'), 'user-'],
    [named('NOT_SET'), 'password-missing'],
    [{ kind: 'certificate', certificate: stranger.certificate, key: stranger.key }, 'user-rejected'],
    [{ kind: 'certificate', certificate: '/nowhere.pem', key: stranger.key }, 'user-file-missing'],
    [{ kind: 'certificate', certificate: stranger.key, key: stranger.key }, 'user-file-not-read'],
  ];
  for (const [who, code] of wrong) {
    const logged: string[] = [];
    const watched = watchOpcUa(
      plant.opcua!.endpoint,
      signals(inPlant('E1.normal-speed')),
      { access: { ...SECURED, user: who } },
      { pki, secret, onLog: (text) => logged.push(text) },
    );
    await watched.until(() => watched.events.length > 0);
    await watched.source.stop();
    expect(watched.events[0]).toMatchObject({ kind: 'lost', params: { stage: 'user' } });
    expect(watched.events[0]?.code).toContain(code);
    const told = JSON.stringify([watched.events, watched.answers, logged]);
    expect(told).not.toContain('horse');
    expect(told).not.toContain(Buffer.from('wrong horse').toString('hex'));
    expect(watched.items().some(good)).toBe(false);
  }
});

test('a source that waits for trust begins when it is given, without a restart', async () => {
  const mine = folder();
  const { certificate } = await ownCertificate(mine);
  await plant.opcua!.trust('client', certificate);
  const watched = watchOpcUa(
    plant.opcua!.endpoint,
    signals(inPlant('E1.normal-speed')),
    { access: SECURED },
    { pki: mine },
  );
  await watched.until(() => watched.events.some(({ code }) => code === 'server-untrusted'));
  const [seen] = await knownCertificates(mine);
  expect(watched.events[0]?.params).toMatchObject({ stage: 'certificate', fingerprint: seen?.facts.sha1 });
  await setTrust(mine, seen?.facts.sha256 ?? '', true);
  await watched.until(() => watched.items().some(good));
  await watched.source.stop();
  expect(watched.events.map(({ kind }) => kind)).toEqual(['lost', 'back']);
});

test('an expired certificate is refused with its dates, whoever trusted it', async () => {
  const old = await startPlant({ seed: 1, opcuaPort: 0, opcuaGuard: { validDays: -1 } });
  const mine = folder();
  const { endpoint } = old.opcua!;
  await examine(SECURED, { endpoint, pki: mine });
  for (const { facts } of await knownCertificates(mine)) await setTrust(mine, facts.sha1, true);
  const seen = await examine(SECURED, { endpoint, pki: mine });
  await old.stop();
  expect(seen.trouble?.code).toBe('server-certificate-time');
  expect(codes(seen)).toContain('them: server-certificate-expired');
});

test('what a server does not offer is named beside what it does', async () => {
  const open = await startPlant({ seed: 1, opcuaPort: 0 });
  const { endpoint } = open.opcua!;
  const secured = await examine(SECURED, { endpoint });
  expect(secured.trouble).toEqual({
    stage: 'endpoints',
    code: 'endpoint-mode-missing',
    params: { wanted: 'sign-and-encrypt Basic256Sha256', offered: 'none' },
  });
  const plain = await examine({ ...SECURED, mode: 'none' }, { endpoint });
  expect(codes(plain)).toEqual(['nobody: no-security']);
  await open.stop();
  const gone = await examine(SECURED, { endpoint });
  expect(gone.trouble).toMatchObject({ stage: 'tcp', code: 'connection-refused' });
  const name = await examine(SECURED, { endpoint: 'opc.tcp://no-such-host.invalid:4840' });
  expect(name.trouble).toMatchObject({ stage: 'name', code: 'host-not-found' });
  const mangled = await examine(SECURED, { endpoint: 'opc.tcp://a:b@c' });
  expect(mangled.trouble).toMatchObject({ stage: 'address', code: 'endpoint-not-read' });
});

test('what cannot be read among the certificates is passed over', async () => {
  const mine = folder();
  mkdirSync(join(mine, 'rejected'), { recursive: true });
  writeFileSync(join(mine, 'rejected', 'notes.txt'), 'not a certificate');
  expect(await knownCertificates(mine)).toEqual([]);
  expect(dirname(own.key)).toContain('private');
});
