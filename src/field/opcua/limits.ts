import type { Library, Session } from './library.ts';

/** How much a server takes in one question (OPC 10000-5, 6.3.11 OperationLimits). */
export interface Limits {
  readonly read: number;
  readonly monitor: number;
}

/** Numeric ids of OperationLimits.MaxNodesPerRead and MaxMonitoredItemsPerCall (OPC 10000-6, NodeIds.csv). */
const MAX_NODES_PER_READ = 'i=11705';
const MAX_ITEMS_PER_CALL = 'i=11714';

/** So many where the server sets no limit: an answer of this size fits into any buffer and stalls nobody. */
const USUAL = 500;

export const readLimits = async (library: Library, session: Session): Promise<Limits> => {
  const asked = await session.read(
    [MAX_NODES_PER_READ, MAX_ITEMS_PER_CALL].map((nodeId) => ({
      nodeId,
      attributeId: library.AttributeIds.Value,
    })),
  );
  const [read, monitor] = asked.map((data) => {
    const value: unknown = data.statusCode.isGood() ? data.value.value : 0;
    return typeof value === 'number' && value > 0 ? Math.min(USUAL, value) : USUAL;
  });
  return { read: read ?? USUAL, monitor: monitor ?? USUAL };
};

export const chunks = <T>(all: readonly T[], size: number): T[][] => {
  const parts: T[][] = [];
  for (let from = 0; from < all.length; from += size) parts.push(all.slice(from, from + size));
  return parts;
};
