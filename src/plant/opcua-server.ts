import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { OPCUAServer } from 'node-opcua-server';
import { portTrouble } from './listen.ts';
import { APPLICATION, NAMESPACE, PLANT_MAP } from './model/index.ts';

/** An OPC UA server that shows the same image; its variables carry the time of the controller's scan. */
export interface OpcUaShow {
  readonly endpoint: string;
  /** Renews what changed. `at`: milliseconds since 1970, the time of the scan. */
  show(image: Readonly<Record<string, number>>, at: number): void;
  /** Resolves when the port is free and the certificate's folder is gone. */
  stop(): Promise<void>;
}

/** A server with security mode None, on a certificate of its own in `folder`. */
const createServer = async (folder: string, host: string, port: number): Promise<OPCUAServer> => {
  const opcua = await import('node-opcua-server');
  const { MessageSecurityMode, SecurityPolicy, setErrorLogger, setWarningLogger } = await import(
    'node-opcua-client'
  );
  const { OPCUACertificateManager } = await import('node-opcua-certificate-manager');
  // The library writes its warnings to standard output, where the plant's own words stand.
  setWarningLogger(() => undefined);
  setErrorLogger(() => undefined);
  const manager = new OPCUACertificateManager({
    rootFolder: folder,
    automaticallyAcceptUnknownCertificate: true,
  });
  await manager.initialize();
  const server = new opcua.OPCUAServer({
    hostname: host,
    host,
    port,
    serverCertificateManager: manager,
    userCertificateManager: manager,
    allowAnonymous: true,
    securityModes: [MessageSecurityMode.None],
    securityPolicies: [SecurityPolicy.None],
    buildInfo: { productName: 'simulated plant', manufacturerName: 'tripwitness' },
    serverInfo: { applicationUri: APPLICATION, productUri: APPLICATION },
  });
  await server.initialize();
  return server;
};

type Showing = Pick<OpcUaShow, 'show'>;

const addVariables = async (server: OPCUAServer): Promise<Showing> => {
  const { DataType, StatusCodes, Variant } = await import('node-opcua-client');
  const space = server.engine.addressSpace;
  if (space === null) throw new Error('the OPC UA server has no address space');
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

export const startOpcUa = async (host: string, wanted: number): Promise<OpcUaShow> => {
  const folder = await mkdtemp(join(tmpdir(), 'tripwitness-plant-'));
  const tidy = (): Promise<void> => rm(folder, { recursive: true, force: true });
  try {
    const server = await createServer(folder, host, wanted);
    const { show } = await addVariables(server);
    await server.start().catch((error: unknown) => {
      throw portTrouble('OPC UA', host, wanted, error);
    });
    return {
      endpoint: `opc.tcp://${host}:${server.endpoints[0]?.port ?? wanted}`,
      show,
      async stop() {
        await server.shutdown(0);
        await tidy();
      },
    };
  } catch (error) {
    await tidy();
    throw error;
  }
};
