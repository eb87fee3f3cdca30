/** Rows in a ring of numbers are held against a plain list of them, which forgets in the same way. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { start } from '../../../src/judge/index.ts';
import {
  dropRows,
  listOf,
  newRows,
  putRow,
  type Row,
  rowsFrom,
  swept,
  turnedRows,
  upToResponse,
} from '../../../src/judge/rows.ts';
import { historyOf, newTrack } from '../../../src/judge/track.ts';
import { bookOf, idOf, underspeed } from './rig.ts';

const rowOf = (at: number, value: number, response: number): Row => ({
  earliest: at - 10,
  latest: at,
  low: value - 1,
  high: value + 1,
  response,
});

const moves = fc.array(
  fc.oneof(
    { weight: 6, arbitrary: fc.record({ value: fc.integer({ min: -9, max: 9 }), response: fc.nat(3) }) },
    { weight: 1, arbitrary: fc.record({ drop: fc.nat(20) }) },
  ),
  { maxLength: 200 },
);

/** The hull by looking at every row: those that overlap the span, and the neighbour on each side of it. */
const hullOf = (list: readonly Row[], from: number, to: number) => {
  const end = list.findIndex(({ earliest }) => earliest >= to);
  if (end < 0) return undefined;
  const before = list.filter(({ latest }) => latest <= from).length;
  const seen = list.slice(Math.max(0, Math.min(before - 1, end)), end + 1);
  return {
    low: Math.min(...seen.map(({ low }) => low)),
    high: Math.max(...seen.map(({ high }) => high)),
    openStart: before === 0,
  };
};

test('what is put and dropped in any order reads like a list', () => {
  fc.assert(
    fc.property(moves, fc.integer({ min: 0, max: 20_000 }), fc.nat(2_000), (all, from, span) => {
      const rows = newRows();
      let list: Row[] = [];
      all.forEach((move, index) => {
        if ('drop' in move) {
          const count = Math.min(move.drop, list.length);
          list = list.slice(count);
          dropRows(rows, count);
          return;
        }
        const row = rowOf(100 * (index + 1), move.value, move.response);
        list.push(row);
        putRow(rows, row);
      });
      expect(listOf(rows)).toEqual(list);
      expect(swept(rows, from, from + span)).toEqual(hullOf(list, from, from + span));
      const over = list.map((row) => ({ ...row, low: 0 - row.high, high: 0 - row.low }));
      expect(
        listOf(turnedRows(rows)).map((row) => ({ ...row, low: row.low + 0, high: row.high + 0 })),
      ).toEqual(over);
      const last = list.findLastIndex(({ response }) => response === 2);
      const upTo = list
        .slice(0, last + 1)
        .map((row, index) => (index < last ? row : { ...row, earliest: 1e9 }));
      expect(listOf(upToResponse(rows, 2, 1e9))).toEqual(last < 0 ? list : upTo);
      expect(listOf(rows)).toEqual(list);
    }),
    { seed: 6, numRuns: 2_000 },
  );
});

test('a copy that is turned or cut leaves the rows as they are', () => {
  const rows = rowsFrom([rowOf(100, 5, 1), rowOf(200, 6, 2)]);
  const before = listOf(rows);
  turnedRows(rows);
  upToResponse(rows, 1, 1e6);
  expect(listOf(rows)).toEqual(before);
});

test('history is kept of what somebody looks back at, and nobody else gets an empty one', () => {
  const book = bookOf([underspeed()]);
  const { tracks } = start(book).scene;
  const cause = tracks[idOf('speed')];
  if (cause === undefined) throw new Error('no track of the cause');
  expect(historyOf(cause).length).toBe(0);
  expect(() => historyOf(newTrack(cause.def, false))).toThrow(cause.def.name);
});
