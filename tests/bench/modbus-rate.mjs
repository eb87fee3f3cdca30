/**
 * Questions a second over one connection, 125 registers each, from a libmodbus server: ours with one and with eight
 * questions on their way, beside libmodbus's own C client, turn by turn. Then the same with a device that takes 2 ms.
 * Run on a built tree where gcc and libmodbus are: node tests/bench/modbus-rate.mjs. Nothing is asserted.
 */
import { spawnSync } from 'node:child_process';
import { linkModbus } from '../../dist/field/modbus/link.js';
import { compileText, createBenchClock, median, startServer } from './peers.mjs';

const SECONDS = Number(process.argv[2] ?? 2);
const TURNS = 5;

const client = compileText(
  `#include <modbus/modbus.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
static double now(void) { struct timespec t; clock_gettime(CLOCK_MONOTONIC, &t); return t.tv_sec + t.tv_nsec / 1e9; }
int main(int count, char **words) {
  modbus_t *context = modbus_new_tcp("127.0.0.1", atoi(words[1]));
  uint16_t registers[125];
  double end;
  long asked = 0;
  if (count < 3 || modbus_connect(context) != 0) return 1;
  end = now() + atof(words[2]);
  while (now() < end) { if (modbus_read_registers(context, 0, 125, registers) != 125) return 1; asked += 1; }
  printf("%ld\\n", asked);
  modbus_close(context);
  return 0;
}
`,
  'rate',
);

const clock = createBenchClock();

/** As many questions as `inFlight` allows, all the time; each answer is checked as always. */
const ours = async (port, inFlight) => {
  const line = { kind: 'tcp', host: '127.0.0.1', port };
  let asked = 0;
  let ending = false;
  let fill = () => undefined;
  const ears = {
    room: () => fill(),
    ended: (foul) => {
      if (!ending) throw new Error(foul.code);
    },
  };
  const link = await linkModbus({ line, deadline: 1_000, inFlight, pause: 0 }, clock, ears).link;
  if ('code' in link) throw new Error(link.code);
  const question = { unit: 1, table: 'holding', at: 0, count: 125, timeout: 1_000 };
  const done = (got) => {
    if (ending) return;
    if (got.words?.[124] !== 1_124) throw new Error(JSON.stringify(got));
    asked += 1;
    fill();
  };
  fill = () => {
    if (ending) return;
    link.together(() => {
      while (link.room()) link.ask(question, done);
    });
  };
  const began = performance.now();
  fill();
  await new Promise((resolve) => setTimeout(resolve, SECONDS * 1_000));
  ending = true;
  const rate = asked / ((performance.now() - began) / 1_000);
  await link.destroy();
  return rate;
};

const theirs = (port) => {
  const run = spawnSync(client, [String(port), String(SECONDS)], { encoding: 'utf8' });
  if (run.status !== 0) throw new Error('the C client failed');
  return Number(run.stdout) / SECONDS;
};

for (const [name, thinks, flights] of [
  ['no think time', 0, [1, 8]],
  ['device takes 2 ms', 2_000, [1]],
]) {
  const server = await startServer(thinks);
  const rates = { libmodbus: [] };
  for (let turn = 0; turn < TURNS; turn += 1) {
    rates.libmodbus.push(theirs(server.port));
    for (const inFlight of flights) {
      const who = `ours, ${inFlight} in flight`;
      rates[who] = [...(rates[who] ?? []), await ours(server.port, inFlight)];
    }
  }
  server.stop();
  const reference = median(rates.libmodbus);
  console.log(`${name}, 125 registers, median of ${TURNS} turns of ${SECONDS} s`);
  for (const [who, all] of Object.entries(rates))
    console.log(
      `  ${who.padEnd(20)} ${Math.round(median(all)).toString().padStart(7)} questions/s  ${(median(all) / reference).toFixed(2)} of libmodbus`,
    );
}
