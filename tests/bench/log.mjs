/**
 * The log's speed and size, from the compiled files: `npm run build && node tests/bench/log.mjs`.
 * Appends a second at several batch sizes, each acknowledged after it is on the disk; bytes a sample of typical traces
 * against the same as JSON, both plain and packed with gzip; and a year of a site with 500 tags and a window of ten minutes
 * a day, made through the writer as the daemon does it: how long it takes to open, audit and list it. `DAYS=30` makes less.
 */
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { gzipSync } from 'node:zlib';
import { decodeAnswers, encodeAnswers } from '../../dist/record/index.js';
import { auditFile, createLog, openLog, readLog, sha256 } from '../../dist/store/index.js';

const folder = mkdtempSync(join(tmpdir(), 'log-bench-'));
const draft = (kind, body) => ({
  version: 1,
  kind,
  subject: 'w-1',
  actor: 'daemon',
  utc: '2026-11-25T09:30:00.000000Z',
  monotonic: 1,
  boot: 'b-1',
  body,
});

/** A sequence of numbers that look like noise and are the same each time. */
const noise = (seed) => {
  let state = seed;
  return () => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return state / 2_147_483_648;
  };
};

/** The same signals over Modbus as a site has them: what moves at each poll of 32 registers, out of how many. */
const SITES = { 'at rest': 0, 'typical, 12 of 32 move': 12, 'all of 32 move': 32 };

/** Polls of one request, `every` seconds; the same seed gives the same noise. */
const traceOf = (polls, moving, { seed = 7, every = 0.1 } = {}) => {
  const next = noise(seed);
  const words = Array.from({ length: 32 }, (_, index) => 500 + index * 31);
  return Array.from({ length: polls }, (_, poll) => {
    for (let index = 0; index < moving; index += 1) words[index] += Math.round(next() * 6 - 3);
    const sent = 1_764_063_000_000_000 + poll * every * 1_000_000 + Math.floor(next() * 900);
    const received = sent + 1_200 + Math.floor(next() * 800);
    return { kind: 'words', source: 0, request: 0, sent, received, words: [...words] };
  });
};

/** Blocks of two seconds, as the daemon enters them, and longer ones. */
const sizes = () => {
  console.log('bytes a sample, blocks of 2 s and of 10 s, beside raw JSON and gzip of that JSON:');
  for (const [name, moving] of Object.entries(SITES))
    for (const length of [2, 10]) {
      const answers = traceOf(length * 10, moving);
      const samples = answers.length * 32;
      const json = Buffer.from(JSON.stringify(answers));
      const a = (size) => (size / samples).toFixed(2);
      console.log(
        `  ${name}, ${length} s: block ${a(encodeAnswers(answers).length)}, JSON ${a(json.length)}, ` +
          `JSON + gzip ${a(gzipSync(json).length)}`,
      );
    }
};

const timed = (work) => {
  const start = performance.now();
  const result = work();
  return [result, ((performance.now() - start) / 1_000).toFixed(1)];
};

/**
 * 500 tags in 16 requests: that of the machine under test each 100 ms, the others each second. Ten minutes of window a day, two
 * seconds of answers in each batch.
 */
