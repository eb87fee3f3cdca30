/**
 * From register words or OPC UA values to readings with bounds; read plans; one order of all sources.
 *
 * Registers follow the Modbus Application Protocol V1.1b3 (6.1–6.4), qualities OPC 10000-4 (7.39.1), item times its
 * 7.11. Proved by tests/rooms/signal.
 */
export { steepest } from './curve.ts';
export { boundsOf, type Decoded, decodeValue, decodeWords } from './decode.ts';
export { createDecoder, type Decoder } from './decoder.ts';
export { derive } from './derive.ts';
export { type Meaning, type Meanings, meaningsOf } from './meanings.ts';
export { createMerge, type Merge } from './merge.ts';
export { planReads } from './plan.ts';
export type { ClockKnown } from './server-time.ts';
export { type Quality, statusQuality } from './status.ts';
export { ELSEWHERE, FUNCTION_CODES, isBits, REFUSED } from './tables.ts';
export { textsIn } from './texts.ts';
export {
  frameSilence,
  type LineLoad,
  lineLoads,
  type Pace,
  periodOf,
  placeOf,
  TURNAROUND,
  wireTime,
} from './timing.ts';
export type {
  Address,
  Answer,
  BitField,
  ByteOrder,
  Conversion,
  CountType,
  Curve,
  CurveShape,
  Decoding,
  Derivation,
  Granted,
  Item,
  Line,
  ModbusSource,
  NumberType,
  OpcUaAccess,
  OpcUaSource,
  Plan,
  Pulses,
  Request,
  SecurityPolicy,
  SignalDef,
  Source,
  Table,
  TraceSource,
} from './types.ts';
export { type PlainValue, plainValue } from './variant.ts';
export { isBitTable, numberIn, wordsOf } from './words.ts';
