/**
 * What the judge remembers for one interlock, and whether a longer window makes it more: ten readings a second of every
 * signal, 200 interlocks, three signals each. Run on a built tree: node --expose-gc tests/bench/memory.mjs. Nothing is
 * asserted.
 */
import { start, step } from '../../dist/judge/index.js';
import { newReadings } from '../../dist/measure/index.js';
import { bookOf } from './book.mjs';

const COUNT = 200;
const book = bookOf(COUNT);
const signals = book.signals.length;
const SLICE = 100;
const columns = newReadings(signals * SLICE);

const fill = (part) => {
  for (let row = 0; row < columns.length; row += 1) {
    const signal = row % signals;
    const turn = part * SLICE + Math.floor(row / signals);
    const measured = signal % 3 === 0;
    const value = measured ? 96 + ((turn * 7 + signal * 13) % 11) * 0.01 : 1;
    columns.signal[row] = signal;
    columns.low[row] = measured ? value - 0.05 : value;
    columns.high[row] = measured ? value + 0.05 : value;
    columns.latest[row] = 1e15 + turn * 100_000;
    columns.earliest[row] = columns.latest[row] - 20_000;
  }
};

const heap = () => {
  globalThis.gc?.();
  return process.memoryUsage().heapUsed;
};

const before = heap();
const state = start(book);
const stimuli = book.interlocks.map(({ id }) => ({ interlock: id, method: 'unstated' }));
step(state, { mark: { code: 'window-opened', at: 1e15 - 1, window: 'w', stimuli } });
console.log('minutes of window   kB an interlock');
let slice = 0;
for (const minutes of [1, 5, 10, 30, 60]) {
  for (; slice * SLICE < minutes * 600; slice += 1) {
    fill(slice);
    step(state, { readings: columns });
  }
  console.log(`${String(minutes).padStart(17)}${((heap() - before) / COUNT / 1e3).toFixed(0).padStart(18)}`);
}
