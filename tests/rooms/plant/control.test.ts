import { expect, test } from 'vitest';
import { at, INJECT, run, type Script, when } from './script.ts';

test('it starts, shows its normal speed, and the feeder follows', () => {
  const image = at(run([], 8), 8);
  expect(image['E1.motor-running']).toBe(1);
  expect(image['E1.shaft-speed']).toBeGreaterThan(95.5);
  expect(image['E1.shaft-speed']).toBeLessThan(96.5);
  expect(image['F1.motor-running']).toBe(1);
});

test('a ramp on the injector alarms at 90 % and stops 1 s after 82 %, latched, no restart', () => {
  const samples = run(
    [
      ...INJECT,
      [12, { do: 'ramp', machine: 'E1', percent: 70, rate: 1 }],
      [36, { do: 'step', machine: 'E1', percent: 100 }],
      [40, { do: 'reset', machine: 'E1' }],
    ],
    48,
  );
  expect(when(samples, 'E1.underspeed-alarm', 1)).toBeGreaterThan(21.8);
  expect(when(samples, 'E1.underspeed-alarm', 1)).toBeLessThan(22.5);
  expect(when(samples, 'E1.tripped', 1)).toBeGreaterThan(30.9);
  expect(when(samples, 'E1.tripped', 1)).toBeLessThan(31.6);
  expect(when(samples, 'E1.motor-running', 0, 20) - when(samples, 'E1.run-command', 0, 20)).toBeLessThan(0.2);
  expect(when(samples, 'F1.motor-running', 0, 20)).toBeLessThan(32.5);
  expect(at(samples, 39)['E1.tripped']).toBe(1);
  expect(at(samples, 47)['E1.tripped']).toBe(0);
  expect(at(samples, 47)['E1.run-command']).toBe(0);
});

test('the delay starts again when the speed returns', () => {
  const dips: Script = [12, 13.4, 14.8].flatMap(
    (t): Script => [
      [t, { do: 'step', machine: 'E1', percent: 70 }],
      [t + 0.7, { do: 'step', machine: 'E1', percent: 100 }],
    ],
  );
  expect(at(run([...INJECT, ...dips], 20), 20)['E1.tripped']).toBe(0);
});

test('loss of all pulses stops before the underspeed delay could', () => {
  const samples = run([[12, { do: 'block', machine: 'E1', target: 'all' }]], 15);
  expect(when(samples, 'E1.tripped', 1)).toBeLessThan(12.8);
  expect(at(samples, 15)['E1.first-out']).toBe(2);
});

test('the start-up inhibit keeps a starting machine from tripping, and ends', () => {
  const blocked = run([[0.4, { do: 'block', machine: 'E1', target: 'all' }]], 9);
  expect(when(blocked, 'E1.tripped', 1)).toBeGreaterThan(5.5);
  expect(when(blocked, 'E1.tripped', 1)).toBeLessThan(6.5);
});

test('a heated probe alarms at 70 and stops at 80 degC; the reset is refused while it is hot', () => {
  const samples = run(
    [
      [9, { do: 'probe-out', machine: 'E1' }],
      [9, { do: 'heat', machine: 'E1', to: 84, rate: 4 }],
      [24, { do: 'reset', machine: 'E1' }],
    ],
    26,
  );
  expect(at(samples, when(samples, 'E1.bearing-alarm', 1))['E1.bearing-temperature']).toBeCloseTo(70, 0);
  expect(at(samples, when(samples, 'E1.tripped', 1))['E1.bearing-temperature']).toBeCloseTo(80, 0);
  expect(at(samples, 26)['E1.tripped']).toBe(1);
});

test('a displaced belt and a broken wire act alike', () => {
  for (const hand of [
    { do: 'screw', machine: 'E1', turned: true },
    { do: 'wire', machine: 'E1', broken: true },
  ] as const) {
    const samples = run([[10, hand]], 14);
    expect(when(samples, 'E1.alignment-alarm', 1)).toBeLessThan(10.1);
    expect(when(samples, 'E1.tripped', 1) - 10).toBeCloseTo(2, 1);
  }
});

