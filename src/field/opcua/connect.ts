import { readFile } from 'node:fs/promises';
import type { OpcUaAccess } from '../../signal/index.ts';
import { certificateFacts } from './certificate.ts';
import {
  chooseEndpoint,
  hostOf,
  type OfferedEndpoint,
  offered,
  passwordInClear,
  securityOf,
} from './endpoint.ts';
import { type Client, type Endpoint, type Library, loadLibrary, type Session } from './library.ts';
import { closeStore, type Manager, type OwnCertificate, openStore, ownCertificate } from './store.ts';
import { Refused, troubleOf } from './trouble.ts';
import type { OpcUaOptions, OpcUaStage, OpcUaTrouble } from './types.ts';

/** What to connect to, and as whom. */
export interface OpcUaTarget {
  readonly endpoint: string;
  readonly access: OpcUaAccess;
  /** Milliseconds for each stage. */
  readonly timeout: number;
}

/** An open session. `close` ends it and its subscriptions; `broken`: nobody answers any more, do not wait. */
export interface Opened {
  readonly library: Library;
  readonly session: Session;
  readonly offer: OfferedEndpoint;
  readonly onLost: (ear: () => void) => void;
  close(broken: boolean): Promise<void>;
}

/** What was learnt on the way, for whoever explains a failure. */
export interface Way {
  own?: OwnCertificate;
  endpoints?: readonly OfferedEndpoint[];
  /** Certificate and application URI of the endpoint that was chosen, or of any where none fits. */
  server?: { readonly certificate: Buffer | undefined; readonly uri: string };
  /** Our own check of the server's certificate: a status code by name. */
  check?: string;
}

type Interrupt = { readonly signal: AbortSignal; readonly timeout: number };

/** A promise within its time; when it takes longer, or we stop, `undo` ends what it left open. */
const within = <T>(work: Promise<T>, stage: OpcUaStage, { signal, timeout }: Interrupt): Promise<T> =>
  new Promise((resolve, reject) => {
    const end = (): void => {
      clearTimeout(timer);
      signal.removeEventListener('abort', stop);
    };
    const stop = (): void => {
      end();
      reject(new Refused(stage, 'stopped'));
    };
    const timer = setTimeout(() => {
      end();
      reject(new Refused(stage, 'no-answer'));
    }, timeout);
    signal.addEventListener('abort', stop);
    if (signal.aborted) stop();
    work.then(
      (value) => {
        end();
        resolve(value);
      },
      (error: unknown) => {
        end();
        reject(error);
      },
    );
  });

const settled = (work: Promise<unknown>, ms: number): Promise<void> =>
  new Promise((resolve) => {
    const timer = setTimeout(resolve, ms);
    const end = (): void => {
      clearTimeout(timer);
      resolve();
    };
    work.then(end, end);
  });

/**
 * How long a server keeps a session that nobody speaks for, ms: servers of controllers have 3 to 10 of them, and each broken
 * connection leaves one behind.
 */
const keptFor = ({ timeout }: OpcUaTarget): number => Math.max(6_000, 3 * timeout);

/** How long a goodbye may take. */
const FAREWELL = 1_000;

interface Dialled {
  readonly client: Client;
  /** Ends the connection; `broken`: cuts it, because nobody would answer the goodbye. */
  hangUp(broken: boolean): Promise<void>;
}

/** A client whose sockets can be cut whatever state it is in. Never reconnects by itself. */
const dial = (library: Library, options: object): Dialled => {
  const client = library.OPCUAClient.create({
    applicationName: 'tripwitness',
    endpointMustExist: false,
    keepSessionAlive: true,
    // The library's own watch on a silent connection, from 25 s down to 6 s; ours is the source's time-out.
    keepAliveInterval: 2_000,
    defaultTransactionTimeout: 3_000,
    transportTimeout: 5_000,
    connectionStrategy: { maxRetry: 0, initialDelay: 100, maxDelay: 1_000 },
    ...options,
  });
  type Channel = import('node-opcua-client').ClientSecureChannelLayer;
  let channel: Channel | undefined;
  client.on('secure_channel_created', (made) => {
    channel = made;
  });
  const cut = (): Promise<void> =>
    new Promise((resolve) => {
      if (channel === undefined) resolve();
      else channel.abortConnection(() => resolve());
    });
  return {
    client,
    async hangUp(broken) {
      if (broken) await settled(cut(), FAREWELL);
      const gone = client.disconnect().catch(() => undefined);
      await settled(gone, FAREWELL);
    },
  };
};

/** All ways in that a server offers, asked on a channel without security as every server allows. */
const discover = async (
  library: Library,
  target: OpcUaTarget,
  base: object,
  interrupt: Interrupt,
): Promise<Endpoint[]> => {
  const { client, hangUp } = dial(library, base);
  let broken = true;
  try {
    await within(client.connect(target.endpoint), 'endpoints', interrupt);
    const endpoints = await within(client.getEndpoints(), 'endpoints', interrupt);
    broken = false;
    return endpoints;
  } finally {
    await hangUp(broken);
  }
};

