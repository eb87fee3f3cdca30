/**
 * Read-only clients: Modbus TCP (Application Protocol V1.1b3, functions 01–04) and OPC UA (Read, Browse, Subscribe).
 * They poll, time-stamp, reconnect, and know no rule. No write function exists here; a frame that is not a read never
 * leaves the socket. Proved by tests/rooms/field.
 */
export { openModbus } from './modbus.ts';
export { type OpcUaOptions, openOpcUa } from './opcua.ts';
export { type Probed, type ProbeTarget, probeModbus } from './probe.ts';
export type { Clock, FieldEvent, FieldStats, OpenSource, Sink } from './types.ts';
