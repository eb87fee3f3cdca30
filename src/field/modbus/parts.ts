import { isBits, type Request, type SignalDef, wordsOf } from '../../signal/index.ts';

/** A run of addresses that is asked at once. */
export interface Part {
  readonly at: number;
  readonly count: number;
  /** Widths of the values in it, so that none is cut. */
  readonly cells: readonly Cell[];
}

export interface Cell {
  readonly at: number;
  readonly count: number;
}

const cover = (cells: readonly Cell[]): Part => {
  const at = Math.min(...cells.map((cell) => cell.at));
  return { at, count: Math.max(...cells.map((cell) => cell.at + cell.count)) - at, cells };
};

/** The whole request as one part; without the signals' widths every address stands alone. */
export const wholeOf = (request: Request, signals: readonly SignalDef[]): Part => {
  const cells = request.signals.flatMap((id): Cell[] => {
    const def = signals[id];
    if (def?.address.kind !== 'modbus') return [];
    return [{ at: def.address.at, count: isBits(request.table) ? 1 : wordsOf(def.decoding) }];
  });
  return { at: request.at, count: request.count, cells: cells.sort((a, b) => a.at - b.at) };
};

/** Two halves between values, nowhere else; undefined where a single value (or address) is left. */
export const halve = (part: Part): readonly [Part, Part] | undefined => {
  for (let middle = 0; middle < part.cells.length; middle += 1) {
    const cut = (Math.floor(part.cells.length / 2) + middle) % part.cells.length;
    const left = part.cells.slice(0, cut);
    const right = part.cells.slice(cut);
    const reach = Math.max(...left.map((cell) => cell.at + cell.count));
    const first = right[0];
    if (left.length > 0 && first && reach <= first.at) return [cover(left), cover(right)];
  }
  return undefined;
};
