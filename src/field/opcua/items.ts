import type { Granted, SignalDef } from '../../signal/index.ts';
import { isOpcUa, namespacesOf, type OpcUaAddress, resolveNodes } from './address.ts';
import type { Library, NodeId, Session } from './library.ts';
import { chunks, type Limits } from './limits.ts';
import { note, type Slot, type Watching } from './types.ts';

/** A slot and the node that it watches on this connection. */
export interface Item {
  readonly slot: Slot;
  readonly node: NodeId;
}

/** A signal that cannot be had on this connection; the reason is told once, its absence as long as it lasts. */
const refuse = (
  watching: Watching,
  { name }: SignalDef,
  code: string,
  params: Readonly<Record<string, string | number>>,
): void => note(watching, 'refused', code, { signal: name, ...params });

/** A namespace that stands elsewhere than before is followed; that it moved is told, because others count on indices. */
const noteMoves = (watching: Watching, namespaces: readonly string[]): void => {
  for (const uri of namespacesOf(watching.signals)) {
    const now = uri === '' ? 0 : namespaces.indexOf(uri);
    const before = watching.namespaces.get(uri);
    if (now < 0) continue;
    if (before !== undefined && before !== now)
      note(watching, 'note', 'namespace-moved', { namespace: uri, from: before, to: now });
    watching.namespaces.set(uri, now);
  }
};

/** The signals of this source as nodes of this connection; what cannot be found is refused by name. */
export const findItems = async (library: Library, session: Session, watching: Watching): Promise<Item[]> => {
  const namespaces = await session.readNamespaceArray();
  noteMoves(watching, namespaces);
  const defs = watching.signals.filter((def) => isOpcUa(def.address));
  const addresses = defs.map((def) => def.address as OpcUaAddress);
  const found = await resolveNodes(library, session, addresses, namespaces);
  return defs.flatMap((def, index): Item[] => {
    const one = found[index];
    if (one === undefined) return [];
    if ('node' in one) return [{ slot: { def, last: undefined, refused: false, cycle: -1 }, node: one.node }];
    refuse(watching, def, one.code, one.params);
    return [];
  });
};

type Result = import('node-opcua-client').MonitoredItemCreateResult;

interface Asked {
  readonly items: readonly Item[];
  /** Client handle of the first. */
  readonly from: number;
  readonly filter: boolean;
}

/**
 * No deadband: it would hide a crossing. Whatever is newer is sent, also where only the time differs: a value with a
 * newer time has been away and come back between two samples, and a pulse that was missed must not look like rest.
 */
const filterOf = (library: Library) =>
  new library.DataChangeFilter({
    trigger: library.DataChangeTrigger.StatusValueTimestamp,
    deadbandType: library.DeadbandType.None,
    deadbandValue: 0,
  });

const create = async (
  library: Library,
  session: Session,
  watching: Watching,
  subscription: number,
  { items, from, filter }: Asked,
): Promise<Result[]> => {
  const { sampling, queue } = watching.source;
  const response = await session.createMonitoredItems({
    subscriptionId: subscription,
    timestampsToReturn: library.TimestampsToReturn.Both,
    itemsToCreate: items.map(({ node }, index) => ({
      itemToMonitor: { nodeId: node, attributeId: library.AttributeIds.Value },
      monitoringMode: library.MonitoringMode.Reporting,
      requestedParameters: {
        clientHandle: from + index,
        samplingInterval: sampling / 1_000,
        queueSize: queue,
        discardOldest: true,
        filter: filter ? filterOf(library) : null,
      },
    })),
  });
  return response.results ?? [];
};

const FILTER = /Filter|NotSupported/;

/**
 * Items of a subscription, one call after the other: servers are known to lose items that are created side by side. An
 * item whose server knows no filter is asked for without. Calls back with what was granted; who is refused is told.
 */
export const createItems = async (
  library: Library,
  session: Session,
  watching: Watching,
  subscription: number,
  items: readonly Item[],
  limits: Limits,
): Promise<Granted[]> => {
  const granted: Granted[] = [];
  let from = 0;
  for (const part of chunks(items, limits.monitor)) {
    const results = await create(library, session, watching, subscription, {
      items: part,
      from,
      filter: true,
    });
    for (const [index, { slot, node }] of part.entries()) {
      let result = results[index];
      if (result !== undefined && FILTER.test(result.statusCode.name)) {
        const alone = { items: [{ slot, node }], from: from + index, filter: false };
        [result] = await create(library, session, watching, subscription, alone);
      }
      const { def } = slot;
      slot.refused = result === undefined || !result.statusCode.isGoodish();
      if (result === undefined || slot.refused)
        refuse(watching, def, 'item-refused', { detail: result?.statusCode.name ?? 'no result' });
      else
        granted.push({
          signal: def.id,
          sampling: Math.round(result.revisedSamplingInterval * 1_000),
          queue: result.revisedQueueSize,
        });
    }
    from += part.length;
  }
  return granted;
};
