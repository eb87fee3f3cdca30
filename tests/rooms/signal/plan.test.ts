/** The read plan against every other plan there is, over made-up maps. The greedy cover is checked, not trusted. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { SignalId } from '../../../src/measure/index.ts';
import { type ModbusSource, planReads, type Request, type SignalDef } from '../../../src/signal/index.ts';
import { polled } from './rig.ts';

const source = (maxRegisters: number, maxGap: number): ModbusSource => polled({ maxRegisters, maxGap });

interface Cell {
  readonly at: number;
  readonly wide: boolean;
}

const defOf = ({ at, wide }: Cell, index: number): SignalDef => ({
  id: index as SignalId,
  name: `s${index}`,
  source: 0,
  address: { kind: 'modbus', table: 'holding', at },
  decoding: {
    as: 'number',
    type: wide ? 'uint32' : 'uint16',
    order: 'ABCD',
    scale: 1,
    offset: 0,
    faults: [],
  },
  quantity: 'count',
  unit: 'count',
  states: [],
  resolution: 1,
  accuracy: 0,
  age: 0,
  agedAfter: 1_000_000,
});

const endOf = (cell: Cell): number => cell.at + (cell.wide ? 2 : 1);
const holds = (request: Request, cell: Cell): boolean =>
  cell.at >= request.at && endOf(cell) <= request.at + request.count;

/** The fewest windows of `most` addresses, begun at some cell, that hold every cell: all subsets are tried. */
const fewest = (cells: readonly Cell[], most: number): number => {
  const starts = [...new Set(cells.map((cell) => cell.at))];
  let best = starts.length;
  for (let set = 0; set < 1 << starts.length; set += 1) {
    const chosen = starts.filter((_, index) => ((set >> index) & 1) === 1);
    if (chosen.length >= best) continue;
    if (cells.every((cell) => chosen.some((at) => cell.at >= at && endOf(cell) <= at + most)))
      best = chosen.length;
  }
  return best;
};

const someCells = fc.array(fc.record({ at: fc.nat(40), wide: fc.boolean() }), { minLength: 1, maxLength: 9 });

test('every value lies whole in a request, within the limits, and no plan has fewer requests', () => {
  fc.assert(
    fc.property(someCells, fc.integer({ min: 2, max: 12 }), (all, most) => {
      const defs = all.map(defOf);
      const { requests } = planReads(defs, [source(most, 100)], []);
      for (const [index, cell] of all.entries()) {
        const own = requests.filter((one) => one.signals.includes(index as SignalId));
        expect(own.length).toBeGreaterThan(0);
        expect(own.every((one) => holds(one, cell))).toBe(true);
      }
      expect(requests.every((one) => one.count >= 1 && one.count <= most)).toBe(true);
      expect(requests.length).toBe(fewest(all, most));
    }),
    { seed: 4, numRuns: 400 },
  );
});

test('what belongs together and fits is in one answer; nothing unmapped is read through beyond the gap', () => {
  const grouped = fc.tuple(
    someCells,
    fc.array(fc.uniqueArray(fc.nat(8), { maxLength: 4 }), { maxLength: 4 }),
    fc.integer({ min: 2, max: 14 }),
    fc.nat(4),
    fc.uniqueArray(fc.nat(8), { maxLength: 4 }),
  );
  fc.assert(
    fc.property(grouped, ([all, groups, most, gap, slow]) => {
      const defs = all.map(defOf);
      const together = groups.map((group) => group.filter((one) => one < all.length) as SignalId[]);
      const seldom = new Set(slow.filter((one) => !together.flat().includes(one as SignalId)) as SignalId[]);
      const { requests } = planReads(defs, [source(most, gap)], together, seldom);
      for (const [index, cell] of all.entries()) {
        const own = requests.filter((one) => one.signals.includes(index as SignalId));
        expect(own.length).toBeGreaterThan(0);
        expect(own.every((one) => holds(one, cell))).toBe(true);
        if (!seldom.has(index as SignalId)) expect(own.some((one) => one.pace === 'watch')).toBe(true);
      }
      for (const group of together) {
        const own = [...group].map((id) => all[id]!).sort((a, b) => a.at - b.at);
        if (own.length === 0) continue;
        const end = Math.max(...own.map(endOf));
        const mapped = new Set(own.flatMap((cell) => (cell.wide ? [cell.at, cell.at + 1] : [cell.at])));
        let hole = 0;
        let widest = 0;
        for (let at = own[0]!.at; at < end; at += 1) {
          hole = mapped.has(at) ? 0 : hole + 1;
          widest = Math.max(widest, hole);
        }
        if (end - own[0]!.at > most || widest > gap) continue;
        expect(requests.some((one) => group.every((id) => one.signals.includes(id)))).toBe(true);
      }
      const known = new Set(all.flatMap((cell) => (cell.wide ? [cell.at, cell.at + 1] : [cell.at])));
      for (const { at, count } of requests) {
        let hole = 0;
        for (let address = at; address < at + count; address += 1) {
          hole = known.has(address) ? 0 : hole + 1;
          expect(hole).toBeLessThanOrEqual(gap);
        }
      }
    }),
    { seed: 5, numRuns: 600 },
  );
});

test('what nobody waits for is asked apart, unless it lies between', () => {
  const defs = [0, 1, 2, 40, 41].map((at) => ({ at, wide: false })).map(defOf);
  const { requests } = planReads(
    defs,
    [source(125, 100)],
    [[0, 2] as SignalId[]],
    new Set([1, 3, 4] as SignalId[]),
  );
  expect(requests.map(({ at, count, pace, signals }) => [at, count, pace, signals])).toEqual([
    [0, 3, 'watch', [0, 2, 1]],
    [40, 2, 'slow', [3, 4]],
  ]);
});
