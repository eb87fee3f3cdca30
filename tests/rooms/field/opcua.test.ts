/** A subscription over real sockets: terms, clock, paths, overflow, restarts, silence, and what is told of each. */
import { createServer } from 'node:net';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { probeOpcUa } from '../../../src/field/index.ts';
import { NAMESPACE, type Plant, startPlant } from '../../../src/plant/index.ts';
import type { Address, Answer } from '../../../src/signal/index.ts';
import { ANONYMOUS, folder, good, inPlant, proxy, signals, watchOpcUa } from './opcua-rig.ts';

const path = (...names: readonly string[]): Address => ({
  kind: 'opc-ua-path',
  path: names.map((name) => ({ namespace: NAMESPACE, name })),
});

describe('against the plant', () => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant({ seed: 1, opcuaPort: 0 });
  });
  afterAll(() => plant.stop());

  test('terms come before the first value, and the clock is asked several times', async () => {
    const watched = watchOpcUa(plant.opcua!.endpoint, signals(inPlant('E1.normal-speed')), {
      // The library's server samples every 50 ms at best.
      sampling: 1_000,
      publishing: 100_000,
    });
    const clocks = (): Answer[] => watched.answers.filter(({ kind }) => kind === 'clock');
    await watched.until(() => watched.items().some(good) && clocks().length >= 8);
    await watched.source.stop();
    const kinds = watched.answers.filter((one) => one.kind !== 'items' || one.items.some(good));
    expect(kinds.find(({ kind }) => kind !== 'clock')).toMatchObject({
      kind: 'terms',
      publishing: 100_000,
      items: [{ signal: 0, sampling: 50_000, queue: 10 }],
    });
    expect(watched.events).toMatchObject([
      {
        kind: 'note',
        code: 'sampling-revised',
        params: { requested: 1, granted: 50, items: 1, first: 's0' },
      },
    ]);
    for (const answer of clocks()) {
      if (answer.kind !== 'clock') continue;
      expect(answer.received).toBeGreaterThanOrEqual(answer.sent);
      // The plant's clock is this machine's; the rig's begins elsewhere.
      expect(Math.abs(answer.theirs / 1_000 - Date.now())).toBeLessThan(600_000);
      // This server takes its time and the source time of that node from two clocks: nothing finer than its time holds.
      expect(answer.theirs % 1_000).toBe(0);
    }
  });

  test('a path of names leads to the same value; one that leads nowhere is named at its first wrong name', async () => {
    const watched = watchOpcUa(
      plant.opcua!.endpoint,
      signals(
        path('Plant', 'E1.normal-speed'),
        path('Plant', 'E1.no-such', 'deeper'),
        { kind: 'opc-ua', namespace: 'urn:nobody', id: 's=x' },
        { kind: 'opc-ua', namespace: NAMESPACE, id: 's=E1.no-such' },
        { kind: 'opc-ua', namespace: '', id: 'i=2254' },
      ),
    );
    await watched.until(
      () => watched.items().some(good) && watched.events.filter(({ kind }) => kind === 'refused').length >= 4,
    );
    await watched.source.stop();
    expect(watched.items().find(good)).toMatchObject({ signal: 0, value: 96 });
    expect(watched.events.map(({ code, params }) => [code, params['signal'], params['name'] ?? ''])).toEqual([
      ['path-not-found', 's1', 'E1.no-such'],
      ['namespace-unknown', 's2', ''],
      ['item-refused', 's3', ''],
      ['value-not-a-number', 's4', ''],
    ]);
    const whys = watched
      .items()
      .filter(({ signal }) => signal === 1)
      .map(({ why }) => why);
    expect(whys.at(-1)).toBe('refused');
  });

  test('a probe goes the whole way and shows what it found', async () => {
    const options = { access: ANONYMOUS, timeout: 10_000, pki: folder() };
    const { endpoint } = plant.opcua!;
    const found = await probeOpcUa(endpoint, {
      ...options,
      browse: { from: path('Plant') as never, depth: 1, limit: 3 },
      read: [inPlant('E1.normal-speed') as never, path('Plant', 'nothing') as never],
    });
    expect(found).toMatchObject({
      name: { addresses: ['127.0.0.1'] },
      endpoints: [{ mode: 'none', policy: 'None' }],
      browsed: { more: true },
      values: [
        { read: { value: 96, type: 'Double', statusName: 'Good' } },
        { trouble: { code: 'path-not-found' } },
      ],
    });
    const [first] = found.browsed?.nodes ?? [];
    expect(found.browsed?.nodes).toHaveLength(3);
    expect(first?.address).toBe(`nsu=${NAMESPACE};s=${first?.name}`);
    expect(first?.path).toBe(`path=/nsu=${NAMESPACE};Plant/${first?.name}`);
    expect(first?.read?.status).toBe(0);
    const nowhere = await probeOpcUa(endpoint, {
      ...options,
      browse: { from: path('Plont') as never, depth: 1, limit: 3 },
    });
    expect(nowhere.trouble).toMatchObject({
      stage: 'browse',
      code: 'path-not-found',
      params: { name: 'Plont' },
    });
    expect(nowhere.session?.namespaces).toContain(NAMESPACE);
  });

  test('a network that swallows bytes is absence, then a loss; what comes after it is seen before it is believed', async () => {
    const between = await proxy(plant.opcua!.endpoint);
    const watched = watchOpcUa(between.endpoint, signals(inPlant('E1.normal-speed')), { timeout: 1_500_000 });
    await watched.until(() => watched.items().some(good));
    between.hold(true);
    const held = watched.items().length;
    await watched.until(() => watched.events.some(({ kind }) => kind === 'lost'));
    const silent = watched.items().slice(held);
    expect(silent.map(({ why }) => why)).toContain('timed-out');
    expect(watched.events[0]).toMatchObject({ kind: 'lost', code: 'silent' });
    await watched.until(() => watched.items().at(-1)?.why === 'interrupted');
    between.hold(false);
    await watched.until(() => watched.events.some(({ kind }) => kind === 'back'));
    const back = watched.events.findIndex(({ kind }) => kind === 'back');
    await watched.until(() => good(watched.items().at(-1)!));
    expect(watched.events[back]?.since).toBe(watched.events[0]?.at);
    // Nothing from before the silence is repeated as if it were known.
    const lost = watched
      .items()
      .slice(held)
      .findIndex(({ why }) => why === 'interrupted');
    const after = watched.items().slice(held + lost);
    expect(after.find(({ why }) => why === undefined)?.unchanged).toBeUndefined();
    await watched.source.stop();
    await expect.poll(() => between.open()).toBe(0);
    await between.stop();
  });

  test('a queue that is too short is flagged: values were lost before this one', async () => {
    // The count of life moves with every scan; ten samples to a publication do not fit into two places.
    const watched = watchOpcUa(plant.opcua!.endpoint, signals(inPlant('E1.heartbeat')), {
      publishing: 500_000,
      queue: 2,
    });
    // InfoType DataValue and Overflow: OPC 10000-4, 7.39.1.
    await watched.until(() =>
      watched.items().some(({ status, why }) => why === undefined && (status & 0x480) === 0x480),
    );
    await watched.source.stop();
    expect(watched.items().find(({ status }) => status === 0x480)?.value).toBeTypeOf('number');
  });

  /** Binary encoding ids (OPC 10000-6, NodeIds.csv, from memory). */
  const PUBLISHED = 829;
  const REPUBLISH = 832;
  const REPUBLISHED = 835;

  /** Lets through all but the second message with values in it; a keep-alive is shorter. */
  const withoutSecond = (): ((kind: number, message: Buffer) => boolean) => {
    let seen = 0;
    return (kind, { length }) => {
      if (kind !== PUBLISHED || length < 150) return true;
      seen += 1;
      return seen !== 2;
    };
  };

  test('a message that went missing is asked for again, and nothing is told as lost', async () => {
    let again = 0;
    const between = await proxy(plant.opcua!.endpoint, {
      asked: (kind) => {
        if (kind === REPUBLISH) again += 1;
      },
      answered: withoutSecond(),
    });
    const watched = watchOpcUa(between.endpoint, signals(inPlant('E1.heartbeat')));
    await watched.until(() => again > 0);
    const before = watched.items().length;
    await watched.until(() => watched.items().length > before + 5);
    await watched.source.stop();
    await between.stop();
    expect(watched.events).toEqual([]);
    const times = watched
      .items()
      .flatMap(({ sourceTime, unchanged }) => (unchanged ? [] : (sourceTime ?? [])));
    expect(times).toEqual([...times].sort((a, b) => a - b));
  });

  test('a message that cannot be had again is a hole: all items are unknown, then read anew', async () => {
    const pass = withoutSecond();
    const between = await proxy(plant.opcua!.endpoint, {
      answered: (kind, message) => kind !== REPUBLISHED && pass(kind, message),
    });
    const watched = watchOpcUa(
      between.endpoint,
      signals(inPlant('E1.heartbeat'), inPlant('E1.normal-speed')),
      { timeout: 10_000_000 },
    );
    const hole = (): number => watched.items().findIndex(({ why }) => why === 'overflow');
    await watched.until(() => hole() >= 0 && watched.items().slice(hole()).filter(good).length >= 4);
    await watched.source.stop();
    await between.stop();
    const after = watched.items().slice(hole());
    expect(watched.events).toMatchObject([{ kind: 'note', code: 'values-lost', params: { items: 2 } }]);
    expect(after.filter(({ why }) => why === 'overflow').map(({ signal }) => signal)).toEqual([0, 1]);
    // The one that stands still is not repeated across the hole, but read.
    const still = after.find(({ signal, why }) => signal === 1 && why === undefined);
    expect(still).toMatchObject({ value: 96 });
    expect(still?.unchanged).toBeUndefined();
  });

  test('a subscription that was granted but delivers nothing is not believed, and is made anew', async () => {
    let deaf = true;
    const between = await proxy(plant.opcua!.endpoint, { answered: (kind) => kind !== PUBLISHED || !deaf });
    const watched = watchOpcUa(between.endpoint, signals(inPlant('E1.normal-speed')), { timeout: 1_000_000 });
    await watched.until(() => watched.events.some(({ code }) => code === 'never-delivered'));
    expect(watched.answers.some(({ kind }) => kind === 'terms')).toBe(true);
    expect(watched.source.stats().connected).toBe(false);
    expect(watched.items().every(({ why }) => why === 'interrupted')).toBe(true);
    deaf = false;
    await watched.until(() => watched.items().some(good));
    await watched.source.stop();
    expect(watched.events.map(({ kind }) => kind)).toEqual(['lost', 'back']);
    await between.stop();
  });

  test('somebody who accepts and says nothing is named, and no connection is left', async () => {
    let open = 0;
    const mute = createServer((socket) => {
      open += 1;
      socket.resume();
      socket.on('error', () => undefined);
      socket.on('close', () => {
        open -= 1;
      });
    });
    await new Promise<void>((resolve) => mute.listen(0, '127.0.0.1', resolve));
    const at = mute.address();
    const endpoint = `opc.tcp://127.0.0.1:${typeof at === 'object' && at ? at.port : 0}`;
    const watched = watchOpcUa(endpoint, signals(inPlant('E1.normal-speed')), { timeout: 300_000 });
    await watched.until(() => watched.events.length > 0);
    await watched.source.stop();
    expect(watched.events[0]).toMatchObject({ kind: 'lost', code: 'no-answer' });
    await expect.poll(() => open).toBe(0);
    mute.close();
  });
});

