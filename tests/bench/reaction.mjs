/**
 * From a change at the device to the finding: a device of our own (it must know when it changed) polled each 50 ms, the
 * decoder, merge and judge behind it. Told: what comes on top of the poll period and the answer's time.
 * Run on a built tree: node tests/bench/reaction.mjs [changes].
 */
import { createServer } from 'node:net';
import { createPipeline } from '../../dist/daemon/pipeline.js';
import { openModbus } from '../../dist/field/index.js';
import { readPlan } from '../../dist/rulebook/index.js';
import { bookOf } from './book.mjs';
import { createBenchClock, modbusSource, pause, share } from './peers.mjs';

const CHANGES = Number(process.argv[2] ?? 100);
const POLL = 50_000;
const SHORT = 200_000;

const plain = bookOf(1);
/** Speed in tenths of rpm, command, feedback. */
const device = [960, 1, 1];
const server = createServer((socket) => {
  socket.setNoDelay(true);
  socket.on('error', () => undefined);
  socket.on('data', (question) => {
    const count = question.readUInt16BE(10);
    const answer = Buffer.alloc(9 + 2 * count);
    question.copy(answer, 0, 0, 8);
    answer.writeUInt16BE(3 + 2 * count, 4);
    answer[8] = 2 * count;
    for (let index = 0; index < count; index += 1)
      answer.writeUInt16BE(device[question.readUInt16BE(8) + index], 9 + 2 * index);
    socket.write(answer);
  });
});
await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));

const source = modbusSource('d', server.address().port, { poll: POLL, windowPoll: POLL });
const [rule] = plain.interlocks;
const book = {
  ...plain,
  sources: [source],
  signals: plain.signals.map((signal, at) => ({
    ...signal,
    address: { kind: 'modbus', table: 'holding', at },
    decoding: {
      as: 'number',
      type: 'uint16',
      order: 'ABCD',
      scale: at === 0 ? 0.1 : 1,
      offset: 0,
      faults: [],
    },
  })),
  interlocks: [{ ...rule, armed: { ...rule.armed, after: SHORT }, baseline: SHORT, dwell: SHORT / 2 }],
};
const clock = createBenchClock();
const pipeline = createPipeline(book);
let changedAt = 0;
let seen;
const sink = {
  answer(answer) {
    const findings = pipeline.answer(answer);
    if (changedAt === 0 || !findings.some((one) => one.kind === 'event' && one.reason.code === 'trial-began'))
      return;
    seen?.({ told: performance.now(), took: (answer.received - answer.sent) / 1_000 });
  },
  event() {},
};
const open = openModbus(book.sources, readPlan(book), book.signals, sink, clock);
await pause(1_000);
pipeline.mark({
  code: 'window-opened',
  at: clock.now(),
  window: 'w',
  stimuli: [{ interlock: 0, method: 'injected' }],
});

const beyond = [];
for (let change = 0; change < CHANGES; change += 1) {
  await pause(700 + 53 * Math.random());
  const told = new Promise((resolve) => {
    seen = resolve;
  });
  changedAt = performance.now();
  device[0] = 780;
  const { told: at, took } = await told;
  beyond.push(at - changedAt - POLL / 1_000 - took);
  changedAt = 0;
  device[0] = 960;
}
for (const one of open.values()) await one.stop();
server.close();
console.log(
  `${CHANGES} changes, polled each ${POLL / 1_000} ms; finding on top of poll period and answer time: ` +
    `p50 ${share(beyond, 0.5).toFixed(1)}, p99 ${share(beyond, 0.99).toFixed(1)}, most ${share(beyond, 1).toFixed(1)} ms`,
);
