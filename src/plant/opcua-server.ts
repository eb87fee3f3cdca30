import { readFile } from 'node:fs/promises';
import type { OPCUAServer } from 'node-opcua-server';
import { portTrouble } from './listen.ts';
import { APPLICATION, NAMESPACE, PLANT_MAP } from './model/index.ts';
import { type Certificates, type OpcUaGuard, plantCertificates } from './opcua-certificates.ts';

/** An OPC UA server that shows the same image; its variables carry the time of the controller's scan. */
export interface OpcUaShow {
  readonly endpoint: string;
  /** Renews what changed. `at`: milliseconds since 1970, the time of the scan. */
  show(image: Readonly<Record<string, number>>, at: number): void;
  /** Lets a client's, or a user's, certificate in (a PEM file). */
  trust(what: 'client' | 'user', file: string): Promise<void>;
  /** Resolves when the port is free and the certificate's folder is gone. */
  stop(): Promise<void>;
}

export interface OpcUaPlace {
  readonly host: string;
  /** 0: any free port. */
  readonly port: number;
  readonly guard?: OpcUaGuard;
  /** Namespaces that come before the plant's own and move its index. */
  readonly namespacesBefore?: readonly string[];
}

/** Without a guard: security mode None alone. With one: every mode, and only who is trusted. */
const createServer = async (
  { host, port, guard }: OpcUaPlace,
  certificates: Certificates,
): Promise<OPCUAServer> => {
  const opcua = await import('node-opcua-server');
  const {
    MessageSecurityMode: Mode,
    SecurityPolicy: Policy,
    setErrorLogger,
    setWarningLogger,
  } = await import('node-opcua-client');
  // The library writes its warnings to standard output, where the plant's own words stand.
  setWarningLogger(() => undefined);
  setErrorLogger(() => undefined);
  const users = new Map(Object.entries(guard?.users ?? {}));
  const server = new opcua.OPCUAServer({
    hostname: host,
    host,
    port,
    certificateFile: certificates.certificate,
    privateKeyFile: certificates.key,
    serverCertificateManager: certificates.clients,
    userCertificateManager: certificates.users,
    allowAnonymous: true,
    securityModes: guard ? [Mode.None, Mode.Sign, Mode.SignAndEncrypt] : [Mode.None],
    securityPolicies: guard
      ? [Policy.None, Policy.Basic256Sha256, Policy.Aes128_Sha256_RsaOaep, Policy.Aes256_Sha256_RsaPss]
      : [Policy.None],
    userManager: { isValidUser: (name: string, password: string) => users.get(name) === password },
    buildInfo: { productName: 'simulated plant', manufacturerName: 'tripwitness' },
    serverInfo: { applicationUri: APPLICATION, productUri: APPLICATION },
  });
  await server.initialize();
  return server;
};

type Showing = Pick<OpcUaShow, 'show'>;

const addVariables = async (server: OPCUAServer, before: readonly string[]): Promise<Showing> => {
  const { DataType, StatusCodes, Variant } = await import('node-opcua-client');
  const space = server.engine.addressSpace;
  if (space === null) throw new Error('the OPC UA server has no address space');
  for (const uri of before) space.registerNamespace(uri);
  const namespace = space.registerNamespace(NAMESPACE);
  const root = namespace.addObject({ browseName: 'Plant', organizedBy: space.rootFolder.objects });
  const nodes = PLANT_MAP.map(({ name, type }) => {
    const dataType = type === 'bit' ? DataType.Boolean : DataType.Double;
    const node = namespace.addVariable({
      componentOf: root,
      browseName: name,
      nodeId: `s=${name}`,
      dataType,
      accessLevel: 'CurrentRead',
      userAccessLevel: 'CurrentRead',
      minimumSamplingInterval: 10,
    });
    return { name, node, dataType };
  });
  const shown = new Map<string, number>();
  return {
    show(image, at) {
      const time = new Date(at);
      for (const { name, node, dataType } of nodes) {
        const value = image[name] ?? 0;
        if (shown.get(name) === value) continue;
        shown.set(name, value);
        const data = dataType === DataType.Boolean ? value !== 0 : value;
        node.setValueFromSource(new Variant({ dataType, value: data }), StatusCodes.Good, time);
      }
    },
  };
};

const pemToDer = (text: string): Buffer =>
  Buffer.from(text.replace(/-----[^-]+-----/g, '').replace(/\s/g, ''), 'base64');

export const startOpcUa = async (place: OpcUaPlace): Promise<OpcUaShow> => {
  const { host, port } = place;
  const certificates = await plantCertificates(place.guard);
  try {
    const server = await createServer(place, certificates);
    const { show } = await addVariables(server, place.namespacesBefore ?? []);
    await server.start().catch((error: unknown) => {
      throw portTrouble('OPC UA', host, port, error);
    });
    return {
      endpoint: `opc.tcp://${host}:${server.endpoints[0]?.port ?? port}`,
      show,
      async trust(what, file) {
        const store = what === 'client' ? certificates.clients : certificates.users;
        await store.trustCertificate(pemToDer(await readFile(file, 'utf8')));
      },
      async stop() {
        await server.shutdown(0);
        await certificates.tidy();
      },
    };
  } catch (error) {
    await certificates.tidy();
    throw error;
  }
};
