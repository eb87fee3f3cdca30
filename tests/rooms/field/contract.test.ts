/**
 * What every source promises, against every kind of peer: servers that this project did not write (libmodbus in C,
 * pymodbus, node-opcua with each security mode), the simulated plant, TCP, RTU over TCP, and serial lines. The table of
 * peers and cases is printed at the end, and written to the file that TRIPWITNESS_CONTRACT names.
 */
import { writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { FieldEvent } from '../../../src/field/index.ts';
import type { Reading, SignalId } from '../../../src/measure/index.ts';
import { createDecoder } from '../../../src/signal/index.ts';
import { handles, leftBehind } from '../../servers/handles.ts';
import { clock } from '../../servers/truth.ts';
import { PEERS, type Peer } from './contract-peers.ts';

type Row = Reading;

interface Open {
  readonly readings: Row[];
  readonly events: FieldEvent[];
  until(test: () => boolean): Promise<void>;
  stop(): Promise<void>;
}

const openOn = (peer: Peer): Open => {
  const readings: Row[] = [];
  const events: FieldEvent[] = [];
  let check = (): void => undefined;
  const decoders: ReturnType<typeof createDecoder>[] = [];
  const opened = peer.open({
    answer: (answer) => {
      decoders[0] ??= createDecoder(peer.signals, peer.sources, opened.plan);
      readings.push(...decoders[0].feed(answer));
      check();
    },
    event: (event) => {
      events.push(event);
      check();
    },
  });
  return {
    readings,
    events,
    until: (test_) =>
      new Promise((resolve) => {
        check = () => {
          if (test_()) resolve();
        };
        check();
      }),
    stop: () => opened.stop(),
  };
};

const good = (readings: readonly Row[], id: SignalId) =>
  readings.flatMap((one) =>
    one.signal === id && 'value' in one ? [{ at: one.at, value: one.value.low }] : [],
  );
const absent = (readings: readonly Row[], id: SignalId) =>
  readings.flatMap((one) => (one.signal === id && 'absent' in one ? [one] : []));

type Case = (peer: Peer) => Promise<string | undefined>;

const values: Case = async (peer) => {
  const open = openOn(peer);
  await open.until(() => [...peer.fixed.keys()].every((id) => good(open.readings, id).length > 0));
  await open.stop();
  for (const [id, value] of peer.fixed) {
    const seen = [...new Set(good(open.readings, id).map((one) => one.value))];
    const name = peer.signals[id]?.name;
    expect([name, seen.length === 1 && Math.abs(seen[0]! - value) < 1e-9]).toEqual([name, true]);
  }
  return `${peer.fixed.size} signals`;
};

const changes: Case = async (peer) => {
  const open = openOn(peer);
  const seen = (): number[] => [...new Set(good(open.readings, peer.steps).map((one) => one.value))];
  await open.until(() => seen().length >= 4);
  await open.stop();
  const order = good(open.readings, peer.steps).map((one) => one.value);
  for (let index = 1; index < order.length; index += 1)
    expect((order[index]! - order[index - 1]!) & 0xffff).toBeLessThan(0x8000);
  return `${seen().length} in order`;
};

const refused: Case = async (peer) => {
  const open = openOn(peer);
  await open.until(() => open.events.some((one) => one.kind === 'refused'));
  const told = open.readings.length;
  await open.until(() => {
    const later = open.readings.slice(told);
    return [...peer.fixed.keys(), peer.live].every((id) => good(later, id).length > 0);
  });
  await open.stop();
  expect(good(open.readings, peer.refused)).toEqual([]);
  const [event] = open.events.filter((one) => one.kind === 'refused');
  const { address } = peer.signals[peer.refused]!;
  if (address.kind === 'modbus') expect(event?.params).toMatchObject({ address: address.at });
  else expect(event?.params).toMatchObject({ signal: 'nowhere' });
  expect(absent(open.readings, peer.refused).some((one) => one.absent === 'refused')).toBe(true);
  return undefined;
};

/** One outage, of which two cases tell: the readings of a source that was open all the time. */
interface Outage {
  readonly readings: readonly Row[];
  readonly lost: boolean;
  /** When the peer was gone, and when it served again. */
  readonly gone: number;
  readonly back: number;
}

const outages = new Map<Peer, Promise<Outage>>();

const suffer = async (peer: Peer): Promise<Outage> => {
  const open = openOn(peer);
  const { readings, events } = open;
  await open.until(() => good(readings, peer.live).length > 2);
  await peer.stop();
  const gone = clock.now();
  const told = absent(readings, peer.live).length;
  await open.until(() => absent(readings, peer.live).length >= told + 3);
  await peer.start();
  const back = clock.now();
  const isBack = (): boolean => events.some((one) => one.kind === 'back');
  await open.until(
    () => isBack() && good(readings, peer.live).filter((one) => one.at.earliest >= back).length > 2,
  );
  await open.stop();
  return { readings, lost: events.some((one) => one.kind === 'lost'), gone, back };
};

const outageOf = (peer: Peer): Promise<Outage> => {
  const outage = outages.get(peer) ?? suffer(peer);
  outages.set(peer, outage);
  return outage;
};

const stops: Case = async (peer) => {
  const { readings, lost, gone, back } = await outageOf(peer);
  const between = readings.filter(({ at }) => at.earliest > gone && at.latest < back);
  expect(good(between, peer.live)).toEqual([]);
  const reasons = [...new Set(absent(between, peer.live).map((one) => one.absent))].sort();
  expect(reasons.filter((why) => why !== 'timed-out' && why !== 'interrupted')).toEqual([]);
  expect(reasons.length).toBeGreaterThan(0);
  expect(lost).toBe(true);
  return reasons.join(', ');
};

const returns: Case = async (peer) => {
  const { readings, back } = await outageOf(peer);
  const after = readings.filter((one) => one.signal === peer.live && one.at.earliest >= back);
  const value = after.findIndex((one) => 'value' in one);
  expect(value).toBeGreaterThanOrEqual(0);
  const before = after.slice(0, value).map((one) => ('absent' in one ? one.absent : ''));
  // Slots in which a busy machine did not ask at all tell nothing of how soon the peer is found again.
  const slots = before.filter((why) => why !== 'not-polled').length;
  expect(slots, before.join(', ')).toBeLessThanOrEqual(peer.slots);
  return `${slots} slots`;
};

const leaves: Case = async (peer) => {
  const before = handles();
  for (let round = 0; round < 3; round += 1) {
    const open = openOn(peer);
    await open.until(() => good(open.readings, peer.live).length > 0);
    await open.stop();
  }
  expect(await leftBehind(before)).toEqual([]);
  return undefined;
};

const spans: Case = async (peer) => {
  const open = openOn(peer);
  await open.until(() => good(open.readings, peer.live).length >= 30);
  await open.stop();
  const seen = good(open.readings, peer.live);
  expect(seen.filter((one) => !peer.held(one.value, one.at))).toEqual([]);
  return `${seen.length} readings`;
};

const CASES: readonly (readonly [string, Case])[] = [
  ['right values of every table and type', values],
  ['changes in order', changes],
  ['a refused address is named, the rest goes on', refused],
  ['a span holds the instant of its value', spans],
  ['a peer that stops is absent, with the reason', stops],
  ['a peer that returns is back', returns],
  ['stop leaves nothing behind', leaves],
];

const table = new Map<string, Map<string, string>>();

for (const kind of PEERS)
  describe.skipIf(kind.missing !== undefined)(
    kind.missing === undefined ? kind.name : `${kind.name} (skipped: ${kind.missing})`,
    () => {
      let peer: Peer;
      beforeAll(async () => {
        peer = await kind.make();
      });
      afterAll(() => peer.end());
      test.each(CASES)('%s', { timeout: 30_000 }, async (name, check) => {
        const row = table.get(kind.name) ?? new Map<string, string>();
        table.set(kind.name, row);
        row.set(name, 'no');
        const more = await check(peer);
        row.set(name, more === undefined ? 'yes' : `yes: ${more}`);
      });
    },
  );

afterAll(() => {
  const lines = [...table].map(
    ([peer, row]) => `| ${peer} | ${CASES.map(([name]) => row.get(name) ?? '–').join(' | ')} |`,
  );
  const head = `| peer | ${CASES.map(([name]) => name).join(' | ')} |`;
  const text = [head, `|---|${'---|'.repeat(CASES.length)}`, ...lines, ''].join('\n');
  console.log(text);
  const file = process.env['TRIPWITNESS_CONTRACT'];
  if (file !== undefined) writeFileSync(file, text);
});
