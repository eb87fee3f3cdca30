import {
  type Absence,
  absenceIndex,
  addRow,
  type Filling,
  type Instant,
  type Micros,
  newReadings,
  type Reading,
  rowsIn,
  type SignalId,
  type Span,
  spanOf,
} from '../measure/index.ts';
import { absent, type Decoded, decodeValue, decodeWords } from './decode.ts';
import { type ItemPast, spanOfItem } from './item-time.ts';
import { type PulseMemory, type Speed, speedFromCount, speedFromGate, speedFromPeriod } from './pulses.ts';
import {
  type ClockKnown,
  clockKnown,
  lagOf,
  newServerTime,
  type ServerTime,
  takeClock,
  takeTerms,
} from './server-time.ts';
import { type Quality, statusQuality, UNSAID } from './status.ts';
import { ELSEWHERE, REFUSED } from './tables.ts';
import type { Answer, Decoding, Item, Plan, SignalDef, Source } from './types.ts';
import { isBitTable, wordsOf } from './words.ts';

/** Answers in the order of arrival to readings. Deterministic: a fresh decoder given the same answers says the same. */
export interface Decoder {
  /** Adds what an answer tells. */
  decode(answer: Answer, into: Filling): void;
  /** The same as objects, for whoever reads little. */
  feed(answer: Answer): Reading[];
  /** How long a source may take to tell what has been; undefined: it tells nothing by itself. */
  lag(source: number): Micros | undefined;
  /** Undefined before its clock was asked. */
  clock(source: number): ClockKnown | undefined;
}

interface Memory {
  readonly signals: readonly SignalDef[];
  readonly sources: readonly Source[];
  readonly plan: Plan;
  readonly pulses: Map<SignalId, PulseMemory>;
  /** OPC UA sources only. */
  readonly servers: readonly (ServerTime | undefined)[];
  /** By signal. */
  readonly items: (ItemPast | undefined)[];
  answers: number;
}

type Pulses = Decoding & { as: 'pulse-count' | 'pulse-gate' | 'pulse-period' };

const isPulses = (decoding: Decoding): decoding is Pulses =>
  decoding.as === 'pulse-count' || decoding.as === 'pulse-gate' || decoding.as === 'pulse-period';

const speedOf = (
  memory: Memory,
  def: SignalDef,
  decoding: Pulses,
  words: readonly number[],
  at: Span,
): Speed => {
  if (decoding.as === 'pulse-period') return speedFromPeriod(def, decoding, words, at.earliest);
  if (decoding.as === 'pulse-gate') return speedFromGate(def, decoding, words, at.earliest);
  const own = memory.pulses.get(def.id) ?? { counts: [] };
  memory.pulses.set(def.id, own);
  const source = memory.sources[def.source];
  const poll = source?.protocol === 'modbus' ? source.poll : 0;
  return speedFromCount(def, decoding, own, words, { ...at, poll });
};

/** A device refuses an address of the words from `from` on. */
const isRefused = (words: readonly number[], from: number, width: number): boolean => {
  for (let index = from; index < from + width; index += 1) if ((words[index] ?? 0) < 0) return true;
  return false;
};

/** A reading with a value, or why there is none. */
const tell = (
  into: Filling,
  signal: number,
  at: Span,
  response: number,
  flags: number,
  said: Decoded,
): void => {
  const index = addRow(into, signal, at.earliest, at.latest, response, flags);
  if ('absent' in said) into.why[index] = absenceIndex(said.absent);
  else {
    into.low[index] = said.value.low;
    into.high[index] = said.value.high;
  }
};

