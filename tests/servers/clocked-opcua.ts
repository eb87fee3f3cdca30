/**
 * An OPC UA server (node-opcua's) whose live values are worked out from the machine's clock at the moment of sampling,
 * with that moment as their source time, by the server's own clock. All security modes; it takes every client, so that only our own trust counts.
 */
import type { Instant, Span } from '../../src/measure/index.ts';
import { clock, MAP, tickAt, wordAt } from './truth.ts';

export const NAMESPACE = 'urn:tripwitness:clocked';

/** A fixed value of each type that a measured value may have; those of OPC 10000-6, 5.1.2. */
export const FIXED = [
  ['Boolean', 1],
  ['SByte', -128],
  ['Byte', 255],
  ['Int16', -32_768],
  ['UInt16', 65_535],
  ['Int32', -2_147_483_648],
  ['UInt32', 4_294_967_295],
  ['Float', -118.625],
  ['Double', Math.PI],
] as const;

/** Values that stay for a tenth of a second each: a server samples, and says of what it sampled twice that it stayed. */
const SLOWLY = { 'slow-a': 210, 'slow-b': 220 } as const;
const STAYS = 100;

const slowAt = (at: number, tick: number): number => {
  const step = Math.floor(tick / STAYS);
  return wordAt(1, 'holding', at, step) * 65_536 + wordAt(1, 'input', at, step);
};

/** Whether the server held this value of a slow variable at some instant of the span. */
export const heldSlowly = (name: string, value: number, { earliest, latest }: Span): boolean => {
  const at = SLOWLY[name as keyof typeof SLOWLY];
  for (let tick = tickAt(earliest); tick <= tickAt(latest); tick += 1)
    if (slowAt(at, tick) === value) return true;
  return false;
};

/** Microseconds within which both clocks are read. */
const TOGETHER = 100;

/**
 * The clock that values are worked out from, and the server's own, which it tells of when asked: the machine's discipline
 * may move that one against the other.
 */
const bothClocks = (): { readonly now: Instant; readonly shown: number } => {
  for (;;) {
    const now = clock.now();
    const shown = Date.now();
    if (clock.now() - now <= TOGETHER) return { now, shown };
  }
};

export interface ClockedOpcUa {
  readonly endpoint: string;
  readonly port: number;
  stop(): Promise<void>;
}

/** `folder`: its certificate, made on first use; the same after a restart. */
export const startClockedOpcUa = async (
  host: string,
  port: number,
  folder: string,
): Promise<ClockedOpcUa> => {
  const { OPCUAServer } = await import('node-opcua-server');
  const {
    DataType,
    DataValue,
    MessageSecurityMode,
    SecurityPolicy,
    StatusCodes,
    setErrorLogger,
    setWarningLogger,
    Variant,
  } = await import('node-opcua-client');
  const { OPCUACertificateManager } = await import('node-opcua-certificate-manager');
  setWarningLogger(() => undefined);
  setErrorLogger(() => undefined);
  const manager = new OPCUACertificateManager({
    rootFolder: folder,
    automaticallyAcceptUnknownCertificate: true,
  });
  await manager.initialize();
  const server = new OPCUAServer({
    hostname: host,
    host,
    port,
    serverCertificateManager: manager,
    userCertificateManager: manager,
    allowAnonymous: true,
    securityModes: [MessageSecurityMode.None, MessageSecurityMode.Sign, MessageSecurityMode.SignAndEncrypt],
    securityPolicies: [
      SecurityPolicy.None,
      SecurityPolicy.Basic256Sha256,
      SecurityPolicy.Aes128_Sha256_RsaOaep,
      SecurityPolicy.Aes256_Sha256_RsaPss,
    ],
    serverInfo: {
      applicationUri: 'urn:tripwitness:clocked-server',
      productUri: 'urn:tripwitness:clocked-server',
    },
  });
  await server.initialize();
  const space = server.engine.addressSpace!;
  const namespace = space.registerNamespace(NAMESPACE);
  const root = namespace.addObject({ browseName: 'Clocked', organizedBy: space.rootFolder.objects });
  for (const [type, value] of FIXED) {
    const dataType = DataType[type];
    const held = type === 'Boolean' ? true : value;
    namespace
      .addVariable({ componentOf: root, browseName: type, nodeId: `s=${type}`, dataType })
      .setValueFromSource(new Variant({ dataType, value: held }), StatusCodes.Good);
  }
  const live = (
    name: string,
    dataType: (typeof DataType)['UInt16' | 'UInt32'],
    valueAt: (tick: number) => number,
  ): void => {
    namespace.addVariable({
      componentOf: root,
      browseName: name,
      nodeId: `s=${name}`,
      dataType,
      minimumSamplingInterval: 10,
      value: {
        timestamped_get: () => {
          const { now, shown } = bothClocks();
          const value = valueAt(tickAt(now));
          return new DataValue({
            value: new Variant({ dataType, value }),
            statusCode: StatusCodes.Good,
            sourceTimestamp: new Date(shown),
            serverTimestamp: new Date(shown),
          });
        },
      },
    });
  };
  live('live', DataType.UInt16, (tick) => wordAt(1, 'holding', MAP.live, tick));
  live('steps', DataType.UInt16, (tick) => wordAt(1, 'holding', MAP.steps, tick));
  for (const [name, at] of Object.entries(SLOWLY)) live(name, DataType.UInt32, (tick) => slowAt(at, tick));
  await server.start();
  const taken = server.endpoints[0]!.port;
  return {
    endpoint: `opc.tcp://${host}:${taken}`,
    port: taken,
    async stop() {
      await server.shutdown(0);
      manager.dispose();
    },
  };
};
