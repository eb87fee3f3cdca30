import {
  type Absence,
  type Instant,
  type Micros,
  type Reading,
  type SignalId,
  type Span,
  spanOf,
} from '../measure/index.ts';
import { decodeValue, decodeWords } from './decode.ts';
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
import { statusQuality } from './status.ts';
import { ELSEWHERE, REFUSED } from './tables.ts';
import type { Answer, Decoding, Item, Plan, SignalDef, Source } from './types.ts';
import { isBitTable, wordsOf } from './words.ts';

/** Answers in the order of arrival to readings. Deterministic: a fresh decoder given the same answers says the same. */
export interface Decoder {
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

/** A Modbus answer was true at some time from the request sent, less the tag's age, to the answer received. */
const fromWords = (memory: Memory, answer: Answer & { kind: 'words' }): Reading[] => {
  const request = memory.plan.requests[answer.request];
  if (request === undefined) return [];
  const source = memory.sources[answer.source];
  const { words } = answer;
  // Logs of the first version hold requests that were asked in parts, at several instants, as one answer.
  const whole = !words.includes(REFUSED);
  const shared = whole && source?.protocol === 'modbus' && source.scanConsistent;
  const found: Reading[] = [];
  for (const id of request.signals) {
    const def = memory.signals[id];
    if (def?.address.kind !== 'modbus') continue;
    const { decoding } = def;
    const from = def.address.at - request.at;
    const width = isBitTable(def) ? 1 : wordsOf(decoding);
    if (words[from] === ELSEWHERE) continue;
    const at = spanOf(answer.sent - def.age, answer.received);
    if (!whole && isRefused(words, from, width)) {
      found.push({ signal: id, at, response: 0, flags: 0, absent: 'refused' });
    } else if (isPulses(decoding)) {
      const { decoded, earliest } = speedOf(memory, def, decoding, words.slice(from, from + width), at);
      // A speed from pulses is a mean over the time before: it shares its answer's instant with nothing.
      found.push({ signal: id, at: spanOf(earliest, at.latest), response: 0, flags: 0, ...decoded });
    } else {
      const response = shared ? memory.answers : 0;
      found.push({ signal: id, at, response, flags: 0, ...decodeWords(def, words, from) });
    }
  }
  return found;
};

const nothing = (signals: readonly SignalId[], at: Span, why: Absence): Reading[] =>
  signals.map((signal) => ({ signal, at, response: 0, flags: 0, absent: why }));

/** Written out, not spread: this is done a hundred thousand times a second. */
const readingOf = (def: SignalDef, item: Item, at: Span): Reading => {
  const { signal, why, value, text } = item;
  if (why !== undefined) return { signal, at, response: 0, flags: 0, absent: why };
  const { severity, flags } = statusQuality(item.status);
  if (severity === 'bad' || (value === null && text === undefined))
    return { signal, at, response: 0, flags, absent: 'bad-status' };
  const decoded = decodeValue(def, value, text);
  return 'value' in decoded
    ? { signal, at, response: 0, flags, value: decoded.value }
    : { signal, at, response: 0, flags, absent: decoded.absent };
};

const fromItem = (
  memory: Memory,
  time: ServerTime,
  def: SignalDef,
  item: Item,
  received: Instant,
): Reading | undefined => {
  const past = memory.items[def.id];
  const at = spanOfItem(time, def, item, received, past);
  const row = readingOf(def, item, at);
  if (item.why !== undefined) {
    if (past !== undefined) past.lost = true;
    return row;
  }
  if (past === undefined) {
    const changed = item.unchanged === true ? at.earliest : at.latest;
    memory.items[def.id] = { at, changed, lost: false };
    return row;
  }
  if (item.unchanged !== true) past.changed = at.latest;
  // Placed before its own change it would say that the change had been there earlier.
  else if (at.earliest < past.changed) return undefined;
  past.at = at;
  past.lost = false;
  return row;
};

const fromItems = (memory: Memory, answer: Answer & { kind: 'items' }): Reading[] => {
  const time = memory.servers[answer.source];
  if (time === undefined) return [];
  const found: Reading[] = [];
  for (const item of answer.items) {
    const def = memory.signals[item.signal];
    const row = def && fromItem(memory, time, def, item, answer.received);
    if (row !== undefined) found.push(row);
  }
  return found;
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
  return {
    feed(answer) {
      memory.answers += 1;
      if (answer.kind === 'words') return fromWords(memory, answer);
      if (answer.kind === 'items') return fromItems(memory, answer);
      if (answer.kind === 'terms' || answer.kind === 'clock') {
        take(servers[answer.source], answer);
        return [];
      }
      const request = memory.plan.requests[answer.request];
      const asked =
        request?.source === answer.source ? request.signals : (memory.plan.items.get(answer.source) ?? []);
      return nothing(asked, spanOf(answer.sent, answer.received), answer.why);
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
