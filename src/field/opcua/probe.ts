import { lookup } from 'node:dns/promises';
import { connect } from 'node:net';
import { isOpcUa, type OpcUaAddress, resolveNodes } from './address.ts';
import { type Browsed, type BrowseWish, browseNodes, type ReadOnce, readOnceOf } from './browse.ts';
import { connectOpcUa, type OpcUaTarget, type Opened, type Way } from './connect.ts';
import { hostOf, type OfferedEndpoint } from './endpoint.ts';
import { readLimits } from './limits.ts';
import { Refused, troubleOf } from './trouble.ts';
import type { OpcUaOptions, OpcUaTrouble } from './types.ts';

export interface OpcUaProbeOptions extends OpcUaOptions, Omit<OpcUaTarget, 'endpoint'> {
  readonly browse?: BrowseWish;
  /** Read once each, in this order. */
  readonly read?: readonly OpcUaAddress[];
}

/** What one address gave. */
export type ProbedValue =
  | { readonly address: OpcUaAddress; readonly read: ReadOnce }
  | { readonly address: OpcUaAddress; readonly trouble: OpcUaTrouble };

/** Each stage that was reached, in order; `trouble` names the one that failed. Times in milliseconds. */
export interface OpcUaProbed {
  readonly name?: {
    readonly host: string;
    readonly addresses: readonly string[];
    readonly milliseconds: number;
  };
  readonly tcp?: { readonly port: number; readonly milliseconds: number };
  readonly endpoints?: readonly OfferedEndpoint[];
  readonly session?: { readonly namespaces: readonly string[]; readonly milliseconds: number };
  readonly browsed?: Browsed;
  readonly values?: readonly ProbedValue[];
  readonly trouble?: OpcUaTrouble;
}

type Found = { -readonly [Key in keyof OpcUaProbed]: OpcUaProbed[Key] };

const since = (began: bigint): number => Number(process.hrtime.bigint() - began) / 1e6;

const resolveName = async (host: string): Promise<readonly string[]> => {
  const found = await lookup(host, { all: true }).catch((error: NodeJS.ErrnoException) => {
    throw new Refused('name', 'host-not-found', { host, detail: error.code ?? '' });
  });
  return found.map(({ address }) => address);
};

const reach = (host: string, port: number, timeout: number): Promise<void> =>
  new Promise((resolve, reject) => {
    const socket = connect({ host, port });
    const end = (trouble?: Refused): void => {
      socket.destroy();
      if (trouble === undefined) resolve();
      else reject(trouble);
    };
    socket.setTimeout(timeout, () => end(new Refused('tcp', 'connection-timed-out', { host, port })));
    socket.once('connect', () => end());
    socket.once('error', (error: NodeJS.ErrnoException) => {
      const { trouble } = new Refused('tcp', 'opcua-failed', { host, port, detail: error.code ?? '' });
      const known = troubleOf(error, 'tcp');
      end(new Refused('tcp', known.code, { ...trouble.params, ...known.params }));
    });
  });

const readValues = async (
  { library, session }: Opened,
  addresses: readonly OpcUaAddress[],
  namespaces: readonly string[],
): Promise<ProbedValue[]> => {
  const nodes = await resolveNodes(library, session, addresses, namespaces);
  const values: ProbedValue[] = [];
  for (const [index, address] of addresses.entries()) {
    const node = nodes[index];
    if (node === undefined) continue;
    if ('code' in node) {
      values.push({ address, trouble: { stage: 'items', ...node } });
      continue;
    }
    const data = await session.read({ nodeId: node.node, attributeId: library.AttributeIds.Value });
    values.push({ address, read: readOnceOf(library, data) });
  }
  return values;
};

const look = async (
  opened: Opened,
  options: OpcUaProbeOptions,
  found: Found,
  began: bigint,
): Promise<void> => {
  const { library, session } = opened;
  const namespaces = await session.readNamespaceArray();
  found.session = { namespaces, milliseconds: since(began) };
  const limits = await readLimits(library, session);
  if (options.browse !== undefined)
    found.browsed = await browseNodes(library, session, options.browse, namespaces, limits);
  const wanted = (options.read ?? []).filter(isOpcUa);
  if (wanted.length > 0) found.values = await readValues(opened, wanted, namespaces);
};

/**
 * Goes the whole way to a server once, stage by stage: name, TCP, endpoints, session, browse, read. Reads and browses
 * only, on one connection after the other.
 */
export const probeOpcUa = async (endpoint: string, options: OpcUaProbeOptions): Promise<OpcUaProbed> => {
  const found: Found = {};
  const until = new AbortController();
  const way: Way = {};
  try {
    const { host, port } = hostOf(endpoint);
    let began = process.hrtime.bigint();
    const addresses = await resolveName(host);
    found.name = { host, addresses, milliseconds: since(began) };
    began = process.hrtime.bigint();
    await reach(host, port, options.timeout);
    found.tcp = { port, milliseconds: since(began) };
    began = process.hrtime.bigint();
    const opened = await connectOpcUa({ ...options, endpoint }, options, until.signal, way);
    if (way.endpoints !== undefined) found.endpoints = way.endpoints;
    if ('trouble' in opened) return { ...found, trouble: opened.trouble };
    try {
      await look(opened, options, found, began);
    } catch (error) {
      found.trouble = troubleOf(error, 'browse');
    } finally {
      await opened.close(false);
    }
  } catch (error) {
    found.trouble = troubleOf(error, 'address');
  }
  return found;
};
