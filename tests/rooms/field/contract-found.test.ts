/** What the fault campaign has found, each brought about by itself. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { type FieldEvent, openOpcUa } from '../../../src/field/index.ts';
import { dial } from '../../../src/field/modbus/wire.ts';
import type { SignalId } from '../../../src/measure/index.ts';
import {
  type Answer,
  createDecoder,
  type ModbusSource,
  type OpcUaSource,
} from '../../../src/signal/index.ts';
import { heldSlowly, NAMESPACE, startClockedOpcUa } from '../../servers/clocked-opcua.ts';
import { startClockedPeer } from '../../servers/clocked-peer.ts';
import { startFaultProxy } from '../../servers/fault-proxy.ts';
import type { Framing } from '../../servers/frames.ts';
import { startLine } from '../../servers/lines.ts';
import { liveSignal } from '../../servers/oracle.ts';
import { ownHost } from '../../servers/own-host.ts';
import { modbusSource, openSources } from '../../servers/sources.ts';
import { clock } from '../../servers/truth.ts';
import { hasSocat } from './serial-rig.ts';

const open = async (framing: Framing, units: readonly number[], more: Partial<ModbusSource> = {}) => {
  const peer = await startClockedPeer(framing);
  const proxy = await startFaultProxy(framing, peer.port);
  const { host, port } = proxy;
  const kind = framing === 'rtu' ? 'rtu-over-tcp' : 'tcp';
  const sources = units.map((unit) => modbusSource({ line: { kind, host, port }, unit, ...more }));
  const signals = units.map((_, index) => liveSignal(index, index, 'holding', 200));
  const answers: Answer[] = [];
  const events: FieldEvent[] = [];
  let check = (): void => undefined;
  const { stop } = openSources(sources, signals, {
    answer: (answer) => {
      answers.push(answer);
      check();
    },
    event: (event) => events.push(event),
  });
  onTestFinished(async () => {
    await stop();
    await proxy.stop();
    await peer.stop();
  });
  const of = (source: number): Answer[] => answers.filter((one) => one.source === source);
  return {
    proxy,
    of,
    until: (done: () => boolean): Promise<void> =>
      new Promise((resolve) => {
        check = () => {
          if (done()) resolve();
        };
        check();
      }),
  };
};

const isGood = (one: Answer | undefined): boolean => one?.kind === 'words';

test.skipIf(!hasSocat)(
  `a serial port that opens too late is not taken for an open one${hasSocat ? '' : ' (skipped: socat is missing)'}`,
  async () => {
    const line = await startLine('pair');
    onTestFinished(() => line.stop());
    const ears = { bytes: () => undefined, gone: () => undefined };
    const settings = { baud: 115_200, parity: 'none', dataBits: 8, stopBits: 1 } as const;
    const dialing = dial({ kind: 'serial', path: line.path, ...settings }, 60_000, ears);
    dialing.cancel();
    expect(await dialing.wire).toMatchObject({ code: 'stopped' });
  },
);

test('a converter whose connection is half-open for good is called anew', async () => {
  const { proxy, of, until } = await open('rtu', [1]);
  await until(() => of(0).some(isGood));
  const { over } = await proxy.strike({ kind: 'half-open', ms: 0, release: false });
  await until(() => of(0).some((one) => isGood(one) && 'sent' in one && one.sent > over));
  expect(proxy.accepted(over)).toBeDefined();
});

test('one lost answer among units that share a connection costs that unit one try, not a rest', async () => {
  const { proxy, of, until } = await open('mbap', [1, 2]);
  await until(() => of(0).some(isGood) && of(1).some(isGood));
  const { began } = await proxy.strike({ kind: 'drop-answer' });
  const after = (source: number): Answer[] => of(source).filter((one) => 'sent' in one && one.sent >= began);
  await until(() => [0, 1].every((source) => after(source).filter(isGood).length >= 3));
  for (const source of [0, 1]) {
    const first = after(source).findIndex(isGood);
    expect(after(source).slice(0, first).length).toBeLessThanOrEqual(2);
  }
});

test('a shared connection that was dead for long is back for each of its units at once', async () => {
  const { proxy, of, until } = await open('mbap', [1, 2], { timeout: 40_000 });
  await until(() => of(0).some(isGood) && of(1).some(isGood));
  const { over } = await proxy.strike({ kind: 'mute', ms: 1_000 });
  const after = (source: number): Answer[] => of(source).filter((one) => 'sent' in one && one.sent >= over);
  await until(() => [0, 1].every((source) => after(source).some(isGood)));
  // A try that was on its way may end first, and the other unit's with it.
  for (const source of [0, 1]) expect(after(source).findIndex(isGood)).toBeLessThanOrEqual(6);
});

test('words that are held up right after a subscription is made are placed where they were true', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'tripwitness-found-'));
  const server = await startClockedOpcUa(ownHost(), 0, join(folder, 'server'));
  const { hostname, port } = new URL(server.endpoint.replace('opc.tcp', 'http'));
  const proxy = await startFaultProxy('bytes', Number(port), hostname);
  const source: OpcUaSource = {
    protocol: 'opc-ua',
    name: 'server',
    endpoint: `opc.tcp://${proxy.host}:${proxy.port}`,
    access: { mode: 'none', policy: 'Basic256Sha256', user: { kind: 'anonymous' } },
    sampling: 20_000,
    publishing: 50_000,
    queue: 10,
    timeout: 2_000_000,
    scan: 0,
    sourceClock: 'server',
  };
  const signals = [
    {
      ...liveSignal(0, 0, 'holding', 0),
      address: { kind: 'opc-ua', namespace: NAMESPACE, id: 's=slow-a' },
      decoding: { as: 'value', scale: 1, offset: 0, inverted: false },
    },
  ] as const;
  const decoder = createDecoder(signals, [source], {
    requests: [],
    items: new Map([[0, [0 as SignalId]]]),
  });
  let held: Promise<unknown> | undefined;
  let check = (): void => undefined;
  const wrong: unknown[] = [];
  let good = 0;
  const sink = {
    answer: (answer: Answer) => {
      for (const reading of decoder.feed(answer)) {
        if (reading.value === undefined) continue;
        good += 1;
        if (!heldSlowly('slow-a', reading.value.low, reading.at)) wrong.push(reading);
      }
      if (answer.kind === 'terms') held ??= proxy.strike({ kind: 'half-open', ms: 500, release: true });
      check();
    },
    event: () => undefined,
  };
  const opened = openOpcUa(source, 0, signals, sink, clock, { pki: join(folder, 'client') });
  onTestFinished(async () => {
    await opened.stop();
    await proxy.stop();
    await server.stop();
    rmSync(folder, { recursive: true, force: true });
  });
  await new Promise<void>((resolve) => {
    check = () => {
      if (good >= 20) resolve();
    };
  });
  await held;
  expect(wrong).toEqual([]);
});
