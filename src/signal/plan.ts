import type { SignalId } from '../measure/index.ts';
import { isBits } from './tables.ts';
import type { ModbusSource, Plan, Request, SignalDef, Source, Table } from './types.ts';
import { isBitTable, wordsOf } from './words.ts';

/** A value, or several that belong into one answer: a run of addresses that is never cut. */
interface Block {
  readonly at: number;
  readonly end: number;
  readonly signals: readonly SignalId[];
}

interface Limits {
  /** Addresses in one request. */
  readonly most: number;
  /** Addresses in a row that nobody asked for. */
  readonly gap: number;
}

const addressOf = (def: SignalDef): { table: Table; at: number } | undefined =>
  def.address.kind === 'modbus' ? { table: def.address.table, at: def.address.at } : undefined;

const blockOf = (def: SignalDef): Block => {
  const at = addressOf(def)?.at ?? 0;
  return { at, end: at + (isBitTable(def) ? 1 : wordsOf(def.decoding)), signals: [def.id] };
};

const byAddress = (a: Block, b: Block): number => a.at - b.at || a.end - b.end;

/** Runs that can be read through: where the gap to the next address is too long, another begins. */
const runsOf = (blocks: readonly Block[], gap: number): Block[][] => {
  const runs: Block[][] = [];
  let end = Number.NEGATIVE_INFINITY;
  for (const block of [...blocks].sort(byAddress)) {
    if (block.at - end > gap) runs.push([]);
    runs.at(-1)?.push(block);
    end = Math.max(end, block.end);
  }
  return runs;
};

const joined = (blocks: readonly Block[]): Block => ({
  at: Math.min(...blocks.map((block) => block.at)),
  end: Math.max(...blocks.map((block) => block.end)),
  signals: [...new Set(blocks.flatMap((block) => block.signals))],
});

/** The group as far as one request can hold it; what is too far apart goes without it. */
const groupBlocks = (cells: readonly Block[], limits: Limits): Block[] =>
  runsOf(cells, limits.gap).flatMap((run) => {
    const whole = joined(run);
    return whole.end - whole.at <= limits.most ? [whole] : [];
  });

/**
 * The fewest requests such that each block lies in one of them whole: from the lowest address that is left, as far as
 * a request reaches. Requests may overlap, where that keeps what belongs together in one answer.
 */
const cover = (blocks: readonly Block[], limits: Limits): Block[] =>
  runsOf(blocks, limits.gap).flatMap((run) => {
    const requests: Block[] = [];
    let left = run;
    for (let first = left[0]; first !== undefined; first = left[0]) {
      const reach = first.at + limits.most;
      const taken = left.filter((block) => block.end <= reach);
      requests.push(joined(taken.length > 0 ? taken : [first]));
      left = taken.length > 0 ? left.filter((block) => block.end > reach) : left.slice(1);
    }
    return requests;
  });

const isWithin = (outer: Block, inner: Block): boolean => inner.at >= outer.at && inner.end <= outer.end;

/** Each value that is in no request yet goes with the first that holds it anyway; what none holds is left over. */
const carry = (requests: readonly Block[], cells: readonly Block[]): { full: Block[]; left: Block[] } => {
  const carried = new Set(requests.flatMap((request) => request.signals));
  const full = requests.map((request) => {
    const more = cells.filter(
      (cell) => isWithin(request, cell) && !cell.signals.every((id) => carried.has(id)),
    );
    for (const id of more.flatMap((cell) => cell.signals)) carried.add(id);
    return joined([request, ...more]);
  });
  return { full, left: cells.filter((cell) => !cell.signals.every((id) => carried.has(id))) };
};

const planTable = (
  defs: readonly SignalDef[],
  source: ModbusSource,
  index: number,
  table: Table,
  wishes: Wishes,
): Request[] => {
  const limits = { most: isBits(table) ? source.maxBits : source.maxRegisters, gap: source.maxGap };
  const cells = new Map(defs.map((def) => [def.id, blockOf(def)]));
  const seldom = defs.filter((def) => wishes.slow.has(def.id)).map(blockOf);
  const often = defs.filter((def) => !wishes.slow.has(def.id)).map(blockOf);
  const groups = wishes.together.flatMap((group) => {
    const own = group.flatMap((id) => cells.get(id) ?? []);
    return own.length === 0 ? [] : groupBlocks(own, limits);
  });
  const lonely = often.filter((cell) => !groups.some((group) => isWithin(group, cell)));
  const watched = carry(cover([...groups, ...lonely], limits), often);
  // What is read often anyway carries what is read seldom, where that lies between.
  const all = carry(watched.full, seldom);
  const asked = ({ at, end, signals }: Block, pace: Request['pace']): Request => ({
    source: index,
    table,
    at,
    count: end - at,
    signals,
    pace,
  });
  return [
    ...all.full.map((block) => asked(block, 'watch')),
    ...cover(all.left, limits).map((block) => asked(block, 'slow')),
  ];
};

interface Wishes {
  /** Signals that should travel in one answer: cause and effects of one interlock. */
  readonly together: readonly (readonly SignalId[])[];
  /** Signals that no interlock needs. */
  readonly slow: ReadonlySet<SignalId>;
}

/**
 * Tags and wishes to the fewest requests: within the source's limits, a value of several words never cut, what belongs
 * together in one answer wherever the map allows, what nobody waits for apart. Knows no rule.
 */
export const planReads = (
  signals: readonly SignalDef[],
  sources: readonly Source[],
  together: readonly (readonly SignalId[])[],
  slow: ReadonlySet<SignalId> = new Set(),
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
      if (defs.length > 0) requests.push(...planTable(defs, source, index, table, { together, slow }));
    }
  });
  return { requests, items };
};
