import {
  type Absence,
  type Instant,
  type Reading,
  type SignalId,
  type Span,
  spanOf,
} from '../measure/index.ts';
import { decodeValue, decodeWords } from './decode.ts';
import { type PulseMemory, type Speed, speedFromCount, speedFromGate, speedFromPeriod } from './pulses.ts';
import { statusQuality } from './status.ts';
import type { Answer, Decoding, Item, OpcUaSource, Plan, SignalDef, Source } from './types.ts';
import { isBitTable, wordsOf } from './words.ts';

/** Answers in the order of arrival to readings. Deterministic: a fresh decoder given the same answers says the same. */
export interface Decoder {
  feed(answer: Answer): Reading[];
}

interface Memory {
  readonly signals: readonly SignalDef[];
  readonly sources: readonly Source[];
  readonly plan: Plan;
  readonly pulses: Map<SignalId, PulseMemory>;
  /** Latest instant of the last change that an item told: a repeat is no older than the value it repeats. */
  readonly changed: Map<SignalId, number>;
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

/** The device refuses this address (see `Answer.words`). */
const REFUSED = -1;
/** Another answer to the same request carries it. */
const ELSEWHERE = -2;

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

/**
 * The instant of an item: its source time with the clock's bound; else the publish and sampling intervals before it
 * arrived. A repeated item was still so when the server spoke (`serverTime`), less one sampling interval: no later, for
 * a change may have been on its way, and its own reading must not come before this one.
 */
const spanOfItem = (source: OpcUaSource, def: SignalDef, item: Item, received: Instant): Span => {
  const { clockBound: bound, sampling, publishing } = source;
  if (item.unchanged === true) {
    const still =
      bound === undefined || item.serverTime === undefined
        ? spanOf(received - publishing - sampling, received - publishing - sampling)
        : spanOf(item.serverTime - sampling - bound, item.serverTime - sampling + bound);
    return spanOf(still.earliest - def.age, still.latest);
  }
  if (item.sourceTime !== undefined && bound !== undefined) {
    return spanOf(item.sourceTime - bound - def.age, item.sourceTime + bound);
  }
  return spanOf(received - publishing - sampling - def.age, received);
};

const fromItem = (source: OpcUaSource, def: SignalDef, item: Item, received: Instant): Reading => {
  const at = spanOfItem(source, def, item, received);
  const base = { signal: item.signal, at, response: 0 };
  if (item.why !== undefined) return { ...base, flags: 0, absent: item.why };
  const { severity, flags } = statusQuality(item.status);
  if (severity === 'bad' || (item.value === null && item.text === undefined))
    return { ...base, flags, absent: 'bad-status' };
  return { ...base, flags, ...decodeValue(def, item.value, item.text) };
};

const fromItems = (memory: Memory, answer: Answer & { kind: 'items' }): Reading[] => {
  const source = memory.sources[answer.source];
  if (source?.protocol !== 'opc-ua') return [];
  return answer.items.flatMap((item) => {
    const def = memory.signals[item.signal];
    if (def === undefined) return [];
    const row = fromItem(source, def, item, answer.received);
    if (item.unchanged === true) {
      // Placed before its own change it would say that the change had been there earlier.
      return row.at.earliest < (memory.changed.get(def.id) ?? row.at.earliest) ? [] : [row];
    }
    memory.changed.set(def.id, row.at.latest);
    return [row];
  });
};

export const createDecoder = (
  signals: readonly SignalDef[],
  sources: readonly Source[],
  plan: Plan,
): Decoder => {
  const memory: Memory = { signals, sources, plan, pulses: new Map(), changed: new Map(), answers: 0 };
  return {
    feed(answer) {
      memory.answers += 1;
      if (answer.kind === 'words') return fromWords(memory, answer);
      if (answer.kind === 'items') return fromItems(memory, answer);
      if (answer.kind === 'terms' || answer.kind === 'clock') return [];
      const request = memory.plan.requests[answer.request];
      const asked =
        request?.source === answer.source ? request.signals : (memory.plan.items.get(answer.source) ?? []);
      return nothing(asked, spanOf(answer.sent, answer.received), answer.why);
    },
  };
};
