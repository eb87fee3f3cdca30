import type { Address, SignalDef } from '../../signal/index.ts';
import type { Library, NodeId, Session } from './library.ts';

/** What was found for an address, or why nothing was. */
export type Found =
  | { readonly node: NodeId }
  | { readonly code: string; readonly params: Readonly<Record<string, string | number>> };

export type OpcUaAddress = Extract<Address, { kind: 'opc-ua' | 'opc-ua-path' }>;

type Path = Extract<Address, { kind: 'opc-ua-path' }>['path'];

export const isOpcUa = (address: Address): address is OpcUaAddress =>
  address.kind === 'opc-ua' || address.kind === 'opc-ua-path';

/** Index of a namespace as the server has it today. '' is the standard's own, always 0. */
const indexOf = (namespaces: readonly string[], uri: string): number =>
  uri === '' ? 0 : namespaces.indexOf(uri);

/** Identifier types as the library counts them; it does not export their names. */
const NUMERIC = 1;
const STRING = 2;
const GUID = 3;
const BYTES = 4;

const idOf = (library: Library, namespace: number, text: string): NodeId | undefined => {
  const value = text.slice(2);
  if (text.startsWith('s=')) return new library.NodeId(STRING, value, namespace);
  if (text.startsWith('i=') && /^\d{1,10}$/.test(value) && Number(value) < 2 ** 32)
    return new library.NodeId(NUMERIC, Number(value), namespace);
  if (text.startsWith('g=') && /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i.test(value))
    return new library.NodeId(GUID, value.toUpperCase(), namespace);
  if (text.startsWith('b=')) return new library.NodeId(BYTES, Buffer.from(value, 'base64'), namespace);
  return undefined;
};

const nodeOf = (
  library: Library,
  { namespace, id }: Extract<OpcUaAddress, { kind: 'opc-ua' }>,
  namespaces: readonly string[],
): Found => {
  const bad = { code: 'node-id-not-read', params: { id } };
  try {
    const node = idOf(library, indexOf(namespaces, namespace), id);
    return node === undefined ? bad : { node };
  } catch {
    // The library throws at what it cannot read; one address must not take the others along.
    return bad;
  }
};

/** The path down to its `count`-th name, as people write it. */
export const pathText = (path: Path, count = path.length): string => {
  let before = '';
  return path
    .slice(0, count)
    .map(({ namespace, name }) => {
      const said = namespace === before ? '' : `nsu=${namespace || STANDARD};`;
      before = namespace;
      return `/${said}${name.replace(/[&/]/g, '&$&')}`;
    })
    .join('');
};

const STANDARD = 'http://opcfoundation.org/UA/';
const OBJECTS = 'i=85';
const HIERARCHICAL = 'i=33';
/** So many paths in one question. */
const CHUNK = 100;

const elements = (path: Path, namespaces: readonly string[]) =>
  path.map(({ namespace, name }) => ({
    referenceTypeId: HIERARCHICAL,
    isInverse: false,
    includeSubtypes: true,
    targetName: { namespaceIndex: indexOf(namespaces, namespace), name },
  }));

type Result = import('node-opcua-client').BrowsePathResult;

const ask = async (
  library: Library,
  session: Session,
  paths: readonly ReturnType<typeof elements>[],
): Promise<Result[]> => {
  const found: Result[] = [];
  for (let from = 0; from < paths.length; from += CHUNK) {
    const browse = paths
      .slice(from, from + CHUNK)
      .map((one) => new library.BrowsePath({ startingNode: OBJECTS, relativePath: { elements: one } }));
    found.push(...(await session.translateBrowsePath(browse)));
  }
  return found;
};

/** Of a path that leads nowhere, or to several places: the first name at which it does. */
const blame = async (
  library: Library,
  session: Session,
  path: Path,
  namespaces: readonly string[],
): Promise<Found> => {
  const names = elements(path, namespaces);
  const steps = names.map((_, index) => names.slice(0, index + 1));
  const results = await ask(library, session, steps);
  const text = pathText(path);
  for (const [index, result] of results.entries()) {
    const count = (result.targets ?? []).length;
    const name = path[index]?.name ?? '';
    if (count === 0)
      return { code: 'path-not-found', params: { path: text, name, after: pathText(path, index) || '/' } };
    if (count > 1) return { code: 'path-ambiguous', params: { path: text, name, count } };
  }
  return { code: 'path-not-found', params: { path: text, name: path.at(-1)?.name ?? '', after: '/' } };
};

const LOCAL = 0xffff_ffff; // the whole path was followed on this server

/** Nodes of addresses on this connection, in their order. One question for all paths; nothing is browsed. */
export const resolveNodes = async (
  library: Library,
  session: Session,
  addresses: readonly OpcUaAddress[],
  namespaces: readonly string[],
): Promise<Found[]> => {
  const missing = (uri: string): Found | undefined =>
    indexOf(namespaces, uri) < 0 ? { code: 'namespace-unknown', params: { namespace: uri } } : undefined;
  const paths = addresses.flatMap((address) =>
    address.kind === 'opc-ua-path' && address.path.every(({ namespace }) => !missing(namespace))
      ? [address.path]
      : [],
  );
  const results = await ask(
    library,
    session,
    paths.map((path) => elements(path, namespaces)),
  );
  const byPath = new Map(paths.map((path, index) => [path, results[index]]));
  const found: Found[] = [];
  for (const address of addresses) {
    if (address.kind === 'opc-ua') {
      found.push(missing(address.namespace) ?? nodeOf(library, address, namespaces));
      continue;
    }
    const lost = address.path.map(({ namespace }) => missing(namespace)).find((one) => one !== undefined);
    const targets = (byPath.get(address.path)?.targets ?? []).filter(
      ({ remainingPathIndex }) => remainingPathIndex === LOCAL,
    );
    const [only] = targets;
    if (lost !== undefined) found.push(lost);
    else if (only !== undefined && targets.length === 1) found.push({ node: only.targetId as NodeId });
    else found.push(await blame(library, session, address.path, namespaces));
  }
  return found;
};

/** Namespaces that the signals name. */
export const namespacesOf = (signals: readonly SignalDef[]): readonly string[] => [
  ...new Set(
    signals.flatMap(({ address }) => {
      if (address.kind === 'opc-ua') return [address.namespace];
      return address.kind === 'opc-ua-path' ? address.path.map(({ namespace }) => namespace) : [];
    }),
  ),
];
