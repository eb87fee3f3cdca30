/** What a declared bound, a measured offset, and a clock that is set do to the instants of OPC UA items. */
import { describe, expect, test } from 'vitest';
import { instant, type SignalId, type Span } from '../../../src/measure/index.ts';
import {
  type Answer,
  createDecoder,
  type Item,
  type OpcUaSource,
  type SignalDef,
} from '../../../src/signal/index.ts';

const MS = 1_000;
const S = 1_000_000;
const ZERO = 1_764_063_000 * S + 123;

const signal: SignalDef = {
  id: 0 as SignalId,
  name: 's',
  source: 0,
  address: { kind: 'opc-ua', namespace: '', id: 's=s' },
  decoding: { as: 'value', scale: 1, offset: 0, inverted: false },
  quantity: 'count',
  unit: 'count',
  states: [],
  resolution: 0,
  accuracy: 0,
  age: 0,
  agedAfter: S,
};

const sourceOf = (more: Partial<OpcUaSource>): OpcUaSource => ({
  protocol: 'opc-ua',
  name: 'ua',
  endpoint: 'e',
  access: { mode: 'none', policy: 'Basic256Sha256', user: { kind: 'anonymous' } },
  sampling: 50 * MS,
  publishing: 100 * MS,
  queue: 10,
  timeout: S,
  scan: 0,
  ...more,
});

/** A decoder that has had its first word, and is handed times in µs from a common zero. */
const decoderOf = (more: Partial<OpcUaSource>) => {
  const decoder = createDecoder([signal], [sourceOf(more)], { requests: [], items: new Map() });
  const us = (at: number) => instant(ZERO + at);
  const feed = (received: number, item: Partial<Item>): Span | undefined => {
    const items = [{ signal: signal.id, status: 0, value: received, ...item }];
    const [row] = decoder.feed({ kind: 'items', source: 0, received: us(received), items });
    return row && { earliest: instant(row.at.earliest - ZERO), latest: instant(row.at.latest - ZERO) };
  };
  feed(-10 * S, {});
  return {
    decoder,
    /** A change whose source time is of a clock that is ahead by so much. */
    change: (received: number, stamped: number, ahead: number, sampled = stamped) =>
      feed(received, { sourceTime: us(stamped + ahead), serverTime: us(sampled + ahead) }),
    /** The clock of the server is asked, with 2 ms each way. */
    ask: (at: number, ahead: number): readonly unknown[] => {
      const times = { sent: us(at), theirs: us(at + 2 * MS + ahead), received: us(at + 4 * MS) };
      const answer: Answer = { kind: 'clock', source: 0, ...times };
      return decoder.feed(answer);
    },
  };
};

const holds = (span: Span | undefined, at: number): boolean =>
  span !== undefined && span.earliest <= at && at <= span.latest;

describe('a declared bound', () => {
  test('is used as it stands while the clock is where it was declared to be, however coarsely that is known', () => {
    const { change, ask, decoder } = decoderOf({ clockBound: 20 * MS });
    expect(change(60 * MS, 0, 7 * MS)).toEqual({ earliest: -13 * MS, latest: 27 * MS });
    ask(S, 7 * MS);
    expect(decoder.clock(0)).toMatchObject({ contradicts: false, declaredBound: 20 * MS });
    expect(change(1.06 * S, S, 7 * MS)).toEqual({ earliest: S - 13 * MS, latest: S + 27 * MS });
  });

  test.each([25, 60, -80, 5_000, -5_000])(
    'that is not so (ahead by %s ms): the true instant is inside all the same',
    (ms) => {
      const { change, ask, decoder } = decoderOf({ clockBound: 20 * MS });
      ask(S, ms * MS);
      expect(decoder.clock(0)?.contradicts).toBe(true);
      const span = change(1.06 * S, S, ms * MS);
      expect(holds(span, S)).toBe(true);
      // Never narrower than declared.
      expect((span?.latest ?? 0) - (span?.earliest ?? 0)).toBeGreaterThan(Math.min(40, 20 + 58) * MS);
    },
  );

  test('is not undone by a question that took a second', () => {
    const { change, decoder } = decoderOf({ clockBound: 20 * MS });
    const times = { sent: instant(ZERO), theirs: instant(ZERO + 0.8 * S), received: instant(ZERO + S) };
    decoder.feed({ kind: 'clock', source: 0, ...times });
    expect(decoder.clock(0)?.contradicts).toBe(false);
    expect(change(1.06 * S, S, 0)).toEqual({ earliest: S - 20 * MS, latest: S + 20 * MS });
  });
});

