import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { APPLICATION } from './model/index.ts';

/** Who may come in, and how; without it everybody may, unencrypted. */
export interface OpcUaGuard {
  /** Folder of certificates, kept; undefined: a temporary one, so that each start has another certificate. */
  readonly pki?: string;
  /** Passwords by user name. */
  readonly users?: Readonly<Record<string, string>>;
  /** Days for which the server's certificate holds, seen from now; negative: it has expired. 10 years. */
  readonly validDays?: number;
}

type Manager = import('node-opcua-certificate-manager').OPCUACertificateManager;

export interface Certificates {
  readonly certificate: string;
  readonly key: string;
  /** Of clients; unknown ones are refused where there is a guard. */
  readonly clients: Manager;
  /** Of users. */
  readonly users: Manager;
  tidy(): Promise<void>;
}

const DAY = 86_400_000; // ms
const TEN_YEARS = 3_652; // days

const manager = async (folder: string, open: boolean): Promise<Manager> => {
  const { OPCUACertificateManager } = await import('node-opcua-certificate-manager');
  const made = new OPCUACertificateManager({
    rootFolder: folder,
    automaticallyAcceptUnknownCertificate: open,
    keySize: 2048,
  });
  await made.initialize();
  return made;
};

/** Certificates of the plant's server, made where they are missing. */
export const plantCertificates = async (guard: OpcUaGuard | undefined): Promise<Certificates> => {
  const temporary =
    guard?.pki === undefined ? await mkdtemp(join(tmpdir(), 'tripwitness-plant-')) : undefined;
  const folder = guard?.pki ?? temporary ?? '';
  const open = guard === undefined;
  const clients = await manager(folder, open);
  const users = open ? clients : await manager(join(folder, 'users'), false);
  const certificate = join(folder, 'own', 'certs', 'plant.pem');
  const days = guard?.validDays ?? TEN_YEARS;
  if (!existsSync(certificate))
    await clients.createSelfSignedCertificate({
      applicationUri: APPLICATION,
      dns: [hostname(), 'localhost'],
      ip: ['127.0.0.1'],
      outputFile: certificate,
      subject: '/CN=simulated plant/O=tripwitness',
      // An expired one began long before it ended.
      startDate: new Date(days < 0 ? Date.now() + 2 * days * DAY : Date.now() - DAY),
      validity: days < 0 ? -days : days + 1,
    });
  return {
    certificate,
    key: clients.privateKey,
    clients,
    users,
    async tidy() {
      // The server counts itself in and out; what is left over is ours.
      for (const one of new Set([clients, users])) {
        one.referenceCounter = 0;
        await one.dispose();
      }
      if (temporary !== undefined) await rm(temporary, { recursive: true, force: true });
    },
  };
};
