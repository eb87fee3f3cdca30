/**
 * From register words or OPC UA values to readings with bounds; read plans.
 */
export type {
  Address,
  Answer,
  ByteOrder,
  Decoding,
  Item,
  ModbusSource,
  NumberType,
  OpcUaSource,
  Plan,
  Request,
  SignalDef,
  Source,
  Table,
  TraceSource,
} from './types.ts';
