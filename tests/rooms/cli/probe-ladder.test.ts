/**
 * The ladder from a name to a value, each rung against a made-up server that fails there. Exceptions: Modbus Application
 * Protocol V1.1b3, section 7; frames: its 6.1–6.4 and the TCP messaging guide.
 */
import { spawn, spawnSync } from 'node:child_process';
import { createServer } from 'node:net';
import { createInterface } from 'node:readline';
import { afterEach, describe, expect, test } from 'vitest';
import { rungLines, rungTold } from '../../../src/cli/probe/rungs.ts';
import { type ProbeTarget, probeModbus, probeUnits } from '../../../src/field/index.ts';
import type { Line } from '../../../src/signal/index.ts';
import { type Behaviour, clock, type Device, device, right, rightRtu } from '../field/rig.ts';

const devices: Device[] = [];
afterEach(async () => {
  for (const one of devices.splice(0)) await one.stop();
});

const made = async (behaviour: Behaviour, size = 12): Promise<Device> => {
  const one = await device(behaviour, size);
  devices.push(one);
  return one;
};

const at = (port: number, more: Partial<ProbeTarget> = {}): ProbeTarget => ({
  line: { kind: 'tcp', host: '127.0.0.1', port },
  unit: 1,
  table: 'holding',
  at: 10,
  count: 2,
  around: 1,
  timeout: 200,
  ...more,
});

