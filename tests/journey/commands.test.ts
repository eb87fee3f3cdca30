/** The commands as a script sees them: exit codes, JSON, the same bytes twice. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readSite, writeTrace } from '../../src/config/index.ts';
import { columnsOf, instant, type Reading } from '../../src/measure/index.ts';
import { type Fault, type HandCommand, simulate } from '../../src/plant/index.ts';
import type { Book } from '../../src/rulebook/index.ts';
import { boundsOf } from '../../src/signal/index.ts';
import { cli, folder, path, SITE } from './rig.ts';

const dir = folder();
const book = ((): Book => {
  const files = new Map(
    [SITE, ...['bucket-elevator', 'belt-conveyor', 'feeder'].map((name) => path(`rules/${name}.yaml`))].map(
      (file) => [file, readFileSync(file, 'utf8')],
    ),
  );
  const read = readSite(files, SITE);
  if ('faults' in read) throw new Error(JSON.stringify(read.faults));
  return read.book;
})();

const E1 = 'E1' as const;
const RAMP: (readonly [number, HandCommand])[] = [
  [0.5, { do: 'start', machine: E1 }],
  [1.5, { do: 'start', machine: 'F1' }],
  [12, { do: 'injector', machine: E1, mode: 'taking' }],
  [13, { do: 'injector', machine: E1, mode: 'injecting' }],
  [14, { do: 'step', machine: E1, percent: 94 }],
  [15, { do: 'ramp', machine: E1, percent: 74, rate: 1.5 }],
  [31, { do: 'step', machine: E1, percent: 100 }],
  [38, { do: 'reset', machine: E1 }],
  [39, { do: 'start', machine: E1 }],
  [40, { do: 'start', machine: 'F1' }],
  [52, { do: 'step', machine: E1, percent: 70 }],
  [56, { do: 'step', machine: E1, percent: 100 }],
];

/** What a poll of the demo site's Modbus source would have seen of a simulated plant. */
const traceOf = (fault?: Fault, more: typeof RAMP = []): string => {
  const script = [...RAMP, ...more];
  const samples = simulate({ seed: 5, ...(fault && { fault }) }, script, 64, { every: 50_000, phase: 7_000 });
  const rows = samples.flatMap((sample, response): Reading[] =>
    book.signals.flatMap((def): Reading[] => {
      const value = sample.image[def.name];
      if (value === undefined || def.name.startsWith('C2')) return [];
      const latest = instant(1.7e15 + sample.at);
      return [
        {
          signal: def.id,
          at: { earliest: instant(latest - def.age), latest },
          response: response + 1,
          flags: 0,
          value: boundsOf(def, value),
        },
      ];
    }),
  );
  return writeTrace(book, columnsOf(rows));
};

const judged = (fault?: Fault) => {
  const file = join(dir, `${fault ?? 'sound'}.csv`);
  writeFileSync(file, traceOf(fault));
  const args = [
    'judge',
    SITE,
    file,
    '--json',
    '--method',
    'injected',
    '--interlock',
    'E1.underspeed-stop',
    '--interlock',
    'E1.underspeed-alarm',
  ];
  return { args, ran: cli(...args) };
};

test('judge --json gives verdict, reasons, trip point with unit, response in seconds, trial; twice the same bytes', () => {
  const { args, ran } = judged();
  const answer = JSON.parse(ran.out) as { interlocks: Record<string, unknown>[] };
  const stop = answer.interlocks.find((one) => one['interlock'] === 'E1.underspeed-stop');
  expect(stop).toMatchObject({ verdict: 'pass', tripPoint: { unit: 'rpm' }, response: { unit: 's' } });
  expect(ran.code).toBe(0);
  expect(cli(...args).out).toBe(ran.out);
});

test.each([
  ['wrong-set-point', 'E1.underspeed-stop', ['level-or-delay-outside', 'set-point-outside', 'effect-late']],
  ['delay-too-long', 'E1.underspeed-stop', ['effect-late', 'effect-missing']],
  ['shutdown-not-wired', 'E1.underspeed-stop', ['effect-missing']],
  ['alarm-missing', 'E1.underspeed-alarm', ['effect-missing']],
  ['releases-on-recovery', 'E1.underspeed-stop', ['released-on-recovery']],
  ['another-machine-trips', 'E1.underspeed-stop', ['effect-missing']],
  ['cascade-missing', 'E1.underspeed-stop', ['effect-missing']],
] as [Fault, string, string[]][])('a plant with %s fails, for that reason', (fault, interlock, expected) => {
  const { ran } = judged(fault);
  expect(ran.code).toBe(1);
  const found = (
    JSON.parse(ran.out) as {
      interlocks: {
        interlock: string;
        verdict: string;
        aspects: { verdict: string; code: string }[];
        trials: { aspects: { verdict: string; code: string }[] }[];
      }[];
    }
  ).interlocks.find((one) => one.interlock === interlock);
  expect(found?.verdict).toBe('fail');
  const codes = [...(found?.aspects ?? []), ...(found?.trials.flatMap((one) => one.aspects) ?? [])]
    .filter((one) => one.verdict === 'fail')
    .map((one) => one.code);
  expect(codes.some((code) => expected.includes(code))).toBe(true);
});

test('a bypass left on is undecided, and named', () => {
  const { ran } = judged('bypass-left-on');
  expect(ran.code).toBe(2);
  expect(ran.out).toContain('bypass-during-trial');
});

test('exit codes follow sysexits: usage 64, data 65, unavailable 69, log trouble 74', () => {
  expect(cli('judge').code).toBe(64);
  expect(cli('no-such-command').code).toBe(64);
  expect(cli('check', join(dir, 'missing.yaml')).code).toBe(65);
  const wrong = join(dir, 'wrong.yaml');
  writeFileSync(wrong, 'site: x\nsurces: {}\n');
  const faults = cli('check', wrong);
  expect(faults.code).toBe(65);
  expect(faults.out).toMatch(/wrong\.yaml:2:1: /);
  expect(cli('window', 'show', '--daemon', 'http://127.0.0.1:9').code).toBe(69);
  expect(cli('audit', join(dir, 'missing.db')).code).toBe(74);
  writeFileSync(
    join(dir, 'junk.db'),
    'this is no database, and never was one; it is only text of some length',
  );
  expect(cli('audit', join(dir, 'junk.db')).code).toBe(1);
  expect(cli('check', SITE).code).toBe(0);
  expect(cli('--help').code).toBe(0);
});

test('a leg that somebody stops by hand during the ramp is no pass', () => {
  const file = join(dir, 'by-hand.csv');
  writeFileSync(file, traceOf(undefined, [[19, { do: 'stop', machine: E1, seconds: 0.6 }]]));
  const ran = cli('judge', SITE, file, '--json', '--method', 'injected', '--interlock', 'E1.underspeed-stop');
  const { interlocks } = JSON.parse(ran.out) as { interlocks: { trials: { verdict: string }[] }[] };
  expect(interlocks[0]?.trials[0]?.verdict).toBe('inconclusive');
  expect(ran.out).toContain('stop-by-hand');
});