test('a server that restarts with its namespaces elsewhere is followed, and the move is told', async () => {
  const first = await startPlant({ seed: 1, opcuaPort: 0 });
  const { endpoint } = first.opcua!;
  const watched = watchOpcUa(endpoint, signals(inPlant('E1.normal-speed'), path('Plant', 'E1.normal-speed')));
  const seen = (): number =>
    new Set(
      watched
        .items()
        .filter(good)
        .map(({ signal }) => signal),
    ).size;
  await watched.until(() => seen() === 2);
  await first.stop();
  await watched.until(() => watched.events.some(({ kind }) => kind === 'lost'));
  const before = watched.items().length;
  const port = Number(new URL(endpoint.replace('opc.tcp', 'http')).port);
  const second = await startPlant({
    seed: 1,
    opcuaPort: port,
    opcuaNamespaces: ['urn:another', 'urn:third'],
  });
  await watched.until(() => watched.events.some(({ kind }) => kind === 'back'));
  await watched.until(
    () =>
      new Set(
        watched
          .items()
          .slice(before)
          .filter(good)
          .map(({ signal }) => signal),
      ).size === 2,
  );
  await watched.source.stop();
  await second.stop();
  const moved = watched.events.find(({ code }) => code === 'namespace-moved');
  expect(moved?.params).toMatchObject({ namespace: NAMESPACE });
  expect(Number(moved?.params['to']) - Number(moved?.params['from'])).toBe(2);
});
