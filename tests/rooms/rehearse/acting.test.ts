/** What an acting interlock does to its signals, and what signals do that nobody wrote. */
import { expect, test } from 'vitest';
import { shownOf } from '../../../src/rehearse/line.ts';
import { linesOf } from '../../../src/rehearse/sampling.ts';
import { ROOT } from '../config/load.ts';
import { load, scenarioOf } from './load.ts';

const S = 1_000_000;

/** Value of a signal at a second of a scenario of one machine. */
const at = (rules: string, text: string): ((name: string, second: number) => number) => {
  const main = `${ROOT}tests/scenarios/made-up.scenario`;
  const head = `scenario: t\nmachine E1: rules/${rules}\n  nameplate: ${rules === 'leg.yaml' ? 'shaft-speed 96 rpm, head-speed 96 rpm' : ''}\n`;
  const { play } = scenarioOf(
    load(main, `${rules === 'leg.yaml' ? head : head.replace(/ {2}nameplate.*\n/, '')}${text}`),
  );
  const lines = linesOf(play);
  return (name, second) => {
    const signal = play.book.signals.find((one) => one.name === `E1.${name}`);
    const line = lines[signal?.id ?? -1];
    if (line === undefined) throw new Error(`no signal ${name}`);
    return shownOf(line)(second * S).value;
  };
};

test('effects come in their order, alarms and trip go with the reset, the machine runs again with the start', () => {
  const value = at(
    'leg.yaml',
    'acts: E1.underspeed-stop from 10 s, clears at 14 s, reset at 17 s, start at 19 s\nexpect E1.underspeed-stop: pass\n',
  );
  expect(['run-command', 'tripped', 'motor-running'].map((name) => value(name, 9.9))).toEqual([1, 0, 1]);
  expect(['run-command', 'tripped', 'motor-running'].map((name) => value(name, 10.05))).toEqual([0, 1, 1]);
  expect(['run-command', 'tripped', 'motor-running'].map((name) => value(name, 10.15))).toEqual([0, 1, 0]);
  expect(value('head-speed', 9)).toBe(96);
  expect(value('head-speed', 13)).toBe(0);
  expect(['run-command', 'tripped'].map((name) => value(name, 17.2))).toEqual([0, 0]);
  expect(['run-command', 'motor-running'].map((name) => value(name, 19.2))).toEqual([1, 1]);
  expect([16.9, 17.1, 17.5].map((second) => value('reset', second))).toEqual([0, 1, 0]);
  expect([18.9, 19.1, 19.5].map((second) => value('start', second))).toEqual([0, 1, 0]);
});

test('what lasts only while the cause does goes with the cause', () => {
  const value = at(
    'repeat.yaml',
    'acts: E1.bearing-alarm from 10 s, clears at 14 s, reset at 17 s\nexpect E1.bearing-alarm: pass\n',
  );
  expect([9.9, 10.1, 13.9, 14.1].map((second) => value('alarm', second))).toEqual([0, 1, 1, 0]);
});

test('without a start the machine runs with the reset; a line that is written goes before everything', () => {
  const value = at(
    'leg.yaml',
    'acts: E1.underspeed-stop from 10 s, reset at 17 s\nE1.tripped: healthy\nexpect E1.underspeed-stop: pass\n',
  );
  expect([16.9, 17.1].map((second) => value('run-command', second))).toEqual([0, 1]);
  expect(value('tripped', 12)).toBe(0);
});

test('nobody wrote them: machines run at normal, counts go on, bearings are as warm as the air, nobody presses', () => {
  const leg = at('leg.yaml', 'E1.heartbeat: frozen from 5 s to 7 s\nexpect E1.underspeed-stop: pass\n');
  expect([
    leg('shaft-speed', 3),
    leg('head-speed', 3),
    leg('run-command', 3),
    leg('motor-running', 3),
  ]).toEqual([96, 96, 1, 1]);
  expect([leg('stop', 3), leg('bypass', 3), leg('tripped', 3), leg('horn', 3)]).toEqual([0, 0, 0, 0]);
  expect([1, 5, 6.9, 8].map((second) => leg('heartbeat', second))).toEqual([10, 50, 50, 80]);
  const warm = at('start.yaml', 'expect E1.rise-alarm: pass\n');
  expect(warm('bearing-temperature', 3)).toBe(warm('ambient', 3));
});

test('a signal that must not stand still moves by more than it may stand, and comes back', () => {
  const value = at('kinds.yaml', 'expect E1.stuck-alarm: pass\n');
  const seen = Array.from({ length: 60 }, (_, n) => value('shaft-speed', n / 10));
  expect(Math.max(...seen) - Math.min(...seen)).toBeGreaterThan(0.3);
});

test('the raw input shows what the program makes of it, unless it is written otherwise', () => {
  const same = at(
    'contacts.yaml',
    'E1.alignment: aligned; displaced at 8 s\nexpect E1.misalignment-stop: pass\n',
  );
  expect([7, 9].map((second) => same('alignment-raw', second))).toEqual([0, 1]);
  const apart = at(
    'contacts.yaml',
    'E1.alignment: aligned; displaced at 8 s\nE1.alignment-raw: aligned\nexpect E1.misalignment-stop: pass\n',
  );
  expect(apart('alignment-raw', 9)).toBe(0);
});