describe('source times of the clock that the server shows', () => {
  test('bound nothing before it was asked, and much afterwards', () => {
    const { change, ask } = decoderOf({ sourceClock: 'server' });
    expect(change(60 * MS, 0, 3_600 * S)).toEqual({ earliest: -90 * MS, latest: 60 * MS });
    ask(S, 3_600 * S);
    const span = change(1.06 * S, S, 3_600 * S);
    expect(holds(span, S)).toBe(true);
    // 4 ms of delay, twice 1 ms that no clock is trusted to show, a little drift.
    expect((span?.latest ?? 0) - (span?.earliest ?? 0)).toBeLessThan(7 * MS);
  });

  test.each([10 * S, -10 * S, 0.4 * S, -0.4 * S])(
    'a clock that was set by %s µs and has not been asked since: the true instant is inside',
    (step) => {
      const { change, ask, decoder } = decoderOf({ sourceClock: 'server' });
      for (let at = 0; at < 10 * S; at += 2 * S) ask(at, 3_600 * S);
      expect(holds(change(9.06 * S, 9 * S, 3_600 * S), 9 * S)).toBe(true);
      expect(holds(change(9.56 * S, 9.5 * S, 3_600 * S + step), 9.5 * S)).toBe(true);
      expect(decoder.clock(0)?.steps).toBe(0);
      ask(10 * S, 3_600 * S + step);
      expect(decoder.clock(0)).toMatchObject({ steps: 1, samples: 1 });
      const span = change(10.06 * S, 10.01 * S, 3_600 * S + step);
      expect(holds(span, 10.01 * S)).toBe(true);
      expect((span?.latest ?? 0) - (span?.earliest ?? 0)).toBeLessThan(7 * MS);
    },
  );

  test('what a server says first, or after it was lost, is of now, whatever its source time', () => {
    const { change, ask, decoder } = decoderOf({ sourceClock: 'server' });
    ask(0, 0);
    const gone = { signal: signal.id, status: -1, value: null, why: 'interrupted' as const };
    decoder.feed({ kind: 'items', source: 0, received: instant(ZERO + S), items: [gone] });
    const span = change(2 * S, -600 * S, 0, 1.95 * S);
    expect(span).toEqual({ earliest: 1.85 * S, latest: 2 * S });
    expect(holds(change(3 * S, 2.95 * S, 0), 2.95 * S)).toBe(true);
  });
});

test('without either a source time bounds nothing, and the publishing interval that was granted does', () => {
  const { change, ask, decoder } = decoderOf({});
  ask(0, 3_600 * S);
  expect(change(60 * MS, 20 * MS, 3_600 * S)?.latest).toBe(60 * MS);
  const items = [{ signal: signal.id, sampling: 250 * MS, queue: 1 }];
  decoder.feed({ kind: 'terms', source: 0, received: instant(ZERO + S), publishing: 500 * MS, items });
  expect(change(2 * S, 1.98 * S, 3_600 * S)).toEqual({ earliest: 1.25 * S, latest: 2 * S });
  expect(decoder.lag(0)).toBe(1.25 * S);
  // Granted less than was asked for: nothing is taken from that.
  decoder.feed({ kind: 'terms', source: 0, received: instant(ZERO + 3 * S), publishing: 20 * MS, items: [] });
  expect(change(4 * S, 3.98 * S, 3_600 * S)).toEqual({ earliest: 3.85 * S, latest: 4 * S });
  expect(decoder.lag(0)).toBe(0.25 * S);
});
