/**
 * The log's speed and size, from the compiled files: `npm run build && node tests/bench/log.mjs`.
 * Appends a second at several batch sizes, each acknowledged after it is on the disk; bytes a sample of a typical trace
 * block against the same as JSON, both plain and packed with gzip; time to audit what was written.
 */
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { gzipSync } from 'node:zlib';
import { decodeAnswers, encodeAnswers } from '../../dist/record/index.js';
import { auditFile, createLog } from '../../dist/store/index.js';

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

/** Ten seconds of one request each 100 ms: 12 speeds and temperatures that wander, 20 states and set points that rest. */
const typicalTrace = (seconds) => {
  const next = noise(7);
  const words = Array.from({ length: 32 }, (_, index) => 500 + index * 31);
  return Array.from({ length: seconds * 10 }, (_, poll) => {
    for (let index = 0; index < 12; index += 1) words[index] += Math.round(next() * 6 - 3);
    const sent = 1_764_063_000_000_000 + poll * 100_000 + Math.floor(next() * 900);
    const received = sent + 1_200 + Math.floor(next() * 800);
    return { kind: 'words', source: 0, request: 0, sent, received, words: [...words] };
  });
};

const blockSize = () => {
  const answers = typicalTrace(10);
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
  const log = await createLog(path, draft('genesis', {}));
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
  await appends(1, 2_000);
  await appends(10, 1_000);
  await appends(100, 100);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
