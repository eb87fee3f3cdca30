/**
 * How long it takes to judge a stored hour again: 500 signals at 10 readings a second (4 devices, 125 registers an
 * answer), decoded, merged and judged for 200 interlocks; beside it, as reference, the same answers decoded into plain
 * numbers by a bare loop. Run on a built tree: node tests/bench/rejudge.mjs [minutes]. Nothing is asserted.
 */
import { createPipeline } from '../../dist/daemon/pipeline.js';
import { bookOf, onDevices } from './book.mjs';

const minutes = Number(process.argv[2] ?? '60');
const DEVICES = 4;
const REGISTERS = 125;

const plain = bookOf(200);
const signals = plain.signals.slice(0, DEVICES * REGISTERS);
const book = onDevices({ ...plain, signals }, DEVICES, REGISTERS);
const count = book.signals.length;
const interlocks = book.interlocks.filter(
  ({ cause, effects, armed }) =>
    cause.signal < count && effects[0].signal < count && armed.when[0].signal < count,
);
const used = { ...book, interlocks, machines: book.machines };

const upTo = (length) => [...Array(length).keys()];
const words = upTo(16).map((turn) =>
  upTo(DEVICES).map((device) =>
    upTo(REGISTERS).map((at) =>
      used.signals[device * REGISTERS + at].unit === '' ? 1 : 960 + ((turn * 7 + at * 13) % 3) - 1,
    ),
  ),
);

const answerAt = (index) => {
  const turn = Math.floor(index / DEVICES);
  const device = index % DEVICES;
  const received = 1e15 + turn * 100_000 + device * 5_000;
  return {
    kind: 'words',
    source: device,
    request: device,
    sent: received - 2_000,
    received,
    words: words[turn % 16][device],
  };
};

const answers = minutes * 600 * DEVICES;
const readings = answers * REGISTERS;
const timed = (work) => {
  const begun = process.hrtime.bigint();
  const cpu = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(cpu);
  return { wall: Number(process.hrtime.bigint() - begun) / 1e9, cpu: (user + system) / 1e6 };
};

const pipeline = createPipeline(used);
pipeline.mark({
  code: 'window-opened',
  at: 1e15 - 1,
  window: 'w',
  stimuli: interlocks.map(({ id }) => ({ interlock: id, method: 'unstated' })),
});
let findings = 0;
const judged = timed(() => {
  for (let index = 0; index < answers; index += 1) findings += pipeline.answer(answerAt(index)).length;
});
let sum = 0;
const bare = timed(() => {
  for (let index = 0; index < answers; index += 1)
    for (const word of answerAt(index).words) sum += word * 0.1;
});
if (sum === 0) throw new Error('nothing was read');
const show = (name, { wall, cpu }) =>
  console.log(
    `${name.padEnd(22)}${wall.toFixed(2).padStart(9)} s${cpu.toFixed(2).padStart(9)} s of a core${(readings / wall / 1e6).toFixed(3).padStart(9)} M readings/s`,
  );
console.log(
  `${minutes} minutes, ${readings} readings, ${interlocks.length} interlocks, ${findings} findings, heap ${(process.memoryUsage().heapUsed / 1e6).toFixed(0)} MB`,
);
show('decoded and judged', judged);
show('bare loop', bare);