/** The rungs as a person reads them; the last one as code and text. */
const climbed = async (target: ProbeTarget) => {
  const { rungs, window } = await probeModbus(target, clock);
  const told = rungs.map((rung) => rungTold(rung, target));
  const text = rungLines(told).join('\n');
  for (const line of text.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  expect(text).not.toMatch(/not known|undefined|[{}[\]]/);
  const last = told.at(-1);
  for (const rung of told.slice(0, -1)) expect(rung.ok).toBe(true);
  if (last?.ok === false) {
    expect(last.means).toMatch(/\w{3}/);
    expect(last.next).toMatch(/\w{3}/);
  }
  const flat = text.replace(/\s+/g, ' ');
  return {
    steps: told.map(({ step }) => step),
    code: last?.code,
    next: last?.next ?? '',
    text: flat,
    window,
  };
};

const refusal = (request: Buffer, code: number): Buffer => {
  const answer = Buffer.alloc(9);
  request.copy(answer, 0, 0, 8);
  answer.writeUInt16BE(3, 4);
  answer[7] = (request[7] ?? 0) | 0x80;
  answer[8] = code;
  return answer;
};

const exception =
  (code: number): Behaviour =>
  (request) =>
    refusal(request, code);

const addressOf = (request: Buffer): number => request.readUInt16BE(8);
const lastOf = (request: Buffer): number => addressOf(request) + request.readUInt16BE(10) - 1;

describe('before anything is asked', () => {
  // RFC 6761: names under .invalid exist nowhere. Where no name server answers, that is said instead.
  test('a name that nobody has', async () => {
    const line: Line = { kind: 'tcp', host: 'no-such-device.invalid', port: 502 };
    const got = await climbed(at(502, { line }));
    expect(got.steps).toEqual(['name']);
    expect(['probe-name-unknown', 'probe-name-no-server', 'probe-name-failed']).toContain(got.code);
    expect(got.next).toContain('address in numbers');
  });

  test('a port at which nothing listens', async () => {
    const one = await device();
    await one.stop();
    const got = await climbed(at(one.port));
    expect(got).toMatchObject({ steps: ['name', 'connection'], code: 'probe-connection-refused' });
  });

  test.skipIf(process.platform !== 'linux' || spawnSync('/usr/bin/python3', ['-V']).status !== 0)(
    'a connection on which nothing comes back',
    async () => {
      // A queue of one that nobody empties: Linux drops what comes behind it.
      const script = `
import socket, sys, time
s = socket.socket(); s.bind(('127.0.0.1', 0)); s.listen(0)
full = []
for _ in range(8):
    c = socket.socket(); c.setblocking(False)
    c.connect_ex(s.getsockname()); full.append(c)
print(s.getsockname()[1], flush=True)
sys.stdin.read()`;
      const child = spawn('/usr/bin/python3', ['-c', script]);
      const port = await new Promise<number>((resolve) =>
        createInterface({ input: child.stdout }).once('line', (line) => resolve(Number(line))),
      );
      const got = await climbed(at(port));
      child.kill();
      expect(got).toMatchObject({ steps: ['name', 'connection'], code: 'probe-connection-timed-out' });
    },
  );

  test('a device that accepts and closes at once: its connections are taken', async () => {
    const server = createServer((socket) => socket.destroy());
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    const address = server.address();
    const got = await climbed(at(typeof address === 'object' && address !== null ? address.port : 0));
    await new Promise((resolve) => server.close(resolve));
    expect(got).toMatchObject({ steps: ['name', 'connection'], code: 'probe-closed-at-once' });
    expect(got.text).toContain('only one');
  });

  test('a serial port that is not there', async () => {
    const path = '/dev/no-such-port';
    const line: Line = { kind: 'serial', path, baud: 19_200, parity: 'even', dataBits: 8, stopBits: 1 };
    const got = await climbed(at(0, { line }));
    expect(got.steps).toEqual(['port']);
    if (process.platform === 'linux') expect(got.code).toBe('probe-port-missing');
  });
});

describe('the unit', () => {
  test('accepts and keeps silent: unit id, or RTU frames are expected', async () => {
    const one = await made(() => undefined);
    const got = await climbed(at(one.port));
    expect(got).toMatchObject({ steps: ['name', 'connection', 'unit'], code: 'probe-unit-silent' });
    expect(got.next).toContain('--units');
    expect(got.next).toContain('--rtu-over-tcp');
  });

  test('keeps silent on this address only, as some do where others refuse', async () => {
    const one = await made((request) => (addressOf(request) === 10 ? undefined : right(request)));
    const got = await climbed(at(one.port));
    expect(got).toMatchObject({ code: 'probe-address-silent' });
    expect(got.text).toContain('silent on hr:10');
    expect(got.text).toContain('answers at hr:0');
  });

  test('hangs up when it is asked', async () => {
    const one = await made((_, socket) => {
      socket.destroy();
      return undefined;
    });
    expect(await climbed(at(one.port))).toMatchObject({ code: 'probe-unit-hung-up' });
  });

  test('speaks something else', async () => {
    const one = await made(() => Buffer.from('HTTP/1.1 400 Bad Request\r\n\r\n'));
    expect(await climbed(at(one.port))).toMatchObject({ code: 'probe-unit-not-modbus' });
  });

  test.each([10, 11])('a gateway says %i: the unit is not reached', async (code) => {
    const one = await made(exception(code));
    const got = await climbed(at(one.port));
    expect(got).toMatchObject({ steps: ['name', 'connection', 'unit'], code: `probe-exception-${code}` });
    expect(got.text).toContain('gateway');
  });

  test('that speaks RTU over TCP is silent to TCP frames, and answers RTU frames', async () => {
    const deaf = await made(() => undefined, 8);
    expect(await climbed(at(deaf.port))).toMatchObject({ code: 'probe-unit-silent' });
    const one = await made(rightRtu, 8);
    const line: Line = { kind: 'rtu-over-tcp', host: '127.0.0.1', port: one.port };
    const got = await climbed(at(0, { line }));
    expect(got.window).toMatchObject({ from: 9, words: [9, 10, 11, 12] });
  });

  test('a few unit ids are asked one after the other, each once', async () => {
    const asked: number[] = [];
    const one = await made((request) => {
      asked.push(request[6] ?? 0);
      if (request[6] === 3) return right(request);
      return request[6] === 2 ? refusal(request, 2) : undefined;
    });
    const told = await probeUnits(at(one.port), [1, 2, 3], 1, clock);
    expect(told.map(({ unit, answered }) => [unit, answered])).toEqual([
      [1, false],
      [2, true],
      [3, true],
    ]);
    expect(asked).toEqual([1, 2, 3]);
  });
});

describe('the register', () => {
  test.each([1, 2, 3, 4, 5, 6, 8, 99])('exception %i', async (code) => {
    const one = await made(exception(code));
    const got = await climbed(at(one.port));
    expect(got.steps).toEqual(['name', 'connection', 'unit', 'register']);
    expect(got.code).toBe(code === 99 ? 'probe-exception-other' : `probe-exception-${code}`);
    expect(got.text).toContain(String(code));
  });

  test('what answers close by is named: one lower, and the other table', async () => {
    const one = await made((request) =>
      addressOf(request) === 9 || request[7] === 4 ? right(request) : refusal(request, 2),
    );
    const got = await climbed(at(one.port));
    expect(got.next).toContain('There is an answer at hr:9 and ir:10');
  });
});

describe('the block', () => {
  test('is asked in one question', async () => {
    const one = await made(right);
    const got = await climbed(at(one.port));
    expect(got.code).toBe('probe-block-read');
    expect(got.window).toMatchObject({ from: 9, words: [9, 10, 11, 12], questions: 1 });
  });

  test('with a hole is asked in parts, and never tells more than what answers', async () => {
    const one = await made((request) => (lastOf(request) > 11 ? refusal(request, 2) : right(request)));
    const got = await climbed(at(one.port, { count: 4, around: 3 }));
    expect(got.code).toBe('probe-block-in-parts');
    expect(got.window).toMatchObject({ from: 7, words: [7, 8, 9, 10, 11] });
  });

  test('begins at the first address, ends at the last', async () => {
    const one = await made(right);
    expect((await climbed(at(one.port, { at: 0, around: 3 }))).window?.from).toBe(0);
    const end = await climbed(at(one.port, { at: 65_535, count: 1, around: 2 }));
    expect(end.window?.words).toEqual([65_533, 65_534, 65_535]);
  });
});

test('whatever goes wrong, nothing but reads is ever sent, and never many', async () => {
  for (const behaviour of [right, exception(2), exception(3), () => undefined]) {
    const functions: number[] = [];
    const one = await made((request) => {
      functions.push(request[7] ?? 0);
      return behaviour(request, undefined as never);
    });
    await climbed(at(one.port, { count: 30, around: 5 }));
    expect(functions.every((code) => code >= 1 && code <= 4)).toBe(true);
    expect(functions.length).toBeLessThanOrEqual(45);
    expect(functions.length).toBeGreaterThan(0);
  }
});
