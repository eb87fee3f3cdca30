/** What needs no server: sequence numbers, what a doctor says of what was seen, and addresses as text. */
import { EndpointDescription } from 'node-opcua-client';
import { expect, test } from 'vitest';
import { type CertificateFacts, diagnose, type Examined } from '../../../src/field/index.ts';
import { pathText } from '../../../src/field/opcua/address.ts';
import { passwordInClear } from '../../../src/field/opcua/endpoint.ts';
import { createSequence } from '../../../src/field/opcua/sequence.ts';

/** Rules of sequence numbers: OPC 10000-4, 7.26 (from memory): first 1, after the largest again 1, a keep-alive names the next. */
test('sequence numbers: what is missing is named, what came before is passed over', () => {
  const one = createSequence();
  expect(one.take(1, true)).toEqual([]);
  expect(one.take(1, false)).toEqual([]);
  expect(one.take(2, false)).toEqual([]);
  expect(one.take(2, false)).toBeUndefined();
  expect(one.take(5, false)).toEqual([3, 4]);
  // The last number instead of the next: some servers keep alive with that.
  expect(one.take(5, true)).toEqual([]);
  expect(one.take(8, true)).toEqual([6, 7]);
  expect(one.take(8, false)).toEqual([]);
});

test('sequence numbers begin anew behind the largest', () => {
  const one = createSequence();
  for (const far of [0x6000_0000, 0xc000_0000, 0xffff_fffe]) one.take(far, true);
  expect(one.take(0xffff_fffe, false)).toEqual([]);
  expect(one.take(0xffff_ffff, false)).toEqual([]);
  expect(one.take(1, false)).toEqual([]);
  expect(one.take(3, false)).toEqual([2]);
});

const DAY = 86_400_000;
const NOW = Date.UTC(2026, 5, 1);
const facts = (more: Partial<CertificateFacts> = {}): CertificateFacts => ({
  subject: 'CN=one',
  issuer: 'CN=one',
  sha1: 'AA:BB',
  sha256: 'CC:DD',
  uri: 'urn:host:server',
  hosts: ['controller-1', '10.0.0.7'],
  from: NOW - 100 * DAY,
  until: NOW + 1_000 * DAY,
  bits: 2_048,
  ...more,
});
const seen = (more: Partial<Examined> = {}): Examined => ({
  now: NOW,
  host: 'controller-1',
  secured: true,
  ours: facts({ uri: 'urn:here:tripwitness' }),
  ourFile: 'own.pem',
  theirs: facts(),
  application: 'urn:host:server',
  offered: [],
  check: 'Good',
  ...more,
});
const codes = (examined: Examined): string[] =>
  diagnose(examined).map(({ whose, code }) => `${whose}: ${code}`);
const FINE = ['nobody: we-trust-server', 'nobody: server-trusts-us'];

test.each<[string, Partial<Examined>, string[]]>([
  ['nothing is wrong', {}, FINE],
  ['no security', { secured: false }, ['nobody: no-security']],
  ['another application', { application: 'urn:other' }, [...FINE, 'them: server-uri-differs']],
  ['reached by an address in it', { host: '10.0.0.7' }, FINE],
  ['reached by its full name', { host: 'CONTROLLER-1.mill.example' }, FINE],
  ['reached by another address', { host: '10.0.0.8' }, [...FINE, 'nobody: server-host-differs']],
  ['a short key', { theirs: facts({ bits: 1_024 }) }, [...FINE, 'them: server-key-short']],
  [
    'theirs ends soon',
    { theirs: facts({ until: NOW + DAY }) },
    [...FINE, 'them: server-certificate-ends-soon'],
  ],
  ['theirs ended', { theirs: facts({ until: NOW - 1 }) }, [...FINE, 'them: server-certificate-expired']],
  [
    'theirs has not begun',
    { theirs: facts({ from: NOW + 1 }) },
    [...FINE, 'them: server-certificate-not-yet'],
  ],
  ['ours ended', { ours: facts({ until: NOW }) }, [...FINE, 'us: client-certificate-expired']],
  [
    'we do not trust',
    {
      check: 'BadCertificateUntrusted',
      trouble: { stage: 'certificate', code: 'server-untrusted', params: {} },
    },
    ['us: we-do-not-trust-server'],
  ],
  [
    'they do not trust',
    { trouble: { stage: 'channel', code: 'client-certificate-untrusted', params: {} } },
    ['nobody: we-trust-server', 'them: server-does-not-trust-us'],
  ],
  [
    'they hang up',
    { trouble: { stage: 'channel', code: 'channel-closed', params: {} } },
    ['nobody: we-trust-server', 'them: server-may-not-trust-us'],
  ],
  [
    'the user is wrong',
    { trouble: { stage: 'user', code: 'user-rejected', params: {} } },
    ['them: user-rejected', ...FINE],
  ],
])('%s', (_, more, wanted) => {
  expect(codes(seen(more))).toEqual(wanted);
});

test('a path is written as it is read', () => {
  const path = [
    { namespace: 'urn:a', name: 'Machines' },
    { namespace: 'urn:a', name: 'fan & feeder/left' },
    { namespace: '', name: 'Speed' },
  ];
  expect(pathText(path)).toBe(
    '/nsu=urn:a;Machines/fan && feeder&/left/nsu=http://opcfoundation.org/UA/;Speed',
  );
  expect(pathText(path, 1)).toBe('/nsu=urn:a;Machines');
});

const POLICY = 'http://opcfoundation.org/UA/SecurityPolicy#';
/** How a token is protected: OPC 10000-4, 7.36 (UserIdentityToken) and 7.41 (UserTokenPolicy), from memory. */
test.each<['none' | 'sign' | 'sign-and-encrypt', (string | null)[], boolean, boolean]>([
  ['none', [null], true, true],
  ['none', [`${POLICY}None`], true, true],
  ['none', [`${POLICY}Basic256Sha256`], true, false],
  ['none', [`${POLICY}None`, `${POLICY}Basic256Sha256`], true, false],
  ['none', [`${POLICY}Basic256Sha256`], false, true],
  ['sign', [`${POLICY}None`], true, true],
  ['sign', [null], true, false],
  ['sign-and-encrypt', [`${POLICY}None`], true, false],
])(
  'a password on %s with token policies %j, certificate %s: in clear %s',
  (mode, policies, certified, clear) => {
    const endpoint = new EndpointDescription({
      serverCertificate: Buffer.from(certified ? 'anything' : ''),
      userIdentityTokens: policies.map((securityPolicyUri, index) => ({
        policyId: String(index),
        tokenType: 1,
        securityPolicyUri,
      })),
    });
    const user = { kind: 'name', name: 'reader', passwordFrom: 'X' } as const;
    expect(passwordInClear(endpoint, { mode, policy: 'Basic256Sha256', user })).toBe(clear);
  },
);