/** A Modbus answer was true at some time from the request sent, less the tag's age, to the answer received. */
const fromWords = (memory: Memory, answer: Answer & { kind: 'words' }, into: Filling): void => {
  const request = memory.plan.requests[answer.request];
  if (request === undefined) return;
  const source = memory.sources[answer.source];
  const { words } = answer;
  // Logs of the first version hold requests that were asked in parts, at several instants, as one answer.
  const whole = !words.includes(REFUSED);
  const shared = whole && source?.protocol === 'modbus' && source.scanConsistent;
  for (const id of request.signals) {
    const def = memory.signals[id];
    if (def?.address.kind !== 'modbus') continue;
    const { decoding } = def;
    const from = def.address.at - request.at;
    const width = isBitTable(def) ? 1 : wordsOf(decoding);
    if (words[from] === ELSEWHERE) continue;
    const at = spanOf(answer.sent - def.age, answer.received);
    if (!whole && isRefused(words, from, width)) {
      tell(into, id, at, 0, 0, absent('refused'));
    } else if (isPulses(decoding)) {
      const { decoded, earliest } = speedOf(memory, def, decoding, words.slice(from, from + width), at);
      // A speed from pulses is a mean over the time before: it shares its answer's instant with nothing.
      tell(into, id, spanOf(earliest, at.latest), 0, 0, decoded);
    } else tell(into, id, at, shared ? memory.answers : 0, 0, decodeWords(def, words, from));
  }
};

const nothing = (signals: readonly SignalId[], at: Span, why: Absence, into: Filling): void => {
  for (const signal of signals) tell(into, signal, at, 0, 0, absent(why));
};

const saidBy = (def: SignalDef, { why, value, text }: Item, { severity }: Quality): Decoded => {
  if (why !== undefined) return absent(why);
  if (severity === 'bad' || (value === null && text === undefined)) return absent('bad-status');
  return decodeValue(def, value, text);
};

const fromItem = (
  memory: Memory,
  time: ServerTime,
  def: SignalDef,
  item: Item,
  received: Instant,
  into: Filling,
): void => {
  const past = memory.items[def.id];
  const at = spanOfItem(time, def, item, received, past);
  if (item.why !== undefined) {
    if (past !== undefined) past.lost = true;
  } else if (past === undefined) {
    const changed = item.unchanged === true ? at.earliest : at.latest;
    memory.items[def.id] = { earliest: at.earliest, latest: at.latest, changed, lost: false };
  } else {
    if (item.unchanged !== true) past.changed = at.latest;
    // Placed before its own change it would say that the change had been there earlier.
    else if (at.earliest < past.changed) return;
    past.earliest = at.earliest;
    past.latest = at.latest;
    past.lost = false;
  }
  const quality = item.why === undefined ? statusQuality(item.status) : UNSAID;
  tell(into, item.signal, at, 0, quality.flags, saidBy(def, item, quality));
};

const fromItems = (memory: Memory, answer: Answer & { kind: 'items' }, into: Filling): void => {
  const time = memory.servers[answer.source];
  if (time === undefined) return;
  for (const item of answer.items) {
    const def = memory.signals[item.signal];
    if (def !== undefined) fromItem(memory, time, def, item, answer.received, into);
  }
};

export const createDecoder = (
  signals: readonly SignalDef[],
  sources: readonly Source[],
  plan: Plan,
): Decoder => {
  const servers = sources.map((source) => (source.protocol === 'opc-ua' ? newServerTime(source) : undefined));
  const memory: Memory = {
    signals,
    sources,
    plan,
    pulses: new Map(),
    servers,
    items: [],
    answers: 0,
  };
  const take = (time: ServerTime | undefined, answer: Answer & { kind: 'terms' | 'clock' }): void => {
    if (time === undefined) return;
    if (answer.kind === 'terms') takeTerms(time, answer);
    else takeClock(time, answer);
  };
  const decode = (answer: Answer, into: Filling): void => {
    memory.answers += 1;
    if (answer.kind === 'words') fromWords(memory, answer, into);
    else if (answer.kind === 'items') fromItems(memory, answer, into);
    else if (answer.kind !== 'nothing') take(servers[answer.source], answer);
    else {
      const request = memory.plan.requests[answer.request];
      const asked =
        request?.source === answer.source ? request.signals : (memory.plan.items.get(answer.source) ?? []);
      nothing(asked, spanOf(answer.sent, answer.received), answer.why, into);
    }
  };
  return {
    decode,
    feed(answer) {
      const found: Filling = newReadings(0);
      decode(answer, found);
      return rowsIn(found);
    },
    lag(index) {
      const time = servers[index];
      if (time !== undefined) return lagOf(time);
      // Modbus answers tell the present.
      return sources[index]?.protocol === 'modbus' ? 0 : undefined;
    },
    clock(index) {
      const time = servers[index];
      return time && clockKnown(time);
    },
  };
};
