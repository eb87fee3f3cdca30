/** How an interlock stays proved, and what its proof rests on: from the rule file, the site and its tables. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { start } from '../../../src/judge/index.ts';
import type { Upkeep } from '../../../src/rulebook/index.ts';
import { bookOf, load, ROOT, readTexts } from './load.ts';

const pack = (more: string) => `kind: leg
roles:
  speed: { quantity: rotational-speed, purpose: measurement }
  command: { states: [stop, run], purpose: command }
interlocks:
  underspeed-stop:
    hazard: belt slip
    cause: { signal: speed, below: 82 % of normal, tolerance: 1.5 % }
    effects: [{ signal: command, becomes: stop, within: 2 s }]
${more}`;
const site = (machine: string) => `site: mill
sources: { t: { protocol: trace, scan: 50 ms } }
tags:
  E1.speed: { source: t, unit: rpm }
  E1.command: { source: t }
machines:
  E1: { kind: leg, nameplate: { speed: 96 rpm }${machine} }
rules: [leg.yaml]
`;
const read = (machine: string, more: string) =>
  readTexts('site.yaml', { 'site.yaml': site(machine), 'leg.yaml': pack(more) });
const upkeep = (machine: string, more = ''): Upkeep | undefined =>
  bookOf(read(machine, more)).interlocks[0]?.upkeep;

const DAY = 86_400_000_000;

test('nothing said, nothing there', () => expect(upkeep('')).toBeUndefined());

test('the interval, its grace and the ways that count', () => {
  expect(upkeep('', '    proof: { every: 180 d, grace: 10 %, methods: [real, injected] }\n')).toEqual({
    proof: { every: 180 * DAY, grace: 0.1, methods: ['real', 'injected'] },
    dependsOn: [],
  });
  expect(upkeep('', '    proof: { every: 12 h }\n')?.proof).toEqual({ every: DAY / 2, grace: 0 });
});

test('a machine replaces what its pack says, and adds names for all of its interlocks', () => {
  const machine =
    ', depends-on: [card 3], set: { underspeed-stop.proof.every: 30 d, underspeed-stop.depends-on: [timer T4], underspeed-stop.device.serial: SN-7 }';
  expect(upkeep(machine, '    proof: { every: 90 d }\n    depends-on: routine R1\n')).toEqual({
    proof: { every: 30 * DAY, grace: 0 },
    dependsOn: ['card 3', 'timer T4'],
    device: { serial: 'SN-7' },
  });
});

test('a grace of more than a quarter is doubtful', () => {
  const found = read('', '    proof: { every: 90 d, grace: 30 % }\n');
  expect(found.warnings).toMatchObject([{ code: 'grace-long', line: 10, column: 34 }]);
});

test('a table says the same', () => {
  const tables = {
    'site.yaml': site('').replace(/^machines:\n.*$/m, 'machines-from: machines.csv'),
    'leg.yaml': pack(''),
    'machines.csv':
      'name,kind,nameplate.speed,depends-on,set.underspeed-stop.depends-on,set.underspeed-stop.proof.every\n' +
      'E1,leg,96 rpm,card 3; rack 0,timer T4; timer T5,30 d\n',
  };
  expect(bookOf(readTexts('site.yaml', tables)).interlocks[0]?.upkeep).toEqual({
    proof: { every: 30 * DAY, grace: 0 },
    dependsOn: ['card 3', 'rack 0', 'timer T4', 'timer T5'],
  });
});

test('it decides nothing: a judgement begins alike with and without it', () => {
  const [bare, kept] = [bookOf(read('', '')), bookOf(read('', '    proof: { every: 90 d }\n'))];
  const told = (book: typeof bare) =>
    JSON.stringify(start(book), (key, value) => (key === 'upkeep' ? undefined : value));
  expect(told(kept)).toBe(told(bare));
  const judge = readFileSync(`${ROOT}src/judge/judge.ts`, 'utf8');
  expect(judge).not.toContain('upkeep');
});

test('every interlock of the packs says how often it is to be proved', () => {
  const { interlocks } = bookOf(load(`${ROOT}config/demo-site.yaml`));
  expect(interlocks.filter((one) => one.upkeep?.proof === undefined).map(({ name }) => name)).toEqual([]);
  expect(interlocks.find(({ name }) => name === 'E1.underspeed-stop')?.upkeep).toMatchObject({
    proof: { every: 90 * DAY, grace: 0.1 },
    dependsOn: ['output card 2', 'routine leg-speed', 'timer T4'],
    device: { tag: 'ST-101', serial: 'SN-20417' },
  });
});
