/**
 * A report of 1,000 interlocks on paper: time, size, pages and memory, and the same as CSV and JUnit XML. Half of them are ramps
 * with a region plot, half plain.
 * `npm run build && node tests/bench/paper.mjs [interlocks]`; nothing of it is asserted.
 */
import { performance } from 'node:perf_hooks';
import { reportPdf } from '../../dist/print/index.js';
import { effectsCsv, junitXml, verdictsCsv } from '../../dist/report/index.js';
import { bookOf } from './book.mjs';

const count = Number(process.argv[2] ?? 1_000);
const S = 1_000_000;
const OPENED = 1_764_063_000_000_000;
const book = bookOf(count);

const reason = {
  code: 'trip-point-inside',
  params: { tripPercent: { low: 81.57, high: 82.49 }, band: { low: 80.5, high: 83.5 } },
};
const aspect = (name) => ({ name, outcome: 'pass', reason });
const within = { low: 0.86, high: 1.14 };

const ramp = (from, to) =>
  Array.from({ length: 450 }, (_, index) => {
    const t = from + ((to - from) * index) / 450;
    const value = 96 - Math.max(0, Math.min(1, (t - from - 5) / 20)) * 20;
    return { t, low: value - 0.05, high: value + 0.05 };
  });

const steps = (from, at, to) => [
  { t: from, low: 1, high: 1 },
  { t: at, low: 1, high: 1 },
  { t: at + 0.1, low: 0, high: 0 },
  { t: to, low: 0, high: 0 },
];

const reportOf = (interlock) => {
  const seen = interlock.effects.map(({ name, signal }) => ({
    name,
    signal,
    changed: { earliest: OPENED + 31 * S, latest: OPENED + 31.1 * S },
    response: within,
  }));
  const figures = {
    outcome: 'pass',
    reasons: [reason],
    aspects: [aspect('set-point'), ...interlock.effects.map(({ name }) => aspect(`effect:${name}`))],
    tripPoint: { low: 78.35, high: 79.15 },
    tripPercent: { low: 81.57, high: 82.49 },
    normal: { low: 95.95, high: 96.05 },
    response: within,
    delay: within,
    effects: seen,
    proved: ['wiring', 'input', 'logic', 'output'],
  };
  const trial = {
    ...figures,
    trial: 1,
    method: 'injected',
    span: { earliest: OPENED + 6 * S, latest: OPENED + 49 * S },
    standing: 'complete',
    asFound: true,
  };
  const cells = [{ delay: within, level: { low: 78.35, high: 79.15 } }];
  return {
    interlock: interlock.id,
    method: 'injected',
    verdict: {
      ...figures,
      trials: [trial],
      trial: 1,
      asFound: 'pass',
      ...(interlock.id % 2 === 0 && { region: cells }),
    },
    traces: [
      {
        trial: 1,
        from: 5,
        to: 50,
        cause: { signal: interlock.cause.signal, points: ramp(5, 50) },
        effects: interlock.effects.map(({ signal }) => ({ signal, points: steps(5, 31, 50) })),
      },
    ],
  };
};

const report = {
  version: 1,
  window: 'w-0001',
  opened: OPENED,
  closed: OPENED + 60 * S,
  standing: 'closed',
  people: [{ name: 'Tester One', role: 'sensor' }],
  revisions: [],
  polling: [],
  notes: [],
  book,
  bookHash: 'ab'.repeat(32),
  engine: 1,
  toolVersion: '0.1.0',
  interlocks: book.interlocks.map(reportOf),
  stated: {},
};

const timed = async (name, make) => {
  const from = performance.now();
  const made = await make();
  const seconds = ((performance.now() - from) / 1_000).toFixed(2);
  const memory = Math.round(process.memoryUsage().rss / 1e6);
  console.log(`${name}: ${seconds} s, ${(made.length / 1e6).toFixed(2)} MB, resident ${memory} MB`);
};

console.log(`${count} interlocks`);
await timed('verdicts as CSV', () => verdictsCsv(report));
await timed('effects as CSV', () => effectsCsv(report));
await timed('JUnit XML', () => junitXml(report));
await timed('PDF, A4', () => reportPdf(report, { paper: 'a4' }));
