/**
 * 24 hours of running, simulated: the demo's controller answers each 50 ms, a test window of a few minutes each hour, through
 * the daemon's decoder, merge and judge. Told each two hours: heap after a collection. Run on a built tree:
 * node --expose-gc tests/bench/day.mjs [hours].
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { filesWanted, readSite } from '../../dist/config/index.js';
import { createPipeline } from '../../dist/daemon/pipeline.js';
import { createWatch } from '../../dist/daemon/watch.js';
import { readPlan } from '../../dist/rulebook/index.js';

const HOURS = Number(process.argv[2] ?? 24);
const STEP = 50_000;
const main = fileURLToPath(new URL('../../config/demo-site.yaml', import.meta.url));
const text = readFileSync(main, 'utf8');
const files = new Map([
  [main, text],
  ...filesWanted(text, main).map((path) => [path, readFileSync(path, 'utf8')]),
]);
const read = readSite(files, main);
if (!('book' in read)) throw new Error('the demo site has faults');
// The leg alone: the belt's server would have to be simulated too.
const { book } = read;
const plan = readPlan(book);
const own = plan.requests.flatMap((request, index) => (request.source === 0 ? [{ request, index }] : []));

let demands = 0;
const watch = createWatch(book, { demand: () => (demands += 1), contradiction: () => undefined });
let window;
let findings = 0;

/** Registers of the leg running; once an hour the alignment switch is displaced for ten seconds and the leg stops. */
const wordsAt = (t, count, at) => {
  const second = (t / 1_000_000) % 3_600;
  const displaced = second > 600 && second < 610;
  const stopped = second > 601 && second < 640;
  const noise = Math.floor(t / STEP) % 3;
  const all = new Array(16).fill(0);
  all[0] = stopped ? 0 : 959 + noise;
  all[1] = stopped ? 0 : 960;
  all[2] = 400 + noise;
  all[3] = 960;
  all[4] = Math.floor(t / 1_000_000) % 65_536;
  all[5] = 7;
  all[9] = (stopped ? 4 : 3) + (displaced ? 0b1010_0000 : 0);
  all[10] = stopped ? 0 : 3;
  all[12] = stopped ? 0 : 200;
  return all.slice(at, at + count);
};

const used = () => {
  globalThis.gc?.();
  return process.memoryUsage().heapUsed / 1e6;
};

const began = performance.now();
let readings = 0;
const from = 1.7e15;
for (let n = 0; n < (HOURS * 3_600e6) / STEP; n += 1) {
  const t = n * STEP;
  const second = (t / 1_000_000) % 3_600;
  for (const { request, index } of own) {
    const { count, at } = request;
    const answer = {
      kind: 'words',
      source: 0,
      request: index,
      sent: from + t,
      received: from + t + 2_000,
      words: wordsAt(t, count, at),
    };
    watch.answer(answer);
    if (window !== undefined) findings += window.answer(answer).length;
    readings += request.signals.length;
  }
  if (second === 590) {
    const interlock = book.interlocks.findIndex(({ name }) => name === 'E1.misalignment-stop');
    window = createPipeline(book);
    window.mark({
      code: 'window-opened',
      at: from + t,
      window: 'w',
      stimuli: [{ interlock, method: 'displaced' }],
    });
  }
  if (second === 700) {
    findings += window.mark({ code: 'window-closed', at: from + t + 3_000 }).length;
    window = undefined;
  }
  if (t % 7_200e6 === 0) console.log(`${String(t / 3_600e6).padStart(3)} h  heap ${used().toFixed(1)} MB`);
}
const seconds = (performance.now() - began) / 1_000;
console.log(
  `${String(HOURS).padStart(3)} h  heap ${used().toFixed(1)} MB; ${readings} readings in ${seconds.toFixed(0)} s, ${demands} demands looked at, ${findings} findings in windows`,
);
