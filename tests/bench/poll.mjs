/**
 * Cost of polling 500 tags at 100 ms from a libmodbus server: CPU share, lateness of the grid; beside it libmodbus's own
 * C client reading the same registers at the same rate. Run on a built tree, as root or not, where gcc and libmodbus are:
 * node tests/bench/poll.mjs. Figures are for reading, nothing is asserted.
 */
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { openModbus } from '../../dist/field/index.js';
import { createDecoder, planReads } from '../../dist/signal/index.js';

const SECONDS = 20;
const folder = mkdtempSync(join(tmpdir(), 'tripwitness-bench-'));
const compile = (file, name) => {
  const out = join(folder, name);
  const built = spawnSync('gcc', ['-O2', '-o', out, file, '-I/usr/include/modbus', '-lmodbus'], {
    encoding: 'utf8',
  });
  if (built.status !== 0) throw new Error(built.stderr);
  return out;
};
const clientSource = join(folder, 'client.c');
writeFileSync(
  clientSource,
  `#include <modbus/modbus.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <time.h>
int main(int count, char **words) {
  modbus_t *context = modbus_new_tcp("127.0.0.1", atoi(words[1]));
  uint16_t registers[125];
  int slots = atoi(words[2]) * 10, slot, part;
  struct timespec due;
  struct rusage used;
  if (count < 3 || modbus_connect(context) != 0) return 1;
  clock_gettime(CLOCK_MONOTONIC, &due);
  for (slot = 0; slot < slots; slot += 1) {
    for (part = 0; part < 4; part += 1) if (modbus_read_registers(context, part * 125, 125, registers) != 125) return 1;
    due.tv_nsec += 100000000;
    if (due.tv_nsec >= 1000000000) { due.tv_sec += 1; due.tv_nsec -= 1000000000; }
    clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &due, NULL);
  }
  getrusage(RUSAGE_SELF, &used);
  printf("%f\\n", used.ru_utime.tv_sec + used.ru_stime.tv_sec + (used.ru_utime.tv_usec + used.ru_stime.tv_usec) / 1e6);
  return 0;
}
`,
);
const server = spawn(
  compile(fileURLToPath(new URL('../servers/libmodbus-server.c', import.meta.url)), 'server'),
);
const port = await new Promise((resolve) =>
  createInterface({ input: server.stdout }).once('line', (line) => resolve(Number(line))),
);

const signals = Array.from({ length: 500 }, (_, index) => ({
  id: index,
  name: `s${index}`,
  source: 0,
  address: { kind: 'modbus', table: 'holding', at: index },
  decoding: { as: 'number', type: 'uint16', order: 'ABCD', scale: 1, offset: 0, faults: [] },
  quantity: 'count',
  unit: 'count',
  states: [],
  resolution: 1,
  accuracy: 0,
  age: 0,
  agedAfter: 1e6,
}));
const source = {
  protocol: 'modbus',
  name: 'bench',
  line: { kind: 'tcp', host: '127.0.0.1', port },
  unit: 1,
  poll: 100_000,
  windowPoll: 100_000,
  slowPoll: 1_000_000,
  inFlight: 1,
  pause: 0,
  connection: 'shared',
  timeout: 1_000_000,
  scan: 0,
  scanConsistent: true,
  maxRegisters: 125,
  maxBits: 2_000,
  maxGap: 0,
};
const plan = planReads(signals, [source], []);
const decoder = createDecoder(signals, [source], plan);
const wall = process.hrtime.bigint();
const clock = { now: () => 1e15 + Number((process.hrtime.bigint() - wall) / 1000n) };
const late = [];
let readings = 0;
let open;
const sink = {
  answer(answer) {
    readings += decoder.feed(answer).length;
    if (answer.request === 0 && open) late.push(open.stats().lateness / 1000);
  },
  event() {},
};
const before = process.cpuUsage();
open = openModbus([source], plan, signals, sink, clock).get(0);
await new Promise((resolve) => setTimeout(resolve, SECONDS * 1000));
const used = process.cpuUsage(before);
const { overruns } = open.stats();
await open.stop();

const client = compile(clientSource, 'client');
const c = spawnSync(client, [String(port), String(SECONDS)], { encoding: 'utf8' });
server.kill();

const sorted = late.sort((a, b) => a - b);
const at = (share) =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]?.toFixed(2) ?? '-';
console.log(
  `500 registers at 100 ms in ${plan.requests.length} requests, ${SECONDS} s, libmodbus server on loopback`,
);
console.log(
  `ours       ${(((used.user + used.system) / 1e6 / SECONDS) * 100).toFixed(2)} % of a core, with ${Math.round(readings / SECONDS)} readings/s decoded; ${overruns} slots missed`,
);
console.log(`           slot begins late by p50 ${at(0.5)} ms, p99 ${at(0.99)} ms, most ${at(1)} ms`);
console.log(
  `libmodbus  ${((Number(c.stdout) / SECONDS) * 100).toFixed(2)} % of a core (its C client, same requests, nothing decoded)`,
);
