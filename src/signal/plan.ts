import type { SignalId } from '../measure/index.ts';
import type { ModbusSource, Plan, Request, SignalDef, Source, Table } from './types.ts';
import { isBitTable, wordsOf } from './words.ts';

interface Piece {
  readonly at: number;
  readonly count: number;
  readonly signals: SignalId[];
}

const addressOf = (def: SignalDef): { table: Table; at: number } | undefined =>
  def.address.kind === 'modbus' ? { table: def.address.table, at: def.address.at } : undefined;

/** Joins pieces in order of address while the limits allow; a value of several words is never cut. */
const join = (pieces: readonly Piece[], most: number, gap: number): Piece[] => {
  const joined: Piece[] = [];
  for (const piece of [...pieces].sort((a, b) => a.at - b.at)) {
    const last = joined.at(-1);
    const end = last ? last.at + last.count : 0;
    const reach = piece.at + piece.count;
    if (last && piece.at - end <= gap && Math.max(end, reach) - last.at <= most) {
      joined[joined.length - 1] = {
        at: last.at,
        count: Math.max(end, reach) - last.at,
        signals: [...last.signals, ...piece.signals],
      };
    } else joined.push({ at: piece.at, count: piece.count, signals: [...piece.signals] });
  }
  return joined;
};

/**
 * A run that had to be cut is cut between groups that belong together, if that costs no request more: the pieces of
 * a group are joined first, then the groups.
 */
const planTable = (
  defs: readonly SignalDef[],
  source: ModbusSource,
  index: number,
  table: Table,
  together: readonly (readonly SignalId[])[],
): Request[] => {
  const bits = table === 'coil' || table === 'discrete-input';
  const most = bits ? source.maxBits : source.maxRegisters;
  const pieces = new Map<SignalId, Piece>();
  for (const def of defs) {
    const address = addressOf(def);
    if (address)
      pieces.set(def.id, {
        at: address.at,
        count: isBitTable(def) ? 1 : wordsOf(def.decoding),
        signals: [def.id],
      });
  }
  const plain = join([...pieces.values()], most, source.maxGap);
  const groups = together.map((group) => group.flatMap((id) => pieces.get(id) ?? []));
  const taken = new Set<SignalId>();
  const grouped = groups.flatMap((group) => {
    const fresh = group.filter((piece) => piece.signals.every((id) => !taken.has(id)));
    for (const piece of fresh) for (const id of piece.signals) taken.add(id);
    return join(fresh, most, source.maxGap);
  });
  const rest = [...pieces.entries()].filter(([id]) => !taken.has(id)).map(([, piece]) => piece);
  const careful = join([...grouped, ...rest], most, source.maxGap);
  const chosen = careful.length <= plain.length ? careful : plain;
  return chosen.map(({ at, count, signals }) => ({
    source: index,
    table,
    at,
    count,
    signals,
    pace: 'watch',
  }));
};

/**
 * Tags and wishes to requests: adjacent addresses in one request, within the source's limits; cause and effects of
 * one interlock (`together`) in one answer wherever the map allows. Knows no rule.
 */
export const planReads = (
  signals: readonly SignalDef[],
  sources: readonly Source[],
  together: readonly (readonly SignalId[])[],
): Plan => {
  const requests: Request[] = [];
  const items = new Map<number, SignalId[]>();
  sources.forEach((source, index) => {
    const own = signals.filter((def) => def.source === index);
    if (source.protocol === 'opc-ua')
      items.set(
        index,
        own.map((def) => def.id),
      );
    if (source.protocol !== 'modbus') return;
    for (const table of ['holding', 'input', 'discrete-input', 'coil'] as const) {
      const defs = own.filter((def) => addressOf(def)?.table === table);
      if (defs.length > 0) requests.push(...planTable(defs, source, index, table, together));
    }
  });
  return { requests, items };
};
