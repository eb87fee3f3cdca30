import { connect } from 'node:net';
import { afterAll, beforeAll, expect, test } from 'vitest';
import {
  connectHands,
  FAULTS,
  type Fault,
  type HandCommand,
  PLANT_MAP,
  type Plant,
  simulate,
  startPlant,
} from '../../../src/plant/index.ts';

const POLL = { every: 20_000, phase: 3_000 };
type Script = (readonly [number, HandCommand])[];

const START: Script = [
  [0.5, { do: 'start', machine: 'E1' }],
  [0.5, { do: 'start', machine: 'C2' }],
  [4, { do: 'start', machine: 'F1' }],
];
const INJECT: Script = [
  [8, { do: 'injector', machine: 'E1', mode: 'taking' }],
  [10, { do: 'injector', machine: 'E1', mode: 'injecting' }],
];

const run = (script: Script, until: number, fault?: Fault) =>
  simulate({ seed: 7, ...(fault && { fault }) }, [...START, ...script], until, POLL);

const when = (samples: ReturnType<typeof run>, signal: string, value: number, from = 0): number =>
  (samples.find((sample) => sample.at / 1e6 > from && sample.image[signal] === value)?.at ?? Number.NaN) /
  1e6;

const at = (samples: ReturnType<typeof run>, t: number) =>
  samples.findLast((sample) => sample.at / 1e6 <= t)?.image ?? {};

test('the same seed gives the same plant, another seed another noise', () => {
  const bytes = (seed: number) => JSON.stringify(simulate({ seed }, START, 6, POLL));
  expect(bytes(3)).toBe(bytes(3));
  expect(bytes(3)).not.toBe(bytes(4));
});

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

const RAMP: Script = [
  ...INJECT,
  [12, { do: 'step', machine: 'E1', percent: 86 }],
  [14, { do: 'ramp', machine: 'E1', percent: 70, rate: 2 }],
  [30, { do: 'step', machine: 'E1', percent: 100 }],
  [34, { do: 'reset', machine: 'E1' }],
];
const end = (fault: Fault, script: Script = RAMP) => at(run(script, 37, fault), 37);
const mid = (fault: Fault, t: number, script: Script = RAMP) => at(run(script, 37, fault), t);

test.each([
  ['wrong-set-point', () => expect(mid('wrong-set-point', 18.2)['E1.tripped']).toBe(0)],
  [
    'wrong-scale',
    () =>
      expect(
        mid('wrong-scale', 29, [
          [9, { do: 'probe-out', machine: 'E1' }],
          [9, { do: 'heat', machine: 'E1', to: 85, rate: 5 }],
        ])['E1.tripped'],
      ).toBe(0),
  ],
  [
    'shutdown-not-wired',
    () =>
      expect(mid('shutdown-not-wired', 29)).toMatchObject({
        'E1.tripped': 1,
        'E1.run-command': 0,
        'E1.motor-running': 1,
      }),
  ],
  ['alarm-missing', () => expect(mid('alarm-missing', 29)).toMatchObject({ 'E1.horn': 0, 'E1.tripped': 1 })],
  ['delay-too-long', () => expect(mid('delay-too-long', 19)['E1.tripped']).toBe(0)],
  [
    'releases-on-recovery',
    () => expect(mid('releases-on-recovery', 33)).toMatchObject({ 'E1.tripped': 0, 'E1.run-command': 1 }),
  ],
  [
    'another-machine-trips',
    () => expect(mid('another-machine-trips', 29)).toMatchObject({ 'E1.tripped': 0, 'C2.tripped': 1 }),
  ],
  [
    'bypass-left-on',
    () => expect(mid('bypass-left-on', 29)).toMatchObject({ 'E1.bypass': 1, 'E1.tripped': 0 }),
  ],
  ['auto-restart', () => expect(end('auto-restart')).toMatchObject({ 'E1.tripped': 0, 'E1.run-command': 1 })],
  [
    'normal-learned-slipping',
    () => expect(mid('normal-learned-slipping', 9)['E1.normal-speed']).toBeLessThan(84),
  ],
  [
    'cascade-missing',
    () => expect(mid('cascade-missing', 29)).toMatchObject({ 'E1.motor-running': 0, 'F1.motor-running': 1 }),
  ],
  [
    'alignment-stop-missing',
    () =>
      expect(
        mid('alignment-stop-missing', 20, [[10, { do: 'screw', machine: 'E1', turned: true }]]),
      ).toMatchObject({ 'E1.alignment-alarm': 1, 'E1.tripped': 0 }),
  ],
] as [Fault, () => void][])('fault %s changes what it says', (_fault, check) => check());

test('every fault of the list is tried above', () => {
  expect(Object.keys(FAULTS)).toHaveLength(12);
});

let plant: Plant;
beforeAll(async () => {
  plant = await startPlant({ seed: 1, opcuaPort: 0 });
});
afterAll(() => plant.stop());

/** One request over a raw socket: transaction 0x1501 as in the MBAP example, unit 1. */
const ask = (pdu: number[]): Promise<Buffer> =>
  new Promise((resolve, reject) => {
    const socket = connect(plant.modbus.port, plant.modbus.host);
    socket.once('error', reject);
    socket.once('data', (data) => {
      socket.destroy();
      resolve(data);
    });
    socket.write(Buffer.from([0x15, 0x01, 0, 0, 0, pdu.length + 1, 1, ...pdu]));
  });

test('writes and unknown functions are refused; addresses and counts out of range too (exceptions 1, 2, 3)', async () => {
  expect([...(await ask([6, 0, 0, 0, 1])).subarray(7)]).toEqual([0x86, 1]);
  expect([...(await ask([3, 0, 200, 0, 1])).subarray(7)]).toEqual([0x83, 2]);
  expect([...(await ask([3, 0, 0, 0, 126])).subarray(7)]).toEqual([0x83, 3]);
});

test('both protocols show the same values', async () => {
  const { AttributeIds, OPCUAClient } = await import('node-opcua-client');
  const client = OPCUAClient.create({ endpointMustExist: false });
  await client.connect(plant.opcua!.endpoint);
  const session = await client.createSession();
  const names = [
    'E1.bearing-temperature',
    'E1.normal-speed',
    'E1.revision',
    'E1.alignment',
    'C2.normal-speed',
  ];
  const index = (await session.readNamespaceArray()).indexOf('urn:tripwitness:plant:signals');
  const values = await session.read(
    names.map((name) => ({ nodeId: `ns=${index};s=${name}`, attributeId: AttributeIds.Value })),
  );
  await session.close();
  await client.disconnect();
  for (const [place, name] of names.entries()) {
    const entry = PLANT_MAP.find((one) => one.name === name)!;
    const data = await ask([3, 0, entry.register, 0, 1]);
    const raw = data.readUInt16BE(9);
    const value = entry.type === 'bit' ? (raw >> entry.bit!) & 1 : raw * entry.scale;
    expect(Number(values[place]!.value.value)).toBeCloseTo(value, 6);
  }
});

test('hands over their channel: a refusal says why, a start moves the machine', async () => {
  const hands = await connectHands(plant.hands.host, plant.hands.port);
  expect(await hands.do({ do: 'heat', machine: 'E1', to: 80, rate: 1 })).toMatchObject({ ok: false });
  expect(await hands.do({ do: 'start', machine: 'E1' })).toEqual({ ok: true });
  let running = 0;
  while (running !== 1)
    running = ((await hands.do({ do: 'state' })) as { state: Record<string, number> }).state[
      'E1.motor-running'
    ]!;
  hands.close();
});