test('a stop by hand drops the command without a trip', () => {
  const image = at(run([[10, { do: 'stop', machine: 'E1' }]], 12), 12);
  expect([image['E1.run-command'], image['E1.tripped']]).toEqual([0, 0]);
});

test('a trip pressed away while the cause is still there stays', () => {
  const samples = run(
    [
      [10, { do: 'wire', machine: 'E1', broken: true }],
      [13, { do: 'reset', machine: 'E1' }],
      [14, { do: 'wire', machine: 'E1', broken: false }],
      [15, { do: 'reset', machine: 'E1' }],
    ],
    17,
  );
  expect(at(samples, 14.9)).toMatchObject({ 'E1.tripped': 1, 'E1.alignment-alarm': 1, 'E1.horn': 1 });
  expect(at(samples, 17)).toMatchObject({ 'E1.tripped': 0, 'E1.alignment-alarm': 0, 'E1.run-command': 0 });
});

test('a start button that is still held does not start the machine when the trip is reset', () => {
  const samples = run(
    [
      [10, { do: 'screw', machine: 'E1', turned: true }],
      [13, { do: 'screw', machine: 'E1', turned: false }],
      [13.5, { do: 'start', machine: 'E1', seconds: 5 }],
      [14, { do: 'reset', machine: 'E1' }],
    ],
    17,
  );
  expect(at(samples, 17)).toMatchObject({ 'E1.tripped': 0, 'E1.run-command': 0, 'E1.start': 1 });
});

test('resetting does not silence an alarm whose cause goes on, not for a single scan', () => {
  const samples = run(
    [...INJECT, [12, { do: 'step', machine: 'E1', percent: 86 }], [14, { do: 'reset', machine: 'E1' }]],
    16,
  );
  const since = when(samples, 'E1.underspeed-alarm', 1);
  expect(when(samples, 'E1.underspeed-alarm', 0, since)).toBeNaN();
});

test('the first cause is kept, whatever follows', () => {
  const samples = run(
    [
      [10, { do: 'screw', machine: 'E1', turned: true }],
      [13, { do: 'probe-out', machine: 'E1' }],
      [13, { do: 'heat', machine: 'E1', to: 95, rate: 50 }],
    ],
    16,
  );
  expect(at(samples, 16)).toMatchObject({ 'E1.first-out': 4, 'E1.bearing-alarm': 1 });
});

test('belt 2 has the same levels as the leg', () => {
  const samples = run(
    [
      [8, { do: 'injector', machine: 'C2', mode: 'taking' }],
      [10, { do: 'injector', machine: 'C2', mode: 'injecting' }],
      [12, { do: 'ramp', machine: 'C2', percent: 70, rate: 1 }],
    ],
    36,
  );
  expect(when(samples, 'C2.underspeed-alarm', 1)).toBeCloseTo(22.2, 0);
  expect(when(samples, 'C2.tripped', 1)).toBeCloseTo(31.2, 0);
  expect(at(samples, 36)).toMatchObject({ 'C2.first-out': 1, 'E1.tripped': 0, 'E1.run-command': 1 });
});

test('command, contacts and feedback follow each other with the delays of a contactor', () => {
  const samples = run([[10, { do: 'stop', machine: 'E1' }]], 12);
  const lag = when(samples, 'E1.motor-running', 0, 9.9) - when(samples, 'E1.run-command', 0, 9.9);
  expect(lag).toBeGreaterThan(0.06);
  expect(lag).toBeLessThan(0.16);
});

test('a normal is learned from the running pulses, from a slipping belt as well', () => {
  const samples = run(
    [
      [8, { do: 'slip', machine: 'E1', share: 0.05 }],
      [9, { do: 'learn', machine: 'E1' }],
    ],
    14,
  );
  expect(at(samples, 10)['E1.learning']).toBe(1);
  expect(at(samples, 14)['E1.learning']).toBe(0);
  expect(at(samples, 14)['E1.normal-speed']).toBeCloseTo(96 * 0.95, 1);
});

test('a machine at rest learns nothing', () => {
  const samples = run(
    [
      [8, { do: 'stop', machine: 'E1' }],
      [13, { do: 'learn', machine: 'E1' }],
    ],
    18,
  );
  expect(at(samples, 18)['E1.normal-speed']).toBe(96);
});

