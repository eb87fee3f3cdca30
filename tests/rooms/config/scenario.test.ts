/** What a scenario means, and how every fault of one is told: where, what, and what was probably meant. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  faultText,
  readScenario,
  type ScenarioRead,
  scenarioFilesWanted,
} from '../../../src/config/index.ts';
import { SCENARIO_FAULTS } from '../../../src/config/scenario-messages.ts';
import type { Line, Scenario } from '../../../src/rehearse/index.ts';
import { ROOT } from './load.ts';

const LEG = readFileSync(`${ROOT}tests/scenarios/rules/leg.yaml`, 'utf8');
const HEAD = `scenario: a title
machine E1: leg.yaml
  nameplate: shaft-speed 96 rpm, head-speed 96 rpm
`;

const read = (text: string, more: Readonly<Record<string, string>> = {}): ScenarioRead =>
  readScenario(new Map(Object.entries({ 'a.scenario': text, 'leg.yaml': LEG, ...more })), 'a.scenario');

const scenario = (text: string): Scenario => {
  const found = read(HEAD + text);
  if ('scenario' in found) return found.scenario;
  throw new Error(found.faults.map(faultText).join('\n'));
};

const lineOf = (one: Scenario, name: string): Line | undefined => {
  const signal = one.play.book.signals.find((candidate) => candidate.name === name);
  return one.play.lines.find((line) => line.signal === signal?.id);
};

const S = 1_000_000;
const END = 'expect E1.underspeed-stop: pass\n';

describe('what a line says', () => {
  test('steps, ramps by slope and by time, spans, doubt; values in units and in percent of normal', () => {
    const one = scenario(
      `E1.shaft-speed: 96 rpm ± 0.2 rpm; 90 % at 5 s; ramp to 70 rpm at 1 rpm/s from 10 s; ramp to 96 rpm in 500 ms; 1 rev/s from 40 s to 41.5 s\n${END}`,
    );
    expect(lineOf(one, 'E1.shaft-speed')).toEqual({
      signal: 0,
      start: 96,
      doubt: 0.2,
      moves: [
        { kind: 'step', at: 5 * S, value: 86.4 },
        { kind: 'ramp', at: 10 * S, value: 70, pace: { perSecond: 1 } },
        { kind: 'ramp', value: 96, pace: { lasts: 0.5 * S } },
      ],
      covers: [{ from: 40 * S, until: 41.5 * S, what: { kind: 'value', value: 60 } }],
    });
  });

  test('slopes in percent and by the minute; a ramp over a span', () => {
    const one = scenario(
      `E1.shaft-speed: ramp to 50 % at 10 %/min from 1 s; ramp to 96 rpm from 5 s to 9 s\n${END}`,
    );
    expect(lineOf(one, 'E1.shaft-speed')?.moves).toEqual([
      { kind: 'ramp', at: S, value: 48, pace: { perSecond: (0.1 * 96) / 60 } },
      { kind: 'ramp', at: 5 * S, value: 96, pace: { lasts: 4 * S } },
    ]);
  });

  test('states by name; what lies over a signal; a force bit is forced, a value may carry the flag', () => {
    const one = scenario(
      `E1.run-command: stop at 9 s; no answer from 20 s to 21 s; no sample from 22 s; frozen from 3 s to 4 s; uncertain from 5 s to 6 s
E1.force: forced from 2 s to 3 s
E1.tripped: refused from 2 s to 3 s; forced from 4 s to 5 s
${END}`,
    );
    expect(lineOf(one, 'E1.run-command')).toMatchObject({
      start: 1,
      moves: [{ kind: 'step', at: 9 * S, value: 0 }],
      covers: [
        { from: 20 * S, until: 21 * S, what: { kind: 'absent', absence: 'timed-out' } },
        { from: 22 * S, until: Number.POSITIVE_INFINITY, what: { kind: 'silent' } },
        { what: { kind: 'frozen' } },
        { what: { kind: 'flags', flags: 4 } },
      ],
    });
    expect(lineOf(one, 'E1.force')?.covers[0]?.what).toEqual({ kind: 'value', value: 1 });
    expect(lineOf(one, 'E1.tripped')?.covers.map(({ what }) => what)).toEqual([
      { kind: 'absent', absence: 'refused' },
      { kind: 'flags', flags: 1 },
    ]);
  });

  test('polling, window, hands, marks, methods; an interlock by its short name', () => {
    const one = scenario(`poll: every 250 ms, at 37 ms, age 50 ms, scan 20 ms, aged after 1 s, one answer
lasts: 2 min
window: from 3 s to 50 s
method: injected
method E1.underspeed-stop: blocked
acts: underspeed-stop from 9 s, clears at 12 s, reset at 14 s, start at 16 s
all: no answer from 20 s to 21 s
at 5 s: press stop on E1 for 2 s
at 6 s: attest horn-heard on E1 by loader
at 7 s: adjusted underspeed-stop by fitter
at 8 s: clock stepped by 3 s
at 9 s: observed 78.5 rpm ± 0.5 rpm on E1.underspeed-stop
${END}`);
    const { play } = one;
    expect(play.polling).toMatchObject({
      every: 250_000,
      phase: 37_000,
      age: 50_000,
      scan: 20_000,
      oneAnswer: true,
    });
    expect(play.lasts).toBe(120 * S);
    expect(play.window).toEqual({ from: 3 * S, until: 50 * S });
    expect(play.book.signals[0]?.agedAfter).toBe(S);
    const stop = play.book.interlocks.find(({ name }) => name === 'E1.underspeed-stop')?.id;
    expect(play.stimuli).toEqual([{ interlock: stop, method: 'blocked' }]);
    expect(play.acting).toEqual([
      { interlock: stop, from: 9 * S, clears: 12 * S, reset: 14 * S, start: 16 * S },
    ]);
    expect(play.covers.map(({ from, until }) => [from / S, until / S])).toEqual([
      [20, 21],
      [5, 7],
    ]);
    expect(play.marks).toMatchObject([
      { code: 'attested', at: 6 * S, by: 'loader', machine: 0, what: 'horn-heard' },
      { code: 'adjusted', at: 7 * S, by: 'fitter', interlock: stop },
      { code: 'clock-stepped', at: 8 * S, by: 3 * S },
      { code: 'observed', value: { low: 78, high: 79 }, interlock: stop },
    ]);
  });

  test('what must come out', () => {
    const one = scenario(`expect underspeed-stop: fail because effect-missing, limit-violated
expect E1.underspeed-stop trial 2 set-point: pass
expect E1.underspeed-stop effect:E1.run-command: not-tested
expect E1.underspeed-stop trials: 2
expect E1.underspeed-stop as-found: fail
expect E1.underspeed-stop proves: logic, output
expect E1.underspeed-stop tells: moved-unready
expect never-tells: cause-without-effect
`);
    expect(one.expectations.map(({ line: _, ...rest }) => rest)).toMatchObject([
      { kind: 'verdict', trial: 0, aspect: '', outcome: 'fail', codes: ['effect-missing', 'limit-violated'] },
      { kind: 'verdict', trial: 2, aspect: 'set-point', outcome: 'pass', codes: [] },
      { kind: 'verdict', trial: 0, aspect: 'effect:E1.run-command', outcome: 'not-tested' },
      { kind: 'trials', count: 2 },
      { kind: 'standing', of: 'asFound', outcome: 'fail' },
      { kind: 'proved', segments: ['logic', 'output'] },
      { kind: 'told', code: 'moved-unready', never: false },
      { kind: 'told', code: 'cause-without-effect', never: true },
    ]);
    expect(one.expectations.map(({ line }) => line)).toEqual([4, 5, 6, 7, 8, 9, 10, 11]);
  });

  test('roles that a machine is without, other units, and what its rules are set to', () => {
    const found = read(`scenario: a title
machine E1: leg.yaml
  nameplate: shaft-speed 96 rpm, head-speed 96 rpm
  without: tripped, stop
  tag: shaft-speed unit rev/s, shaft-speed resolution 0.01 rev/s
  set: underspeed-stop.delay.time 3 s
${END}`);
    const book = 'scenario' in found ? found.scenario.play.book : undefined;
    expect(book?.machines[0]?.tripped).toEqual([]);
    expect(book?.signals.find(({ name }) => name === 'E1.shaft-speed')).toMatchObject({
      unit: 'rev/s',
      resolution: 0.01,
    });
    expect(book?.interlocks.find(({ name }) => name === 'E1.underspeed-stop')?.delay?.time).toBe(3 * S);
  });

  test('the files that a scenario names, and those that its site names', () => {
    const main = 'a/b.scenario';
    const text = 'scenario: t\nsite: ../c/site.yaml\nexpect X.y: pass\n';
    expect(scenarioFilesWanted(new Map([[main, text]]), main)).toEqual(['c/site.yaml']);
    const site = 'site: s\nrules: [../rules/leg.yaml]\n';
    expect(
      scenarioFilesWanted(
        new Map([
          [main, text],
          ['c/site.yaml', site],
        ]),
        main,
      ),
    ).toEqual(['rules/leg.yaml']);
    expect(scenarioFilesWanted(new Map([[main, HEAD]]), main)).toEqual(['a/leg.yaml']);
  });
});

describe('faults', () => {
  /** `line:column code suggestion`, of the lines behind a head of three lines. */
  const told = (text: string): readonly string[] => {
    const found = read(HEAD + text);
    return 'faults' in found
      ? found.faults.map((one) => {
          expect(faultText(one)).not.toMatch(/[{}]|undefined/);
          return `${one.line}:${one.column} ${one.code}${one.suggestion === undefined ? '' : ` ${one.suggestion}`}`;
        })
      : [];
  };

  test.each([
    ['E1.shaft-sped: 96 rpm', '4:1 scenario-unknown-line E1.shaft-speed'],
    ['E1.shaft-speed: 96 rmp', '4:17 unknown-unit rpm'],
    ['E1.shaft-speed: 96', '4:17 unit-missing'],
    ['E1.shaft-speed: 96 rpm; 80 rpm', '4:25 scenario-move'],
    ['E1.shaft-speed: 96 rpm; 80 rpm at 9 s; 70 rpm at 3 s', '4:40 scenario-order'],
    ['E1.shaft-speed: 96 rpm; ramp to 70 rpm from 9 s', '4:25 scenario-ramp-how'],
    ['E1.shaft-speed: 96 rpm; ramp to 70 rpm at 0 rpm/s from 9 s', '4:43 scenario-slope'],
    ['E1.shaft-speed: 96 rpm; no answer from 9 s to 8 s', '4:47 scenario-backwards'],
    ['E1.run-command: runs', '4:17 unknown-state run'],
    ['E1.pulses: 5 %', '4:12 scenario-no-normal'],
    ['E1.horn: sounding\nE1.horn: silent', '5:1 duplicate-key'],
    ['at 5 s: pres stop on E1', '4:9 scenario-hand'],
    ['at 5 s: press stopp on E1', '4:15 scenario-unknown-line E1.stop'],
    ['at 5 s: attest horn-herd on E1', '4:16 unknown-word horn-heard'],
    ['at -5 s: press stop on E1', '4:4 negative-time'],
    ['acts: E1.underspeed-stop', '4:7 scenario-acts'],
    ['acts: E1.underspeed-stop from 9 s, reset 14 s', '4:36 scenario-acts'],
    ['at 5 s: attest horn-heard on E2', '4:30 unknown-machine-here E1'],
    ['all: nothing from 9 s', '4:6 scenario-outage'],
    ['method: inject', '4:9 unknown-word injected'],
    ['method E1.underspeed-top: real', '4:8 scenario-unknown-interlock E1.underspeed-stop'],
    ['poll: each 100 ms', '4:7 scenario-poll'],
    ['poll: every 0 s', '4:7 scenario-poll'],
    ['window: sometimes', '4:9 scenario-window'],
    ['lasts: long', '4:8 not-a-quantity'],
    ['lasts: 5 s\nlasts: 6 s', '5:1 duplicate-key'],
    ['expect E1.underspeed-stop: passes', '4:28 unknown-word pass'],
    ['expect E1.underspeed-stop: fail because efect-missing', '4:41 scenario-code effect-missing'],
    ['expect E1.underspeed-stop trial two: pass', '4:27 scenario-expect'],
    ['expect E1.underspeed-stop trials: some', '4:35 not-a-whole-number'],
    ['expct E1.underspeed-stop: pass', '4:1 unknown-key expect'],
    ['no colon here', '4:1 scenario-no-colon'],
    ['lasts:', '4:1 empty-value'],
    ['\tlasts: 5 s', '4:1 tab'],
  ])('%s', (text, fault) => {
    expect(told(`${text}\n${END}`)).toEqual([fault]);
  });

  test('all faults at once, in the order of the file', () => {
    expect(told('E1.run-command: runs\nlasts: long\n')).toEqual([
      '1:1 scenario-expects-nothing',
      '4:17 unknown-state run',
      '5:8 not-a-quantity',
    ]);
  });

  test('a fault of the machine stands where its line stands, one of its rules in the rules', () => {
    const bad = `scenario: t\nmachine E1: leg.yaml\n  nameplate: shaft-sped 96 rpm, head-speed 96 rpm\n${END}`;
    const found = read(bad);
    const faults = 'faults' in found ? found.faults : [];
    expect(faults[0]?.file).toBe('a.scenario');
    expect(faults.map(({ code, line }) => `${line} ${code}`)).toContain('3 unknown-role');
    const broken = read(HEAD + END, {
      'leg.yaml': LEG.replace('becomes: alarm, within', 'becoms: alarm, within'),
    });
    expect(
      'faults' in broken &&
        broken.faults.some(({ file, code }) => file === 'leg.yaml' && code === 'unknown-key'),
    ).toBe(true);
  });

  test('a short name that could be two is none', () => {
    const two = `${HEAD}machine E2: leg.yaml\n  nameplate: shaft-speed 96 rpm, head-speed 96 rpm\nhorn: silent\n${END}`;
    const found = read(two);
    expect('faults' in found ? found.faults : []).toMatchObject([
      { code: 'scenario-several', line: 6, params: { known: ['E1.horn', 'E2.horn'] } },
    ]);
  });

  test('neither site nor machine, both, a missing file, an indented line under nothing', () => {
    const codes = (text: string): readonly string[] => {
      const found = read(text);
      return 'faults' in found ? found.faults.map(({ code }) => code) : [];
    };
    expect(codes(`scenario: t\n${END}`)).toEqual(['scenario-about-nothing']);
    expect(codes(`${HEAD}site: x.yaml\n${END}`)).toEqual(['scenario-site-or-machine', 'file-missing']);
    expect(codes(`scenario: t\nmachine E1: lag.yaml\n${END}`)).toEqual(['file-missing']);
    expect(codes(`scenario: t\n  set: a.b 1 s\n${END}`)).toEqual([
      'scenario-about-nothing',
      'scenario-indented',
    ]);
    expect(codes(`machine E1: leg.yaml\n  nameplate: shaft-speed 96 rpm, head-speed 96 rpm\n${END}`)).toEqual(
      ['missing-key'],
    );
  });

  test('every fault of a scenario has been told here', () => {
    const own = readFileSync(new URL(import.meta.url), 'utf8');
    const idle = Object.keys(SCENARIO_FAULTS).filter((code) => !own.includes(code));
    expect(idle).toEqual([]);
  });
});
