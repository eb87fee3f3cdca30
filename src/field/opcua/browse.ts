import type { Address } from '../../signal/index.ts';
import { type OpcUaAddress, pathText, resolveNodes } from './address.ts';
import type { DataValue, Library, NodeId, Session } from './library.ts';
import { chunks, type Limits } from './limits.ts';
import { Refused } from './trouble.ts';
import { numberOf, timeOf } from './value.ts';

/** A value as it was read once. */
export interface ReadOnce {
  /** Number or state; null where it is neither, see `text`. */
  readonly value: number | null;
  /** As people read it, at most so long; of every type. */
  readonly text: string;
  readonly type: string;
  /** Status code and its name (OPC 10000-4, 7.39.2). */
  readonly status: number;
  readonly statusName: string;
  /** Microseconds since 1970. */
  readonly sourceTime?: number;
  readonly serverTime?: number;
}

/** A node below the one that was asked for. */
export interface BrowsedNode {
  readonly depth: number;
  readonly name: string;
  /** As a tag takes it: `nsu=URI;s=ID`. */
  readonly address: string;
  /** The same by names, where it was reached from the Objects folder. */
  readonly path: string;
  readonly kind: 'object' | 'variable' | 'other';
  readonly read?: ReadOnce;
}

export interface BrowseWish {
  /** Undefined: the Objects folder. */
  readonly from?: OpcUaAddress;
  /** Levels below it, 1 to 5. */
  readonly depth: number;
  /** Nodes at most; 1 to 1,000. */
  readonly limit: number;
}

export interface Browsed {
  readonly nodes: readonly BrowsedNode[];
  /** There is more than was asked for. */
  readonly more: boolean;
}

const LONGEST = 80;

const shown = (value: unknown): string => {
  if (value === null || value === undefined) return '';
  if (value instanceof Date) return value.toISOString();
  if (Buffer.isBuffer(value)) return `0x${value.subarray(0, 32).toString('hex')}`;
  if (ArrayBuffer.isView(value))
    return `[${Array.from(value as Uint8Array)
      .slice(0, 16)
      .join(', ')}]`;
  if (Array.isArray(value)) return `[${value.slice(0, 16).map(shown).join(', ')}]`;
  return String(value);
};

/** Control characters of a server's text never reach a terminal. */
const cut = (text: string): string => {
  const plain = text.replace(/\p{C}/gu, ' ');
  return plain.length > LONGEST ? `${plain.slice(0, LONGEST - 1)}…` : plain;
};

export const readOnceOf = (library: Library, data: DataValue): ReadOnce => {
  const sourceTime = timeOf(data.sourceTimestamp, data.sourcePicoseconds);
  const serverTime = timeOf(data.serverTimestamp, data.serverPicoseconds);
  const value = numberOf(data);
  return {
    value,
    text: cut(value === null ? shown(data.value?.value) : String(value)),
    type: data.value ? (library.DataType[data.value.dataType] ?? '') : '',
    status: data.statusCode.value,
    statusName: data.statusCode.name,
    ...(sourceTime !== undefined && { sourceTime }),
    ...(serverTime !== undefined && { serverTime }),
  };
};

const ID_KINDS = ['', 'i', 's', 'g', 'b'];

const addressText = (node: NodeId, namespaces: readonly string[]): string => {
  const { value } = node;
  const id = Buffer.isBuffer(value) ? value.toString('base64') : String(value);
  return `nsu=${namespaces[node.namespace] ?? ''};${ID_KINDS[node.identifierType] ?? 's'}=${id}`;
};

type Path = Extract<Address, { kind: 'opc-ua-path' }>['path'];

interface Step {
  readonly node: NodeId;
  readonly depth: number;
  readonly path: Path | undefined;
}

const OBJECT = 1;
const VARIABLE = 2;
const DEEPEST = 5;
const MOST = 1_000;
/** Nodes whose children are asked for in one question. */
const AT_ONCE = 20;

type Reference = import('node-opcua-client').ReferenceDescription;

