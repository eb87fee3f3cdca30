import {
  type Absence,
  type Instant,
  type Reading,
  type SignalId,
  type Span,
  spanOf,
} from '../measure/index.ts';
import { decodeValue, decodeWords } from './decode.ts';
import { type PulseMemory, type Speed, speedFromCount, speedFromPeriod } from './pulses.ts';
import { statusQuality } from './status.ts';
import type { Answer, Item, OpcUaSource, Plan, Request, SignalDef, Source } from './types.ts';
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

const slice = (def: SignalDef, request: Request, words: readonly number[]): readonly number[] => {
  if (def.address.kind !== 'modbus') return [];
  const from = def.address.at - request.at;
  return words.slice(from, from + (isBitTable(def) ? 1 : wordsOf(def.decoding)));
};

const decodeOne = (memory: Memory, def: SignalDef, words: readonly number[], at: Span): Speed => {
  const { decoding } = def;
  if (decoding.as === 'pulse-period') return speedFromPeriod(def, decoding, words, at.earliest);
  if (decoding.as !== 'pulse-count') return { decoded: decodeWords(def, words), earliest: at.earliest };
  const own = memory.pulses.get(def.id) ?? { counts: [] };
  memory.pulses.set(def.id, own);
  const source = memory.sources[def.source];
  const poll = source?.protocol === 'modbus-tcp' ? source.poll : 0;
  return speedFromCount(def, decoding, own, words, { ...at, poll });
};

const fromPulses = ({ decoding }: SignalDef): boolean =>
  decoding.as === 'pulse-count' || decoding.as === 'pulse-period';

/** A Modbus answer was true at some time from the request sent, less the tag's age, to the answer received. */
const fromWords = (memory: Memory, answer: Answer & { kind: 'words' }): Reading[] => {
  const request = memory.plan.requests[answer.request];
  if (request === undefined) return [];
  const source = memory.sources[answer.source];
  // With a refused address in it the request was asked in parts, at several instants.
  const whole = answer.words.every((word) => word >= 0);
  const shared = whole && source?.protocol === 'modbus-tcp' && source.scanConsistent;
  return request.signals.flatMap((id): Reading[] => {
    const def = memory.signals[id];
    if (def === undefined) return [];
    const at = spanOf(answer.sent - def.age, answer.received);
    const words = slice(def, request, answer.words);
    if (words.some((word) => word < 0)) return [{ signal: id, at, response: 0, flags: 0, absent: 'refused' }];
    const { decoded, earliest } = decodeOne(memory, def, words, at);
    const since = spanOf(earliest, at.latest);
    // A speed from pulses is a mean over the time before: it shares its answer's instant with nothing.
    const response = shared && !fromPulses(def) ? memory.answers : 0;
    return [{ signal: id, at: since, response, flags: 0, ...decoded }];
  });
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
  if (severity === 'bad' || item.value === null) return { ...base, flags, absent: 'bad-status' };
  return { ...base, flags, ...decodeValue(def, item.value) };
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
      const request = memory.plan.requests[answer.request];
      const asked =
        request?.source === answer.source ? request.signals : (memory.plan.items.get(answer.source) ?? []);
      return nothing(asked, spanOf(answer.sent, answer.received), answer.why);
    },
  };
};