const year = async (days) => {
  const path = join(folder, 'year.db');
  const log = await createLog(path, draft('genesis', { log: 'l-1', site: 'saltmarsh-mill' }));
  const book = {
    interlocks: Array.from({ length: 160 }, (_, index) => ({ name: `E${index}`, text: 'x'.repeat(900) })),
  };
  await log.append({ entries: [draft('book', { hash: '0'.repeat(64), book })], blocks: [] });
  let samples = 0;
  let batches = 0;
  const about = (subject, kind, body) => ({ ...draft(kind, body), subject });
  const written = performance.now();
  for (let day = 0; day < days; day += 1) {
    const id = `w-${day}`;
    await log.append({
      entries: [about(id, 'window-opened', { stimuli: [], book: '0'.repeat(64), engine: 1 })],
      blocks: [],
    });
    for (let second = 0; second < 600; second += 2) {
      const answers = Array.from({ length: 16 }, (_, request) =>
        traceOf(request === 0 ? 20 : 2, 12, {
          seed: day * 600 + second + request,
          every: request === 0 ? 0.1 : 1,
        }).map((answer) => ({ ...answer, request })),
      ).flat();
      const bytes = encodeAnswers(answers);
      samples += answers.length * 32;
      const trace = {
        encoding: 'tw-answers-2',
        block: sha256(bytes),
        count: answers.length,
        first: second * 160,
      };
      const finding = { finding: { trial: second, code: 'waits', params: { from: second, to: second + 1 } } };
      batches += 1;
      await log.append({
        entries: [about(id, 'trace', trace), ...(second % 10 === 0 ? [about(id, 'finding', finding)] : [])],
        blocks: [bytes],
        seal: batches % 64 === 0,
      });
    }
    await log.append({ entries: [about(id, 'verdict', {}), about(id, 'window-closed', {})], blocks: [] });
  }
  await log.close();
  const made = ((performance.now() - written) / 1_000).toFixed(0);
  const size = statSync(path).size;
  console.log(
    `${days} days, a window of ten minutes each: ${(size / 1e6).toFixed(0)} MB in ${made} s, ` +
      `${(size / samples).toFixed(2)} bytes a sample with everything around it`,
  );
  const start = performance.now();
  const again = await openLog(path);
  console.log(`  opened for writing in ${((performance.now() - start) / 1_000).toFixed(1)} s`);
  await again.close();
  const [{ entries, damage }, audited] = timed(() => auditFile(path, { keys: join(folder, 'keys') }));
  console.log(`  audited in ${audited} s: ${entries} entries, damage ${damage.length}`);
  const reader = readLog(path);
  const [listed, took] = timed(() => reader.entriesOf({ kind: 'window-opened' }).length);
  console.log(`  ${listed} windows listed in ${took} s`);
  const [one, found] = timed(() => reader.entriesOf({ window: `w-${days - 1}` }).length);
  console.log(`  ${one} entries of one window found in ${found} s`);
  const [all, parsed] = timed(() => reader.parsed().length);
  console.log(`  all ${all} entries read in ${parsed} s`);
  reader.close();
};

const blockSize = () => {
  const answers = traceOf(100, 12);
  const samples = answers.length * 32;
  const start = performance.now();
  let bytes = encodeAnswers(answers);
  for (let round = 1; round < 200; round += 1) bytes = encodeAnswers(answers);
  const encoded = performance.now();
  for (let round = 0; round < 200; round += 1) decodeAnswers(bytes);
  const decoded = performance.now();
  const json = Buffer.from(JSON.stringify(answers));
  const a = (size) => (size / samples).toFixed(2);
  console.log(`trace block: ${samples} samples, 12 of 32 registers changing at each poll; bytes a sample:`);
  console.log(`  block ${a(bytes.length)}, block + gzip ${a(gzipSync(bytes).length)}`);
  console.log(`  JSON ${a(json.length)}, JSON + gzip ${a(gzipSync(json).length)}`);
  const changed = answers.length * 12;
  console.log(`  at most ${(bytes.length / changed).toFixed(2)} bytes a changed register, times included`);
  const rate = (ms) => `${((samples * 200) / ms / 1_000).toFixed(1)} M samples/s`;
  console.log(`  encode ${rate(encoded - start)}, decode ${rate(decoded - encoded)}`);
};

const appends = async (batch, count) => {
  const path = join(folder, `log-${batch}.db`);
  const log = await createLog(path, draft('genesis', { log: `l-${batch}`, site: 's' }));
  const entries = Array.from({ length: batch }, (_, index) =>
    draft('finding', { finding: { trial: index, code: 'waits' } }),
  );
  const times = [];
  const start = performance.now();
  for (let round = 0; round < count; round += 1) {
    const before = performance.now();
    await log.append({ entries, blocks: [] });
    times.push(performance.now() - before);
  }
  const took = performance.now() - start;
  await log.close();
  times.sort((a, b) => a - b);
  const at = (part) => times[Math.floor(part * (times.length - 1))].toFixed(2);
  const audited = performance.now();
  const { entries: size, damage } = auditFile(path);
  const audit = performance.now() - audited;
  console.log(
    `batches of ${batch}: ${Math.round((count / took) * 1_000)} appends/s, ` +
      `${Math.round(((batch * count) / took) * 1_000)} entries/s, p50 ${at(0.5)} ms, p99 ${at(0.99)} ms; ` +
      `${Math.round(statSync(path).size / size)} bytes an entry; ` +
      `audit ${Math.round((size / audit) * 1_000)} entries/s, damage ${damage.length}`,
  );
};

try {
  blockSize();
  sizes();
  await appends(1, 2_000);
  await appends(10, 1_000);
  await appends(100, 100);
  await year(Number(process.env['DAYS'] ?? 365));
} finally {
  rmSync(folder, { recursive: true, force: true });
}
