import { existsSync } from 'node:fs';
import { chmod, mkdir, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { hostname } from 'node:os';
import { extname, join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { type CertificateFacts, certificateFacts } from './certificate.ts';

/** Our own certificate and its key, as PEM files. */
export interface OwnCertificate {
  readonly certificate: string;
  readonly key: string;
  readonly uri: string;
}

/** A certificate of somebody else, and whether we trust it. */
export interface KnownCertificate {
  readonly file: string;
  readonly trusted: boolean;
  readonly facts: CertificateFacts;
}

export type Manager = import('node-opcua-certificate-manager').OPCUACertificateManager;

const TEN_YEARS = 3_652; // days

const TRUSTED = join('trusted', 'certs');
const REJECTED = 'rejected';

const ownOf = (pki: string): OwnCertificate => ({
  certificate: join(pki, 'own', 'certs', 'tripwitness.pem'),
  key: join(pki, 'own', 'private', 'private_key.pem'),
  uri: `urn:${hostname()}:tripwitness`,
});

/** The library's lock on a store: a folder of this name. */
const LOCK = 'mutex.lock';
/** Nobody holds it for so long: the making of a key is the slowest that is done under it. Common practice, no source. */
const LONGEST_HOLD = 15_000; // ms
const LOOK_AGAIN = 100; // ms

/**
 * What a killed process or a power cut left behind is removed. The library by itself waits two minutes for it, in which no
 * source of that store can connect.
 */
const freeLock = async (pki: string): Promise<void> => {
  const lock = join(pki, LOCK);
  for (;;) {
    const found = await stat(lock).catch(() => undefined);
    if (found === undefined) return;
    if (Date.now() - found.mtimeMs > LONGEST_HOLD) {
      await rm(lock, { recursive: true, force: true });
      return;
    }
    await wait(LOOK_AGAIN);
  }
};

/**
 * Opens the store as it is now: what was trusted meanwhile counts from the next connection on. Nothing is ever
 * accepted by itself. Whoever opens it disposes of it.
 */
export const openStore = async (pki: string): Promise<Manager> => {
  await freeLock(pki);
  const { OPCUACertificateManager } = await import('node-opcua-certificate-manager');
  const manager = new OPCUACertificateManager({
    rootFolder: pki,
    automaticallyAcceptUnknownCertificate: false,
    disableFileWatchers: true,
    keySize: 2048,
  });
  await manager.initialize();
  return manager;
};

/** Clients count themselves in and leave the count behind when they fail; whoever opened the store ends it. */
export const closeStore = async (store: Manager): Promise<void> => {
  store.referenceCounter = 0;
  await store.dispose();
};

const make = async (pki: string): Promise<OwnCertificate> => {
  const own = ownOf(pki);
  await mkdir(pki, { recursive: true, mode: 0o700 });
  await chmod(pki, 0o700);
  if (existsSync(own.certificate) && existsSync(own.key)) return own;
  const manager = await openStore(pki);
  const host = hostname();
  // A comma or slash would end a part of the name.
  const part = host.replace(/[^A-Za-z0-9.-]/g, '-');
  await manager.createSelfSignedCertificate({
    applicationUri: own.uri,
    dns: [host],
    outputFile: own.certificate,
    subject: `/CN=tripwitness/DC=${part}`,
    startDate: new Date(),
    validity: TEN_YEARS,
  });
  await closeStore(manager);
  await chmod(own.key, 0o600);
  return own;
};

const making = new Map<string, Promise<OwnCertificate>>();

/** Our certificate and key in this folder; both are made where they are missing. Several sources may ask at once. */
export const ownCertificate = async (pki: string): Promise<OwnCertificate> => {
  const before = making.get(pki);
  if (before !== undefined) return before;
  const now = make(pki);
  making.set(pki, now);
  try {
    const own = await now;
    const facts = certificateFacts(await readFile(own.certificate, 'utf8'));
    // The host may have been renamed since: what the certificate says is what a server compares.
    return { ...own, uri: facts?.uri || own.uri };
  } finally {
    making.delete(pki);
  }
};

/** What a certificate file says; undefined where it is none. */
export const certificateFactsOf = async (file: string): Promise<CertificateFacts | undefined> =>
  certificateFacts(await readFile(file));

const listIn = async (pki: string, folder: string): Promise<KnownCertificate[]> => {
  const path = join(pki, folder);
  if (!existsSync(path)) return [];
  const found: KnownCertificate[] = [];
  for (const name of (await readdir(path)).sort()) {
    const facts = certificateFacts(await readFile(join(path, name)));
    if (facts !== undefined) found.push({ file: join(path, name), trusted: folder === TRUSTED, facts });
  }
  return found;
};

/** Certificates of servers that we trust, then those that were seen and are not trusted. */
export const knownCertificates = async (pki: string): Promise<KnownCertificate[]> => [
  ...(await listIn(pki, TRUSTED)),
  ...(await listIn(pki, REJECTED)),
];

/** Hex digits alone: people copy fingerprints with colons, spaces or in small letters. */
const digits = (fingerprint: string): string => fingerprint.replace(/[^0-9a-fA-F]/g, '').toUpperCase();

/** At least so many digits of a fingerprint must be given, and only one certificate may begin with them. */
const LEAST = 8;

/**
 * Moves a certificate that was seen into the trusted ones, or out of them again. `fingerprint`: SHA-1 or SHA-256, or how
 * it begins.
 */
export const setTrust = async (
  pki: string,
  fingerprint: string,
  trusted: boolean,
): Promise<
  | { readonly moved: KnownCertificate }
  | { readonly code: 'fingerprint-short' | 'fingerprint-unknown' | 'fingerprint-several' }
> => {
  const wanted = digits(fingerprint);
  if (wanted.length < LEAST) return { code: 'fingerprint-short' };
  const found = (await knownCertificates(pki)).filter(
    ({ facts }) => digits(facts.sha1).startsWith(wanted) || digits(facts.sha256).startsWith(wanted),
  );
  const prints = new Set(found.map(({ facts }) => facts.sha256));
  const [first] = found;
  if (first === undefined) return { code: 'fingerprint-unknown' };
  if (prints.size > 1) return { code: 'fingerprint-several' };
  const folder = join(pki, trusted ? TRUSTED : REJECTED);
  await mkdir(folder, { recursive: true });
  let moved = first;
  for (const one of found) {
    if (one.trusted === trusted) continue;
    const file = join(folder, `${digits(one.facts.sha1).toLowerCase()}${extname(one.file)}`);
    await rename(one.file, file);
    moved = { ...one, file, trusted };
  }
  return { moved };
};
