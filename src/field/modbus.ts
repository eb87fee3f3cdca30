import type { Instant } from '../measure/index.ts';
import type { Answer, Line, ModbusSource, Plan, Request, SignalDef } from '../signal/index.ts';
import { backoff } from './backoff.ts';
import { openGrid } from './grid.ts';
import { linkModbus, type ModbusLink } from './modbus-link.ts';
import { halve, type Part, wholeOf } from './parts.ts';
import type { Foul } from './sealed-socket.ts';
import type { Clock, OpenSource, Sink } from './types.ts';

const placeOf = (line: Line): string => (line.kind === 'serial' ? line.path : `${line.host}:${line.port}`);

/** A request of the plan, and the parts it is asked in once the device has refused some address of it. */
interface Duty {
  readonly index: number;
  readonly request: Request;
  parts: readonly Part[];
  /** Refusals that were told already, so that one that lasts is told once. */
  readonly told: Set<string>;
}

interface Polling {
  readonly source: ModbusSource;
  readonly index: number;
  readonly sink: Sink;
  readonly clock: Clock;
  readonly signals: readonly SignalDef[];
  readonly duties: readonly Duty[];
  readonly counts: { answers: number; nothings: number; reconnects: number };
  link: ModbusLink | undefined;
  linking: boolean;
  stopped: boolean;
  tries: number;
  lostAt: Instant | undefined;
  missed: number;
  retry: NodeJS.Timeout | undefined;
}

const ILLEGAL_ADDRESS = 2;
/** In the place of a word that the device refuses; the decoder takes it for absence. */
const NOT_ANSWERED = -1;

const nothing = (
  polling: Polling,
  duty: Duty,
  sent: Instant,
  received: Instant,
  why: 'timed-out' | 'refused' | 'interrupted',
  code: number,
): void => {
  polling.counts.nothings += 1;
  polling.missed += 1;
  polling.sink.answer({
    kind: 'nothing',
    source: polling.index,
    request: duty.index,
    sent,
    received,
    why,
    code,
  });
};

const lose = (polling: Polling, foul: Foul): void => {
  polling.link?.destroy();
  polling.link = undefined;
  if (polling.stopped) return;
  const at = polling.clock.now();
  if (polling.lostAt === undefined) {
    polling.lostAt = at;
    polling.missed = 0;
    const params = {
      place: placeOf(polling.source.line),
      unit: polling.source.unit,
      detail: foul.detail,
    };
    polling.sink.event({ kind: 'lost', source: polling.index, at, code: foul.code, params });
  }
  reconnect(polling);
};

const reconnect = (polling: Polling): void => {
  if (polling.stopped || polling.linking || polling.link !== undefined || polling.retry !== undefined) return;
  polling.retry = setTimeout(
    () => {
      polling.retry = undefined;
      void connectOnce(polling);
    },
    polling.tries === 0 ? 0 : backoff(polling.tries - 1),
  );
};

const connectOnce = async (polling: Polling): Promise<void> => {
  if (polling.stopped || polling.linking) return;
  polling.linking = true;
  polling.tries += 1;
  const { line, unit, timeout } = polling.source;
  const { host, port } = line.kind === 'serial' ? { host: '', port: 0 } : line;
  const link = await linkModbus({ host, port, unit, timeout: timeout / 1_000 }, polling.clock, (foul) =>
    lose(polling, foul),
  );
  polling.linking = false;
  if ('code' in link) {
    lose(polling, link);
    return;
  }
  if (polling.stopped) {
    link.destroy();
    return;
  }
  polling.link = link;
  polling.counts.reconnects += 1;
  // The device may have another program now: what it refused is asked again.
  for (const duty of polling.duties) duty.parts = [wholeOf(duty.request, polling.signals)];
};

/** Only an answer shows that the device lives, be it a refusal; an accepted connection does not. */
const alive = (polling: Polling): void => {
  polling.tries = 0;
  const { lostAt: since, source, missed } = polling;
  if (since === undefined) return;
  polling.lostAt = undefined;
  const params = { place: placeOf(source.line) };
  const at = polling.clock.now();
  polling.sink.event({ kind: 'back', source: polling.index, at, since, missed, code: 'back', params });
};