test('a bypass and a force are shown, and keep the machine running', () => {
  const samples = run(
    [
      [9, { do: 'bypass', machine: 'E1', on: true }],
      [9, { do: 'force', machine: 'C2', on: true }],
      [10, { do: 'screw', machine: 'E1', turned: true }],
      [10, { do: 'slip', machine: 'C2', share: 0.3 }],
    ],
    16,
  );
  expect(at(samples, 16)).toMatchObject({
    'E1.bypass': 1,
    'E1.tripped': 0,
    'C2.force': 1,
    'C2.tripped': 0,
  });
  expect(at(samples, 16)['C2.shaft-speed']).toBeCloseTo(60, 0);
});

test('a warned start warns for 5 s and then starts; a stop ends the warning and nothing starts', () => {
  const script: Script = [
    [9, { do: 'stop', machine: 'E1' }],
    [14, { do: 'warned-start', machine: 'E1' }],
  ];
  const started = run(script, 22);
  const warned = when(started, 'E1.start-warning', 1);
  expect(when(started, 'E1.run-command', 1, 12) - warned).toBeCloseTo(5, 1);
  expect(at(started, 22)).toMatchObject({ 'E1.start-warning': 0, 'E1.motor-running': 1 });
  const ended = run([...script, [16, { do: 'stop', machine: 'E1' }]], 22);
  expect(at(ended, 22)).toMatchObject({ 'E1.start-warning': 0, 'E1.run-command': 0 });
});

test('a rack that is lost stops the leg, and the trip cannot be reset before it is back', () => {
  const samples = run(
    [
      [10, { do: 'link', machine: 'E1', cut: true }],
      [13, { do: 'reset', machine: 'E1' }],
      [15, { do: 'link', machine: 'E1', cut: false }],
      [16, { do: 'reset', machine: 'E1' }],
    ],
    18,
  );
  expect(at(samples, 9.9)).toMatchObject({ 'E1.link-fault': 0, 'E1.tripped': 0 });
  expect(when(samples, 'E1.tripped', 1) - when(samples, 'E1.link-fault', 1)).toBeCloseTo(0.2, 1);
  expect(at(samples, 14)).toMatchObject({ 'E1.tripped': 1, 'E1.link-fault': 1, 'C2.tripped': 0 });
  expect(at(samples, 18)).toMatchObject({ 'E1.tripped': 0, 'E1.run-command': 0, 'E1.motor-running': 0 });
});

test('without power the controller shows its last image, and its trip, bypass and normal outlive that', () => {
  const samples = run(
    [
      [9, { do: 'slip', machine: 'E1', share: 0.02 }],
      [10, { do: 'learn', machine: 'E1' }],
      [14, { do: 'bypass', machine: 'C2', on: true }],
      [15, { do: 'screw', machine: 'E1', turned: true }],
      [18, { do: 'power-cycle', seconds: 3 }],
    ],
    24,
  );
  expect(at(samples, 20)['E1.heartbeat']).toBe(at(samples, 18.5)['E1.heartbeat']);
  expect(at(samples, 24)['E1.heartbeat']).toBeGreaterThan(at(samples, 20)['E1.heartbeat']!);
  expect(at(samples, 24)).toMatchObject({
    'E1.tripped': 1,
    'E1.first-out': 4,
    'C2.bypass': 1,
    'C2.run-command': 0,
  });
  expect(at(samples, 24)['E1.normal-speed']).toBeCloseTo(96 * 0.98, 1);
});

test('two bearings of one shaft run alike until one probe is heated; the place around them stays as it is', () => {
  const samples = run(
    [
      [9, { do: 'probe-out', machine: 'E1' }],
      [9, { do: 'heat', machine: 'E1', to: 60, rate: 10 }],
    ],
    14,
  );
  const before = at(samples, 8.9);
  expect(before['E1.twin-temperature']).toBe(before['E1.bearing-temperature']);
  expect(at(samples, 14)['E1.bearing-temperature']).toBe(60);
  expect(at(samples, 14)['E1.twin-temperature']).toBeCloseTo(before['E1.twin-temperature']!, 0);
  expect(at(samples, 14)['E1.ambient-temperature']).toBe(18);
});
