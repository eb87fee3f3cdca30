/** What the fault campaign has found, each brought about by itself. */
import { expect, onTestFinished, test } from 'vitest';
import type { FieldEvent } from '../../../src/field/index.ts';
import { dial } from '../../../src/field/wire.ts';
import type { Answer, ModbusSource } from '../../../src/signal/index.ts';
import { startClockedPeer } from '../../servers/clocked-peer.ts';
import { startFaultProxy } from '../../servers/fault-proxy.ts';
import type { Framing } from '../../servers/frames.ts';
import { startLine } from '../../servers/lines.ts';
import { liveSignal } from '../../servers/oracle.ts';
import { modbusSource, openSources } from '../../servers/sources.ts';
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
