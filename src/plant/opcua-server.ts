import { mkdtemp, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { NAMESPACE, PLANT_MAP } from './model/index.ts';

/** An OPC UA server that shows the same image; its variables carry the time of the controller's scan. */
export interface OpcUaShow {
  readonly endpoint: string;
  /** Renews what changed. `at`: milliseconds since 1970, the time of the scan. */
  show(image: Readonly<Record<string, number>>, at: number): void;
  stop(): Promise<void>;
}

/** The library takes no port 0: a free one is asked of the system first. */
const freePort = (host: string): Promise<number> =>
  new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, host, () => {
      const address = probe.address();
      probe.close(() => resolve(typeof address === 'object' && address !== null ? address.port : 0));
    });
  });

export const startOpcUa = async (host: string, wanted: number): Promise<OpcUaShow> => {
  const opcua = await import('node-opcua-server');
  const { DataType, StatusCodes, Variant } = await import('node-opcua-client');
  const { OPCUACertificateManager } = await import('node-opcua-certificate-manager');
  const folder = await mkdtemp(join(tmpdir(), 'tripwitness-plant-'));
  const manager = new OPCUACertificateManager({
    rootFolder: folder,
    automaticallyAcceptUnknownCertificate: true,
  });
  await manager.initialize();
  const port = wanted === 0 ? await freePort(host) : wanted;
  const server = new opcua.OPCUAServer({
    hostname: host,
    host,
    port,
    serverCertificateManager: manager,
    userCertificateManager: manager,
    allowAnonymous: true,
    securityModes: [1],
    securityPolicies: ['http://opcfoundation.org/UA/SecurityPolicy#None' as never],
    buildInfo: { productName: 'simulated plant', manufacturerName: 'tripwitness' },
    serverInfo: { applicationUri: NAMESPACE, productUri: NAMESPACE },
    isAuditing: false,
  } as never);
  await server.initialize();
  const space = server.engine.addressSpace;
  if (space === null) throw new Error('the OPC UA server has no address space');
  const namespace = space.registerNamespace('urn:tripwitness:plant:signals');
  const root = namespace.addObject({ browseName: 'Plant', organizedBy: space.rootFolder.objects });
  const shown = new Map<string, number>();
  const nodes = new Map(
    PLANT_MAP.map((entry) => {
      const boolean = entry.type === 'bit';
      const node = namespace.addVariable({
        componentOf: root,
        browseName: entry.name,
        nodeId: `s=${entry.name}`,
        dataType: boolean ? 'Boolean' : 'Double',
        minimumSamplingInterval: 10,
      });
      return [entry.name, { node, boolean }] as const;
    }),
  );
  await server.start();
  return {
    endpoint: `opc.tcp://${host}:${port}`,
    show(image, at) {
      const time = new Date(at);
      for (const [name, { node, boolean }] of nodes) {
        const value = image[name] ?? 0;
        if (shown.get(name) === value) continue;
        shown.set(name, value);
        const variant = boolean
          ? new Variant({ dataType: DataType.Boolean, value: value !== 0 })
          : new Variant({ dataType: DataType.Double, value });
        node.setValueFromSource(variant as never, StatusCodes.Good as never, time);
      }
    },
    async stop() {
      await server.shutdown(0);
      await rm(folder, { recursive: true, force: true });
    },
  };
};
