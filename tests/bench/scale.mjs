/**
 * 5,000 tags on 20 devices at 100 ms, decoded: every cycle met, how late the slots begin, share of a core; idle, and with
 * the other core busy. The devices are 20 libmodbus servers. Run on a built tree: node tests/bench/scale.mjs [seconds].
 */
import { openModbus } from '../../dist/field/index.js';
import { newReadings } from '../../dist/measure/index.js';
import { createDecoder, planReads } from '../../dist/signal/index.js';
import { busyCore, createBenchClock, modbusSource, pause, registers, share, startServer } from './peers.mjs';

const SECONDS = Number(process.argv[2] ?? 20);
const DEVICES = 20;
const TAGS = 250;
const PERIOD = 100_000;

const servers = await Promise.all(Array.from({ length: DEVICES }, () => startServer()));
const sources = servers.map(({ port }, index) => modbusSource(`d${index}`, port));
const signals = sources.flatMap((_, index) => registers(index, TAGS, index * TAGS));
const plan = planReads(signals, sources, []);

const run = async (name) => {
  const clock = createBenchClock();
  const decoder = createDecoder(signals, sources, plan);
  const fresh = newReadings(0);
  // Slots of a request lie on a grid: how far each question left behind its own, from the earliest seen of them all.
  const sent = new Map();
  let answers = 0;
  let nothings = 0;
  let readings = 0;
  let counting = false;
  const sink = {
    answer(answer) {
      fresh.length = 0;
      decoder.decode(answer, fresh);
      readings += fresh.length;
      if (!counting) return;
      if (answer.kind !== 'words') nothings += 1;
      else {
        answers += 1;
        const own = sent.get(answer.request) ?? [];
        own.push(answer.sent);
        sent.set(answer.request, own);
      }
    },
    event() {},
  };
  const open = openModbus(sources, plan, signals, sink, clock);
  await pause(2_000);
  counting = true;
  readings = 0;
  const before = process.cpuUsage();
  const began = performance.now();
  await pause(SECONDS * 1_000);
  const used = process.cpuUsage(before);
  const took = (performance.now() - began) / 1_000;
  counting = false;
  const overruns = [...open.values()].reduce((sum, one) => sum + one.stats().overruns, 0);
  await Promise.all([...open.values()].map((one) => one.stop()));
  const late = [...sent.values()].flatMap((times) => {
    const phases = times.map((at) => at % PERIOD);
    // The phase may lie around 0: turn it so that it does not.
    const turned = phases.map((phase) => (phase - phases[0] + 1.5 * PERIOD) % PERIOD);
    const first = Math.min(...turned);
    return turned.map((phase) => (phase - first) / 1_000);
  });
  const expected = (plan.requests.length * took * 1e6) / PERIOD;
  console.log(
    `${name}: ${answers} answers of ${Math.round(expected)} due, ${nothings} without, ${overruns} slots missed; ` +
      `late p50 ${share(late, 0.5).toFixed(2)}, p99 ${share(late, 0.99).toFixed(2)}, most ${share(late, 1).toFixed(2)} ms; ` +
      `${((used.user + used.system) / took / 1e4).toFixed(1)} % of a core; ${Math.round(readings / took)} readings/s`,
  );
};

console.log(
  `${DEVICES * TAGS} tags on ${DEVICES} devices, ${plan.requests.length} requests each ${PERIOD / 1_000} ms, ${SECONDS} s each`,
);
await run('idle');
const stop = busyCore();
await run('one other core busy');
stop();
for (const server of servers) server.stop();
process.exit(0);
