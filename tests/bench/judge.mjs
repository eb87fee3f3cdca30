/**
 * Readings per second that the judge takes on one core, beside a plain loop over the same columns as reference.
 * Run on a built tree: node tests/bench/judge.mjs. Figures are for reading, nothing is asserted.
 */
import { start, step } from '../../dist/judge/index.js';
import { newReadings } from '../../dist/measure/index.js';
import { bookOf } from './book.mjs';

/** Ten readings a second of every signal; all machines run at normal with noise. */
const columnsOf = (book, seconds) => {
  const count = book.signals.length;
  const length = count * seconds * 10;
  const columns = newReadings(length);
  let state = 1;
  for (let row = 0; row < length; row += 1) {
    const signal = row % count;
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    const value = signal % 3 === 0 ? 96 + (state / 2_147_483_648 - 0.5) * 0.2 : 1;
    columns.signal[row] = signal;
    columns.low[row] = signal % 3 === 0 ? value - 0.05 : value;
    columns.high[row] = signal % 3 === 0 ? value + 0.05 : value;
    columns.latest[row] = 1e15 + Math.floor(row / count) * 100_000;
    columns.earliest[row] = columns.latest[row] - 20_000;
  }
  return columns;
};

const timed = (work) => {
  const begun = process.hrtime.bigint();
  work();
  return Number(process.hrtime.bigint() - begun) / 1e9;
};

const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

console.log('interlocks  readings   judge, M readings/s   plain loop, M readings/s   heap after, MB');
for (const count of [10, 200, 2_000]) {
  const book = bookOf(count);
  const columns = columnsOf(book, { 10: 1_200, 200: 60, 2000: 30 }[count]);
  const runs = [];
  const loops = [];
  for (let run = 0; run < 3; run += 1) {
    const state = start(book);
    step(state, {
      mark: {
        code: 'window-opened',
        at: 1e15 - 1,
        window: 'w',
        stimuli: book.interlocks.map((one) => ({ interlock: one.id, method: 'unstated' })),
      },
    });
    runs.push(columns.length / timed(() => step(state, { readings: columns })) / 1e6);
    loops.push(
      columns.length /
        timed(() => {
          let sum = 0;
          for (let row = 0; row < columns.length; row += 1) sum += columns.low[row] + columns.signal[row];
          if (sum === 0) throw new Error('nothing was read');
        }) /
        1e6,
    );
  }
  const heap = process.memoryUsage().heapUsed / 1e6;
  console.log(
    `${String(count).padStart(10)}${String(columns.length).padStart(10)}${median(runs).toFixed(3).padStart(22)}${median(loops).toFixed(0).padStart(27)}${heap.toFixed(0).padStart(17)}`,
  );
}