/** Who asks. A missing variable or file is told by its name; what it holds never is. */
const identity = async (library: Library, access: OpcUaAccess, options: OpcUaOptions) => {
  const { user } = access;
  const { UserTokenType } = library;
  if (user.kind === 'anonymous') return { type: UserTokenType.Anonymous } as const;
  if (user.kind === 'name') {
    const password = options.secret?.(user.passwordFrom);
    if (password === undefined || password === '')
      throw new Refused('user', 'password-missing', { variable: user.passwordFrom });
    return { type: UserTokenType.UserName, userName: user.name, password } as const;
  }
  const read = async (path: string): Promise<string> =>
    readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
      throw new Refused('user', 'user-file-missing', { path, detail: error.code ?? '' });
    });
  const [certificate, privateKey] = [await read(user.certificate), await read(user.key)];
  if (certificateFacts(certificate) === undefined)
    throw new Refused('user', 'user-file-not-read', { path: user.certificate });
  if (!/-----BEGIN [A-Z ]*PRIVATE KEY-----/.test(privateKey))
    throw new Refused('user', 'user-file-not-read', { path: user.key });
  const certificateData = library.crypto_utils.convertPEMtoDER(certificate);
  return { type: UserTokenType.Certificate, certificateData, privateKey } as const;
};

/** Our own look at the server's certificate. What is not known is put aside, for somebody to trust. */
const checkServer = async (certificate: Buffer | undefined, store: Manager, way: Way): Promise<void> => {
  const facts = certificate && certificateFacts(certificate);
  if (!certificate || !facts) throw new Refused('certificate', 'server-certificate-missing');
  const status = (await store.checkCertificate(certificate)).name;
  way.check = status;
  if (status === 'Good') return;
  const code =
    { BadCertificateUntrusted: 'server-untrusted', BadCertificateTimeInvalid: 'server-certificate-time' }[
      status
    ] ?? 'server-certificate-refused';
  throw new Refused('certificate', code, { subject: facts.subject, fingerprint: facts.sha1, detail: status });
};

const learn = (way: Way, endpoints: readonly Endpoint[], chosen: Endpoint | undefined): void => {
  way.endpoints = endpoints.map(offered);
  const shown = chosen ?? endpoints.find(({ serverCertificate }) => (serverCertificate ?? '').length > 0);
  way.server = {
    certificate: shown?.serverCertificate ?? undefined,
    uri: shown?.server.applicationUri ?? '',
  };
};

interface Attempt {
  readonly target: OpcUaTarget;
  readonly options: OpcUaOptions;
  readonly interrupt: Interrupt;
  readonly way: Way;
  readonly at: (stage: OpcUaStage) => void;
}

/** The channel and the session on it. */
const enter = async (
  { target, options, interrupt, at }: Attempt,
  library: Library,
  base: object,
  endpoint: Endpoint,
): Promise<Omit<Opened, 'library' | 'offer'>> => {
  const { access } = target;
  const user = await identity(library, access, options);
  const { mode, policy } = securityOf(library, access);
  const { client, hangUp } = dial(library, {
    ...base,
    securityMode: mode,
    securityPolicy: policy,
    ...(access.mode !== 'none' && { serverCertificate: endpoint.serverCertificate }),
  });
  try {
    at('channel');
    await within(client.connect(target.endpoint), 'channel', interrupt);
    at('user');
    const session = (await within(client.createSession(user), 'user', interrupt)) as Session;
    return {
      session,
      onLost(ear) {
        client.once('connection_lost', ear);
        client.once('abort', ear);
        session.once('session_closed', ear);
      },
      async close(broken) {
        if (!broken) await settled(session.close(true), FAREWELL);
        await hangUp(broken);
      },
    };
  } catch (error) {
    await hangUp(error instanceof Refused);
    throw error;
  }
};

const open = async (attempt: Attempt): Promise<Opened> => {
  const { target, options, interrupt, way, at } = attempt;
  const { access } = target;
  hostOf(target.endpoint);
  const library = await loadLibrary(options.onLog);
  const own = await ownCertificate(options.pki);
  way.own = own;
  const store = await openStore(options.pki);
  const base = {
    applicationUri: own.uri,
    certificateFile: own.certificate,
    privateKeyFile: own.key,
    clientCertificateManager: store,
    requestedSessionTimeout: keptFor(target),
  };
  try {
    at('endpoints');
    const endpoints = await discover(library, target, base, interrupt);
    learn(way, endpoints, undefined);
    const { endpoint, offer } = chooseEndpoint(endpoints, access);
    learn(way, endpoints, endpoint);
    at('certificate');
    if (access.mode !== 'none') await checkServer(endpoint.serverCertificate, store, way);
    if (passwordInClear(endpoint, access)) throw new Refused('user', 'password-in-clear');
    const { session, onLost, close } = await enter(attempt, library, base, endpoint);
    const closeAll = async (broken: boolean): Promise<void> => {
      await close(broken);
      await closeStore(store);
    };
    return { library, offer, session, onLost, close: closeAll };
  } catch (error) {
    await closeStore(store);
    throw error;
  }
};

/**
 * From an address to a session: what is offered, whether we trust the server, the channel, the user. `way` is filled
 * on the way. Nothing is left open where it fails.
 */
export const connectOpcUa = async (
  target: OpcUaTarget,
  options: OpcUaOptions,
  until: AbortSignal,
  way: Way = {},
): Promise<Opened | { readonly trouble: OpcUaTrouble }> => {
  let stage: OpcUaStage = 'address';
  const interrupt = { signal: until, timeout: target.timeout };
  const at = (next: OpcUaStage): void => {
    stage = next;
  };
  try {
    return await open({ target, options, interrupt, way, at });
  } catch (error) {
    return { trouble: troubleOf(error, stage) };
  }
};
