import { type CertificateFacts, certificateFacts } from './certificate.ts';
import { connectOpcUa, type OpcUaTarget, type Way } from './connect.ts';
import { hostOf, type OfferedEndpoint } from './endpoint.ts';
import { certificateFactsOf } from './store.ts';
import type { OpcUaOptions, OpcUaTrouble } from './types.ts';

/** What was seen on the way to a server. */
export interface Examined {
  /** Milliseconds since 1970. */
  readonly now: number;
  readonly host: string;
  readonly secured: boolean;
  readonly ours?: CertificateFacts;
  readonly ourFile: string;
  readonly theirs?: CertificateFacts;
  /** What the server calls itself beside its certificate. */
  readonly application: string;
  readonly offered: readonly OfferedEndpoint[];
  /** Our own check of its certificate, as a status code by name; '' where it came to none. */
  readonly check: string;
  /** Undefined: a session was had. */
  readonly trouble?: OpcUaTrouble;
}

/** One thing that is so, and who has to do something about it: `us`, `them` (who keeps the controller) or nobody. */
export interface Diagnosis {
  readonly code: string;
  readonly whose: 'us' | 'them' | 'nobody';
  readonly params: Readonly<Record<string, string | number>>;
}

const DAY = 86_400_000; // ms
/** Certificates that end within this are told beforehand. */
const SOON = 60 * DAY;
/** Least length of an RSA key of the policies named here (OPC 10000-7, Basic256Sha256 and newer). */
const SHORTEST = 2_048;

const dateOf = (ms: number): string => new Date(ms).toISOString().slice(0, 10);

const DATES = {
  client: {
    whose: 'us',
    early: 'client-certificate-not-yet',
    late: 'client-certificate-expired',
    soon: 'client-certificate-ends-soon',
  },
  server: {
    whose: 'them',
    early: 'server-certificate-not-yet',
    late: 'server-certificate-expired',
    soon: 'server-certificate-ends-soon',
  },
} as const;

const datesOf = (facts: CertificateFacts, now: number, side: 'client' | 'server'): Diagnosis[] => {
  const { whose, early, late, soon } = DATES[side];
  const params = { from: dateOf(facts.from), until: dateOf(facts.until), today: dateOf(now) };
  if (facts.from > now) return [{ code: early, whose, params }];
  if (facts.until <= now) return [{ code: late, whose, params }];
  return facts.until <= now + SOON ? [{ code: soon, whose, params }] : [];
};

const nameOf = (host: string): string => host.toLowerCase().split('.')[0] ?? '';

const namesMatch = (host: string, hosts: readonly string[]): boolean =>
  hosts.some(
    (one) =>
      one.toLowerCase() === host.toLowerCase() || (!/^[\d.:]+$/.test(host) && nameOf(one) === nameOf(host)),
  );

const ofServer = (facts: CertificateFacts, { now, host, application }: Examined): Diagnosis[] => {
  const found = datesOf(facts, now, 'server');
  if (application !== '' && facts.uri !== application)
    found.push({
      code: 'server-uri-differs',
      whose: 'them',
      params: { certificate: facts.uri || 'none', application },
    });
  if (facts.hosts.length > 0 && !namesMatch(host, facts.hosts))
    found.push({
      code: 'server-host-differs',
      whose: 'nobody',
      params: { host, hosts: facts.hosts.join(', ') },
    });
  if (facts.bits > 0 && facts.bits < SHORTEST)
    found.push({ code: 'server-key-short', whose: 'them', params: { bits: facts.bits, least: SHORTEST } });
  return found;
};

/** Which side does not trust which. */
const trust = (seen: Examined): Diagnosis[] => {
  const { theirs, ours, check, trouble, ourFile } = seen;
  const stage = trouble?.stage;
  const found: Diagnosis[] = [];
  if (theirs !== undefined && check === 'Good')
    found.push({ code: 'we-trust-server', whose: 'nobody', params: { subject: theirs.subject } });
  if (theirs !== undefined && check === 'BadCertificateUntrusted')
    found.push({
      code: 'we-do-not-trust-server',
      whose: 'us',
      params: { subject: theirs.subject, fingerprint: theirs.sha1 },
    });
  const us = { fingerprint: ours?.sha1 ?? '', file: ourFile, uri: ours?.uri ?? '' };
  if (trouble === undefined || stage === 'user')
    found.push({ code: 'server-trusts-us', whose: 'nobody', params: {} });
  else if (trouble.code === 'client-certificate-untrusted')
    found.push({ code: 'server-does-not-trust-us', whose: 'them', params: us });
  else if (trouble.code === 'client-certificate-refused' || trouble.code === 'channel-closed')
    found.push({
      code: 'server-may-not-trust-us',
      whose: 'them',
      params: { ...us, detail: String(trouble.params['detail'] ?? '') },
    });
  return found;
};

/** Told by the trust lines already, or by the dates. */
const COVERED = new Set([
  'server-untrusted',
  'server-certificate-time',
  'client-certificate-untrusted',
  'client-certificate-refused',
  'channel-closed',
]);

const OURS = new Set([
  'password-missing',
  'password-in-clear',
  'user-file-missing',
  'user-file-not-read',
  'endpoint-mode-missing',
  'endpoint-not-read',
  'client-certificate-time',
]);

/**
 * What a certificate doctor says, most useful first. Nothing of it is asked anew: it judges what was seen. Without
 * security no certificate is looked at, and that is said.
 */
export const diagnose = (seen: Examined): readonly Diagnosis[] => {
  const { ours, theirs, trouble, now, secured } = seen;
  const found: Diagnosis[] = [];
  if (trouble !== undefined && !COVERED.has(trouble.code))
    found.push({ code: trouble.code, whose: OURS.has(trouble.code) ? 'us' : 'them', params: trouble.params });
  if (!secured && trouble === undefined) found.push({ code: 'no-security', whose: 'nobody', params: {} });
  if (secured) found.push(...trust(seen));
  if (secured && theirs !== undefined) found.push(...ofServer(theirs, seen));
  if (secured && ours !== undefined) found.push(...datesOf(ours, now, 'client'));
  return found;
};

/** Goes to a server as far as it lets us, and says what was seen of both certificates. */
export const examineOpcUa = async (target: OpcUaTarget, options: OpcUaOptions): Promise<Examined> => {
  const way: Way = {};
  const until = new AbortController();
  const opened = await connectOpcUa(target, options, until.signal, way);
  if (!('trouble' in opened)) await opened.close(false);
  const own = way.own?.certificate;
  const ours = own === undefined ? undefined : await certificateFactsOf(own);
  const theirs = way.server?.certificate && certificateFacts(way.server.certificate);
  let host = '';
  try {
    ({ host } = hostOf(target.endpoint));
  } catch {
    // Told as trouble already.
  }
  return {
    now: Date.now(),
    host,
    secured: target.access.mode !== 'none',
    ...(ours !== undefined && { ours }),
    ourFile: own ?? '',
    ...(theirs !== undefined && { theirs }),
    application: way.server?.uri ?? '',
    offered: way.endpoints ?? [],
    check: way.check ?? '',
    ...('trouble' in opened && { trouble: opened.trouble }),
  };
};