/** The device refused the block: halves are asked next, until the guilty address stands alone; it is then left out. */
const refine = (polling: Polling, duty: Duty, part: Part, code: number): void => {
  const halves = code === ILLEGAL_ADDRESS ? halve(part) : undefined;
  const rest = duty.parts.filter((one) => one !== part);
  if (halves !== undefined) {
    duty.parts = [...rest, ...halves];
    return;
  }
  // Busy, or a gateway without a way, passes: only an address that does not exist is left out.
  if (code === ILLEGAL_ADDRESS && duty.parts.length > 1) duty.parts = rest;
  const refusal = `${part.at} ${code}`;
  if (duty.told.has(refusal)) return;
  duty.told.add(refusal);
  const params = { table: duty.request.table, address: part.at, count: part.count, exception: code };
  polling.sink.event({
    kind: 'refused',
    source: polling.index,
    at: polling.clock.now(),
    code: 'address-refused',
    params,
  });
};

/** Asks one request in its parts. An answer that is not whole is no answer: its missing addresses read as refused. */
const askDuty = async (polling: Polling, duty: Duty): Promise<void> => {
  const { link, clock } = polling;
  const begun = clock.now();
  if (link === undefined) {
    nothing(polling, duty, begun, begun, 'interrupted', 0);
    return;
  }
  const words: number[] = new Array<number>(duty.request.count).fill(NOT_ANSWERED);
  let sent: Instant | undefined;
  let received = begun;
  for (const part of [...duty.parts]) {
    const got = await link.ask(duty.request.table, part.at, part.count);
    sent ??= got.sent;
    received = got.received;
    if ('foul' in got) {
      nothing(polling, duty, sent, received, got.foul.code === 'silent' ? 'timed-out' : 'interrupted', 0);
      if (polling.link === link) lose(polling, got.foul);
      return;
    }
    alive(polling);
    if ('refused' in got) {
      refine(polling, duty, part, got.refused);
      nothing(polling, duty, sent, received, 'refused', got.refused);
      return;
    }
    got.words.forEach((word, offset) => {
      words[part.at - duty.request.at + offset] = word;
    });
  }
  polling.counts.answers += 1;
  const answer: Answer = {
    kind: 'words',
    source: polling.index,
    request: duty.index,
    sent: sent ?? begun,
    received,
    words,
  };
  polling.sink.answer(answer);
};

/**
 * Polls one device on a fixed grid, one question at a time, over one connection. Loss is never silent: each request of
 * each slot gives an answer, or says why there is none. Reconnects by itself with back-off.
 */
export const openModbus = (
  source: ModbusSource,
  index: number,
  plan: Plan,
  signals: readonly SignalDef[],
  sink: Sink,
  clock: Clock,
): OpenSource => {
  const polling: Polling = {
    source,
    index,
    sink,
    clock,
    signals,
    duties: plan.requests.flatMap((request, at): Duty[] =>
      request.source === index
        ? [{ index: at, request, parts: [wholeOf(request, signals)], told: new Set() }]
        : [],
    ),
    counts: { answers: 0, nothings: 0, reconnects: 0 },
    link: undefined,
    linking: false,
    stopped: false,
    tries: 0,
    lostAt: undefined,
    missed: 0,
    retry: undefined,
  };
  void connectOnce(polling);
  const grid = openGrid(source.poll, async () => {
    for (const duty of polling.duties) await askDuty(polling, duty);
  });
  return {
    async stop() {
      polling.stopped = true;
      grid.stop();
      clearTimeout(polling.retry);
      polling.link?.destroy();
    },
    stats: () => ({
      connected: polling.link !== undefined,
      answers: polling.counts.answers,
      nothings: polling.counts.nothings,
      reconnects: Math.max(0, polling.counts.reconnects - 1),
      overruns: grid.overruns(),
      lateness: grid.lateness(),
    }),
  };
};