const childrenOf = async (
  library: Library,
  session: Session,
  steps: readonly Step[],
): Promise<Reference[][]> => {
  const results = await session.browse(
    steps.map(({ node }) => ({
      nodeId: node,
      referenceTypeId: 'i=33',
      includeSubtypes: true,
      browseDirection: library.BrowseDirection.Forward,
      nodeClassMask: OBJECT | VARIABLE,
      resultMask: 63,
    })),
  );
  const all: Reference[][] = [];
  for (const result of results) {
    const found = [...(result.references ?? [])];
    let { continuationPoint } = result;
    while (continuationPoint && continuationPoint.length > 0 && found.length < MOST) {
      const next = await session.browseNext(continuationPoint, false);
      found.push(...(next.references ?? []));
      continuationPoint = next.continuationPoint;
    }
    if (continuationPoint && continuationPoint.length > 0) await session.browseNext(continuationPoint, true);
    all.push(found);
  }
  return all;
};

const nodeOf = (
  reference: Reference,
  { depth, path }: Step,
  namespaces: readonly string[],
): { readonly node: BrowsedNode; readonly step: Step } => {
  const { namespaceIndex, name } = reference.browseName;
  const below = path && [...path, { namespace: namespaces[namespaceIndex] ?? '', name: name ?? '' }];
  const id = reference.nodeId as NodeId;
  const kind = ({ [OBJECT]: 'object', [VARIABLE]: 'variable' } as const)[reference.nodeClass as number];
  return {
    node: {
      depth: depth + 1,
      name: cut(name ?? ''),
      address: addressText(id, namespaces),
      path: below ? `path=${pathText(below)}` : '',
      kind: kind ?? 'other',
    },
    step: { node: id, depth: depth + 1, path: below },
  };
};

/** Values of the variables among the nodes. */
const withValues = async (
  library: Library,
  session: Session,
  found: readonly { readonly node: BrowsedNode; readonly step: Step }[],
  limits: Limits,
): Promise<BrowsedNode[]> => {
  const variables = found.filter(({ node }) => node.kind === 'variable');
  const values = new Map<BrowsedNode, ReadOnce>();
  for (const part of chunks(variables, limits.read)) {
    const asked = part.map(({ step }) => ({ nodeId: step.node, attributeId: library.AttributeIds.Value }));
    const answers = await session.read(asked);
    for (const [index, data] of answers.entries()) {
      const one = part[index];
      if (one !== undefined) values.set(one.node, readOnceOf(library, data));
    }
  }
  return found.map(({ node }) => {
    const read = values.get(node);
    return read === undefined ? node : { ...node, read };
  });
};

const startOf = async (
  library: Library,
  session: Session,
  from: OpcUaAddress | undefined,
  namespaces: readonly string[],
): Promise<Step> => {
  if (from === undefined) return { node: library.resolveNodeId('i=85') as NodeId, depth: 0, path: [] };
  const [found] = await resolveNodes(library, session, [from], namespaces);
  if (found === undefined) throw new Refused('browse', 'no-answer');
  if ('code' in found) throw new Refused('browse', found.code, found.params);
  return { node: found.node, depth: 0, path: from.kind === 'opc-ua-path' ? from.path : undefined };
};

/**
 * What lies below a node, level by level, with values. Asks a few nodes at a time and no more than was wished for; what
 * can be reached in several ways is shown once.
 */
export const browseNodes = async (
  library: Library,
  session: Session,
  wish: BrowseWish,
  namespaces: readonly string[],
  limits: Limits,
): Promise<Browsed> => {
  const deepest = Math.min(Math.max(1, wish.depth), DEEPEST);
  const most = Math.min(Math.max(1, wish.limit), MOST);
  const start = await startOf(library, session, wish.from, namespaces);
  const seen = new Set([start.node.toString()]);
  const found: { readonly node: BrowsedNode; readonly step: Step }[] = [];
  let more = false;
  const add = (reference: Reference, parent: Step): void => {
    const key = reference.nodeId.toString();
    if (seen.has(key) || more) return;
    seen.add(key);
    if (found.length < most) found.push(nodeOf(reference, parent, namespaces));
    else more = true;
  };
  let level: readonly Step[] = [start];
  for (let depth = 0; depth < deepest && level.length > 0; depth += 1) {
    const before = found.length;
    for (const part of chunks(level, AT_ONCE)) {
      const children = more ? [] : await childrenOf(library, session, part);
      for (const [index, references] of children.entries()) {
        const parent = part[index];
        if (parent !== undefined) for (const reference of references) add(reference, parent);
      }
    }
    level = found.slice(before).map(({ step }) => step);
  }
  return { nodes: await withValues(library, session, found, limits), more };
};
