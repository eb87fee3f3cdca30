/**
 * OPC UA items at 100 ms: values that arrive, readings made of them, lost values, share of a core. Without arguments against
 * the plant's kind of server with 500 items, in a process of its own; with an endpoint and a number against another server
 * whose variables are numbered from 1000 on in its namespace 1:
 * node tests/bench/opcua.mjs [seconds] [opc.tcp://HOST:PORT items namespace-uri]. Run on a built tree.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { createPipeline } from '../../dist/daemon/pipeline.js';
import { openOpcUa } from '../../dist/field/index.js';
import { bookOf } from './book.mjs';
import { createBenchClock, pause } from './peers.mjs';

const SECONDS = Number(process.argv[2] ?? 20);
const [, , , endpoint, wanted = '500', uri = 'urn:bench'] = process.argv;
const COUNT = Number(wanted);

const SERVER = `
import library from 'node-opcua-server';
const { OPCUAServer } = library;
const DOUBLE = 11;
const server = new OPCUAServer({ port: 0, hostname: '127.0.0.1' });
await server.initialize();
const own = server.engine.addressSpace.registerNamespace('urn:bench');
const variables = Array.from({ length: ${COUNT} }, (_, index) => own.addVariable({
  organizedBy: server.engine.addressSpace.rootFolder.objects, browseName: 'v' + index, nodeId: 'i=' + (1000 + index), dataType: 'Double' }));
let tick = 0;
setInterval(() => { tick += 7; variables.forEach((one, index) => one.setValueFromSource({ dataType: DOUBLE, value: ((tick + index) % 1000) / 10 })); }, 100);
await server.start();
console.log('ready ' + server.getEndpointUrl());
`;

let child;
const startOwn = async () => {
  child = spawn(process.execPath, ['--input-type=module', '-e', SERVER], {
    cwd: new URL('../..', import.meta.url),
  });
  child.stderr.pipe(process.stderr);
  return new Promise((resolve) => {
    createInterface({ input: child.stdout }).on('line', (line) => {
      if (line.startsWith('ready ')) resolve(line.slice(6).replace(/\/\/[^:]+:/, '//127.0.0.1:'));
    });
  });
};
const at = endpoint ?? (await startOwn());

const source = {
  protocol: 'opc-ua',
  name: 'ua',
  endpoint: at,
  access: { mode: 'none', policy: 'Basic256Sha256', user: { kind: 'anonymous' } },
  sampling: 100_000,
  publishing: 100_000,
  queue: 10,
  timeout: 5_000_000,
  scan: 0,
  clockBound: 20_000,
};
// Every third item is the speed of an under-speed stop, so that the judge has work with each.
const plain = bookOf(Math.floor(COUNT / 3));
const signals = Array.from({ length: COUNT }, (_, index) => ({
  ...(plain.signals[index] ?? plain.signals[0]),
  id: index,
  name: `v${index}`,
  source: 0,
  address: { kind: 'opc-ua', namespace: uri, id: `i=${1000 + index}` },
  quantity: 'rotational-speed',
  unit: 'rpm',
  states: [],
}));
const book = { ...plain, sources: [source], signals };
let readings = 0;
const pipeline = createPipeline(book, { read: (rows) => (readings += rows.length) });
let values = 0;
let lost = 0;
let absent = 0;
const sink = {
  answer(answer) {
    if (answer.kind === 'items') {
      for (const item of answer.items) {
        if (item.why !== undefined) absent += 1;
        else if (item.unchanged !== true) {
          values += 1;
          if ((item.status & 0x480) === 0x480) lost += 1;
        }
      }
    }
    pipeline.answer(answer);
  },
  event: (event) => console.log(event.kind, event.code, JSON.stringify(event.params)),
};
const pki = mkdtempSync(join(tmpdir(), 'tripwitness-bench-pki-'));
const open = openOpcUa(source, 0, signals, sink, createBenchClock(), { pki });
for (let waited = 0; waited < 60 && values < COUNT; waited += 1) await pause(500);
await pause(2_000);
[values, lost, absent, readings] = [0, 0, 0, 0];
const before = process.cpuUsage();
const began = performance.now();
await pause(SECONDS * 1_000);
const took = (performance.now() - began) / 1_000;
const used = process.cpuUsage(before);
console.log(
  `${COUNT} items at 100 ms for ${took.toFixed(0)} s: ${Math.round(values / took)} values/s of ${COUNT * 10}, ${lost} with the overflow bit, ` +
    `${absent} absent; ${Math.round(readings / took)} readings/s judged; ${((used.user + used.system) / took / 1e4).toFixed(1)} % of a core, ` +
    `${Math.round(process.memoryUsage().rss / 1e6)} MB`,
);
await open.stop();
child?.kill();
process.exit(0);
