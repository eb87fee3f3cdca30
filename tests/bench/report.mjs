/**
 * A report page of 1,000 interlocks, from the log to the file: a window in which every one was tried,
 * with its evidence. Run on a built tree: node tests/bench/report.mjs [interlocks]. Nothing is asserted.
 */
import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { auditBundle, bundleOf, pageOf } from '../../dist/daemon/index.js';
import { createLogbook } from '../../dist/daemon/logbook.js';
import { createAnswerTimes } from '../../dist/daemon/planning.js';
import { openWindow } from '../../dist/daemon/window-run.js';
import { bundleText, canonicalText, plain, utf8 } from '../../dist/record/index.js';
import { createLog, readLog, sha256 } from '../../dist/store/index.js';
import { bookOf, onDevices } from './book.mjs';

const S = 1_000_000;
const count = Number(process.argv[2] ?? '1000');
const PER_DEVICE = 40;
const devices = Math.ceil(count / PER_DEVICE);
const FROM = 1_700_000_000 * S;
const SECONDS = 240;
const PER_SECOND = 4;

const book = onDevices(bookOf(count), devices, 3 * PER_DEVICE);

/** Speed in tenths of rpm, and whether it runs: the machines of a device are tried one after another, each by a step. */
const at = (seconds, machine) => {
  const t = seconds - 6 - (machine % PER_DEVICE) * 5.5;
  if (t <= 0 || t > 3.5) return [960, 1];
  return [700, t < 1.05 ? 1 : 0];
};

function* answers() {
  for (let tick = 0; tick < SECONDS * PER_SECOND; tick += 1)
    for (let device = 0; device < devices; device += 1) {
      const sent = FROM + (tick * S) / PER_SECOND + device * 200;
      const machines = Math.min(PER_DEVICE, count - device * PER_DEVICE);
      const words = [];
      for (let index = 0; index < machines; index += 1) {
        const [speed, runs] = at(tick / PER_SECOND, device * PER_DEVICE + index);
        words.push(speed, runs, 1);
      }
      yield { kind: 'words', source: device, request: device, sent, received: sent + 2_000, words };
    }
}

const folder = mkdtempSync(join(tmpdir(), 'tripwitness-bench-'));
const path = join(folder, 'log.db');
let now = FROM;
const clock = { now: () => now, monotonic: () => now - FROM };
const entry = {
  version: 1,
  subject: 'bench',
  actor: 'daemon',
  utc: '2023-11-14T22:13:20.000000Z',
  monotonic: 0,
  boot: 'b',
};
const log = await createLog(path, { ...entry, kind: 'genesis', body: { log: 'bench', site: 'bench' } });
const logbook = createLogbook(log, clock, 'b', (error) => {
  throw error;
});
const hash = sha256(utf8(canonicalText(plain(book))));
logbook.enter('book', 'bench', 'daemon', { hash, book });
const stimuli = book.interlocks.map(({ id }) => ({ interlock: id, method: 'injected' }));
const about = { book: hash, engine: 0, tool: 'bench', people: [{ name: 'one', role: 'sensor' }], note: '' };
const times = createAnswerTimes(devices);
const opening = { id: 'w', at: FROM, stimuli, by: { name: 'one' }, about, before: [], times };
const run = openWindow(book, logbook, opening, () => undefined);
for (const answer of answers()) {
  now = answer.received;
  run.answer(answer, []);
  if (answer.source === devices - 1) run.enter();
}
run.close(now + 1, { name: 'one' });
await logbook.close();

const timed = (name, work) => {
  const begun = performance.now();
  const cpu = process.cpuUsage();
  const result = work();
  const { user, system } = process.cpuUsage(cpu);
  const wall = (performance.now() - begun) / 1_000;
  console.log(
    `${name.padEnd(30)}${wall.toFixed(1).padStart(7)} s${((user + system) / 1e6).toFixed(1).padStart(7)} s of a core`,
  );
  return result;
};
const size = (text) => `${(Buffer.byteLength(text) / 1e6).toFixed(1)} MB`;

const reader = readLog(path);
const entries = reader.parsed();
const verdicts = entries.filter(({ kind }) => kind === 'verdict').map(({ body }) => body.finding.verdict);
const outcomes = ['pass', 'fail', 'inconclusive', 'not-tested'].map((outcome) => [
  outcome,
  verdicts.filter((one) => one.outcome === outcome),
]);
console.log(
  `${count} interlocks, ${verdicts.reduce((sum, one) => sum + one.trials.length, 0)} trials, ${SECONDS} s of ${book.signals.length} signals at ${PER_SECOND} a second; log ${(statSync(path).size / 1e6).toFixed(1)} MB; ${outcomes.map(([outcome, all]) => `${all.length} ${outcome}`).join(', ')}`,
);
const page = timed('page, from log to text', () => pageOf(path, { windows: ['w'] }));
const bundle = timed('bundle', () => bundleText(bundleOf(reader, entries, ['w'])));
reader.close();
const audited = timed('bundle, audited, judged again', () => auditBundle(bundle));
console.log(`page ${size(page)}, bundle ${size(bundle)}, ${audited.damage.length} damages`);
if (process.argv[3] !== undefined) writeFileSync(process.argv[3], page);
rmSync(folder, { recursive: true, force: true });
