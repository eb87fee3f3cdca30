import { execFile, spawnSync } from 'node:child_process';
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { connect, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { type ClientSession, OPCUAClient } from 'node-opcua-client';
import { afterAll, beforeAll, expect, onTestFinished, test, vi } from 'vitest';
import { connectHands, NAMESPACE, PLANT_MAP, type Plant, startPlant } from '../../../src/plant/index.ts';
import { advance, applyHand, coilsOf, REGISTERS, registersOf } from '../../../src/plant/model/index.ts';

let plant: Plant;
/** Its model has been moved far ahead of the wall's time: it stands still, and both protocols can be compared. */
let ahead: Plant;

const moveAhead = ({ model }: Plant): void => {
  for (const machine of ['E1', 'C2'] as const) applyHand(model, { do: 'start', machine, seconds: 1 });
  advance(model, 4_000_000);
  applyHand(model, { do: 'start', machine: 'F1' });
  applyHand(model, { do: 'force', machine: 'C2', on: true });
  applyHand(model, { do: 'screw', machine: 'C2', turned: true });
  advance(model, 596_000_000);
};

beforeAll(async () => {
  [plant, ahead] = await Promise.all([
    startPlant({ seed: 1, opcuaPort: 0 }),
    startPlant({ seed: 1, opcuaPort: 0 }),
  ]);
  moveAhead(ahead);
});
afterAll(() => Promise.all([plant.stop(), ahead.stop()]));

const dial = (to: Plant): Promise<Socket> =>
  new Promise((resolve, reject) => {
    const socket = connect(to.modbus.port, to.modbus.host, () => resolve(socket));
    socket.once('error', reject);
  });

/** Resolves with `length` bytes, or with what had come when the other side closed. */
const receive = (socket: Socket, length: number): Promise<Buffer> =>
  new Promise((resolve) => {
    let got = Buffer.alloc(0);
    socket.on('close', () => resolve(got));
    socket.on('data', (data) => {
      got = Buffer.concat([got, data]);
      if (got.length >= length) resolve(got);
    });
  });

const frame = (id: number, pdu: readonly number[]): number[] => [
  id >> 8,
  id & 255,
  0,
  0,
  0,
  pdu.length + 1,
  1,
  ...pdu,
];

/** One request over a raw socket; the answer's bytes behind the MBAP header. */
const ask = async (to: Plant, pdu: number[], length: number): Promise<number[]> => {
  const socket = await dial(to);
  socket.write(Buffer.from(frame(0x1501, pdu)));
  const answer = await receive(socket, 7 + length);
  socket.destroy();
  expect([...answer.subarray(0, 7)]).toEqual(frame(0x1501, new Array(length)).slice(0, 7));
  return [...answer.subarray(7)];
};

/** Modbus Application Protocol V1.1b3, 7: function code + 0x80, then 01 function, 02 address, 03 value. */
test.each([
  ['write single register', [6, 0, 0, 0, 1], [0x86, 1]],
  ['write multiple coils', [15, 0, 0, 0, 1, 1, 1], [0x8f, 1]],
  ['a function nobody knows', [100], [0xe4, 1]],
  ['a register beyond the last', [3, 0, 60, 0, 1], [0x83, 2]],
  ['a block that reaches beyond the last', [4, 0, 59, 0, 2], [0x84, 2]],
  ['a coil beyond the last', [1, 0, 80, 0, 1], [0x81, 2]],
  ['no registers', [3, 0, 0, 0, 0], [0x83, 3]],
  ['more than 125 registers', [3, 0, 0, 0, 126], [0x83, 3]],
  ['more than 2000 inputs', [2, 0, 0, 0x07, 0xd1], [0x82, 3]],
  ['a request that is too short', [3, 0, 0, 1], [0x83, 3]],
])('refused by the Modbus server: %s', async (_name, pdu, exception) => {
  expect(await ask(plant, pdu, 2)).toEqual(exception);
});

test('requests glued together and torn apart are answered one by one, in order', async () => {
  const socket = await dial(ahead);
  const bytes = [...frame(1, [3, 0, 3, 0, 1]), ...frame(2, [3, 0, 23, 0, 1])];
  const answers = receive(socket, 22);
  socket.write(Buffer.from(bytes.slice(0, 5)));
  socket.write(Buffer.from(bytes.slice(5, 17)));
  socket.write(Buffer.from(bytes.slice(17)));
  // Normal speeds of the two machines, 96.0 and 60.0 rpm in tenths.
  expect([...(await answers)]).toEqual([...frame(1, [3, 2, 0x03, 0xc0]), ...frame(2, [3, 2, 0x02, 0x58])]);
  socket.destroy();
});

test('a frame of another protocol ends the connection', async () => {
  const socket = await dial(plant);
  socket.write(Buffer.from([0, 1, 0x12, 0x34, 0, 6, 1, 3, 0, 0, 0, 1]));
  expect(await receive(socket, 1)).toHaveLength(0);
});

const registers = async (to: Plant): Promise<number[]> => {
  const [, , ...bytes] = await ask(to, [3, 0, 0, 0, REGISTERS], 2 + 2 * REGISTERS);
  return Array.from({ length: REGISTERS }, (_, index) => bytes[2 * index]! * 256 + bytes[2 * index + 1]!);
};

/** Decoded here apart from the plant's own code, after the map alone. */
const decode = (words: readonly number[], entry: (typeof PLANT_MAP)[number]): number => {
  const word = words[entry.register]!;
  const pair = [word, words[entry.register + 1]!];
  const [high, low] = entry.order === 'CDAB' ? [pair[1]!, pair[0]!] : [pair[0]!, pair[1]!];
  if (entry.type === 'bit') return (word >> entry.bit!) & 1;
  if (entry.type === 'uint32') return (high * 65_536 + low) * entry.scale;
  if (entry.type === 'float32')
    return Buffer.from([high >> 8, high & 255, low >> 8, low & 255]).readFloatBE();
  if (entry.type === 'int16') return (word > 32_767 ? word - 65_536 : word) * entry.scale;
  return word * entry.scale;
};

const withSession = async <T>(to: Plant, use: (session: ClientSession) => Promise<T>): Promise<T> => {
  const client = OPCUAClient.create({ endpointMustExist: false });
  await client.connect(to.opcua!.endpoint);
  try {
    const session = await client.createSession();
    return await use(session).finally(() => session.close());
  } finally {
    await client.disconnect();
  }
};

const indexOf = async (session: ClientSession): Promise<number> =>
  (await session.readNamespaceArray()).indexOf(NAMESPACE);

test('both protocols show the same value for every signal of the map', async () => {
  const words = await registers(ahead);
  const values = await withSession(ahead, async (session) => {
    const index = await indexOf(session);
    return session.read(PLANT_MAP.map(({ name }) => ({ nodeId: `ns=${index};s=${name}` })));
  });
  for (const [place, entry] of PLANT_MAP.entries()) {
    const shown = Number(values[place]!.value.value);
    expect([entry.name, shown]).toEqual([entry.name, expect.closeTo(decode(words, entry), 6)]);
  }
  // Not a comparison of zeros with zeros.
  expect(ahead.model.image).toMatchObject({ 'E1.run-command': 1, 'C2.tripped': 1, 'C2.force': 1 });
  expect(ahead.model.image['E1.belt-speed']).toBeCloseTo(3.04, 2);
});

test('a variable carries the time of the scan that changed it', async () => {
  const seen = await withSession(plant, async (session) => {
    const index = await indexOf(session);
    const nodeId = `ns=${index};s=E1.heartbeat`;
    const got: { beat: number; at: number }[] = [];
    while (got.length < 8) {
      const { value, sourceTimestamp } = await session.read({ nodeId });
      const beat = Number(value.value);
      if (beat !== got.at(-1)?.beat) got.push({ beat, at: sourceTimestamp!.getTime() });
    }
    return got;
  });
  const [first, last] = [seen[0]!, seen.at(-1)!];
  // 20 ms a scan, ± 2 ms of jitter at both ends, and times in whole milliseconds.
  expect(Math.abs(last.at - first.at - (last.beat - first.beat) * 20)).toBeLessThanOrEqual(6);
  expect(Math.abs(Date.now() - last.at)).toBeLessThan(2_000);
});

test('the OPC UA server takes no write', async () => {
  const status = await withSession(ahead, async (session) => {
    const index = await indexOf(session);
    return session.write({
      nodeId: `ns=${index};s=E1.bypass`,
      attributeId: 13,
      value: { value: { dataType: 'Boolean', value: true } },
    });
  });
  expect(status.name).toMatch(/^Bad/);
});

const PYTHON = '/usr/bin/python3';
const pymodbus = spawnSync(PYTHON, ['-c', 'import pymodbus.client']).status === 0;

test.skipIf(!pymodbus)(
  `an independent client reads the same map${pymodbus ? '' : ' (skipped: Debian package python3-pymodbus is missing)'}`,
  async () => {
    const script = fileURLToPath(new URL('./read_map.py', import.meta.url));
    const { stdout } = await promisify(execFile)(PYTHON, [script, String(ahead.modbus.port)]);
    const { image } = ahead.model;
    const bits = [...coilsOf(image)].map((value) => value === 1);
    expect(JSON.parse(stdout)).toEqual({
      holding: [...registersOf(image)],
      input: [...registersOf(image)],
      coils: bits,
      discrete: bits,
      beyond: 2,
      write: 1,
    });
  },
);

test('hands over their channel: a refusal says why, a start moves the machine', async () => {
  const hands = await connectHands(plant.hands.host, plant.hands.port);
  expect(await hands.do({ do: 'heat', machine: 'E1', to: 80, rate: 1 })).toMatchObject({ ok: false });
  expect(await hands.do({ do: 'start', machine: 'E1' })).toEqual({ ok: true });
  let speed = 0;
  while (speed < 10) {
    const answer = await hands.do({ do: 'state' });
    speed = answer.ok ? (answer.truth?.['E1.head-speed'] ?? 0) : Number.NaN;
  }
  expect(plant.model.image['E1.motor-running']).toBe(1);
  hands.close();
  await expect(hands.do({ do: 'state' })).rejects.toThrow('closed');
});

test.each([
  ['{"do":"start"', /not JSON/],
  ['{"do":"strat","machine":"E1"}', /do/],
  ['{"do":"step","machine":"E1","percent":"82"}', /percent/],
  ['{"do":"heat","machine":"E9","to":80,"rate":1}', /machine/],
  ['{"do":"screw","machine":"E1","turned":true,"force":true}', /force/],
])('a line that is no command is refused and named: %s', async (line, why) => {
  const socket = connect(plant.hands.port, plant.hands.host);
  socket.write(`${line}\n`);
  const answer = await new Promise<string>((resolve) => socket.once('data', (data) => resolve(String(data))));
  socket.destroy();
  expect(JSON.parse(answer)).toEqual({ ok: false, error: expect.stringMatching(why) });
});

test('a port that is taken is named, and nothing is left behind', async () => {
  // A folder of its own for temporary things: other tests start plants at the same time.
  const own = await mkdtemp(join(tmpdir(), 'tripwitness-taken-'));
  vi.stubEnv('TMPDIR', own);
  onTestFinished(async () => {
    vi.unstubAllEnvs();
    await rm(own, { recursive: true });
  });
  const taken = plant.modbus.port;
  await expect(startPlant({ seed: 1, modbusPort: taken, opcuaPort: 0 })).rejects.toThrow(
    `Modbus TCP of the simulated plant cannot listen on 127.0.0.1:${taken}`,
  );
  const uaPort = Number(new URL(plant.opcua!.endpoint).port);
  await expect(startPlant({ seed: 1, opcuaPort: uaPort })).rejects.toThrow(`127.0.0.1:${uaPort}`);
  expect(await readdir(own)).toEqual([]);
});

test('a stopped plant frees its ports', async () => {
  const short = await startPlant({ seed: 1 });
  await short.stop();
  const again = await startPlant({ seed: 1, modbusPort: short.modbus.port, handsPort: short.hands.port });
  await again.stop();
});
