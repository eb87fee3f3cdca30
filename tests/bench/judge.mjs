/**
 * Readings per second that the judge takes on one core, beside a plain loop over the same columns as reference.
 * Run on a built tree: node tests/bench/judge.mjs. Figures are for reading, nothing is asserted.
 */
import { start, step } from '../../dist/judge/index.js';
import { newReadings } from '../../dist/measure/index.js';

const S = 1_000_000;

const bookOf = (count) => {
  const signals = [];
  const interlocks = [];
  const machines = [];
  const add = (name, states, unit) => {
    const id = signals.length;
    signals.push({
      id,
      name,
      source: 0,
      address: { kind: 'trace' },
      decoding: { as: 'value', scale: 1, offset: 0, inverted: false },
      quantity: unit ? 'rotational-speed' : 'state',
      unit,
      states,
      resolution: 0.1,
      accuracy: 0,
      age: 0,
      agedAfter: 2 * S,
    });
    return id;
  };
  for (let index = 0; index < count; index += 1) {
    const [speed, run, running] = [
      add(`M${index}.speed`, [], 'rpm'),
      add(`M${index}.run`, ['stop', 'run'], ''),
      add(`M${index}.running`, ['stopped', 'running'], ''),
    ];
    machines.push({
      index,
      name: `M${index}`,
      title: '',
      kind: '',
      roles: {},
      normals: [{ signal: speed, from: { kind: 'declared', value: { low: 96, high: 96 } }, allowance: 0.05 }],
      stops: [],
      resets: [],
      starts: [],
      bypasses: [],
      forces: [],
      tripped: [],
      running: [],
      outputs: [run],
      feeds: [],
    });
    const of = (factor) => ({ of: 'normal', factor, offset: 0 });
    interlocks.push({
      id: index,
      name: `M${index}.stop`,
      machine: index,
      hazard: '',
      title: '',
      cause: {
        kind: 'level',
        signal: speed,
        side: 'below',
        setPoint: of(0.82),
        tolerance: of(0.015),
        clears: of(0.85),
      },
      delay: { time: S, tolerance: 0.2 * S, onReturn: 'resets' },
      armed: { when: [{ signal: running, state: 1 }], after: 2 * S },
      effects: [
        {
          name: 'run',
          signal: run,
          becomes: { kind: 'state', state: 0 },
          class: 'command',
          within: 1.5 * S,
          notBefore: 0,
          after: [],
          until: 'unstated',
          cascade: false,
        },
      ],
      baseline: 2 * S,
      dwell: S,
    });
  }
  return {
    site: 'bench',
    title: '',
    sources: [{ protocol: 'trace', name: 't', scan: 0, scanConsistent: false }],
    signals,
    machines,
    interlocks,
  };
};

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
for (const count of [10, 200]) {
  const book = bookOf(count);
  const columns = columnsOf(book, count === 10 ? 600 : 60);
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
