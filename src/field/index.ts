/**
 * Read-only clients: Modbus over TCP, RTU over TCP and serial lines
 * (Application Protocol V1.1b3, functions 01–04; TCP Messaging Guide V1.0b; Serial Line V1.02) and OPC UA (Read, Browse, Subscribe).
 * They poll, time-stamp, reconnect, and know no rule. No write function exists here; a frame that is not a read never
 * leaves the socket. Proved by tests/rooms/field.
 */
export { type Asker, openAsker, type Place, type Told } from './modbus/asker.ts';
export { openModbus } from './modbus/open.ts';
export {
  type Probed,
  type ProbeTarget,
  probeModbus,
  probeUnits,
  type Rung,
  type UnitTold,
} from './modbus/probe.ts';
export type { Window } from './modbus/probe-window.ts';
export type { OpcUaAddress } from './opcua/address.ts';
export type { Browsed, BrowsedNode, BrowseWish, ReadOnce } from './opcua/browse.ts';
export type { CertificateFacts } from './opcua/certificate.ts';
export type { OpcUaTarget } from './opcua/connect.ts';
export { type Diagnosis, diagnose, type Examined, examineOpcUa } from './opcua/doctor.ts';
export type { OfferedEndpoint } from './opcua/endpoint.ts';
export { openOpcUa } from './opcua/open.ts';
export { type OpcUaProbed, type OpcUaProbeOptions, type ProbedValue, probeOpcUa } from './opcua/probe.ts';
export {
  certificateFactsOf,
  type KnownCertificate,
  knownCertificates,
  type OwnCertificate,
  ownCertificate,
  setTrust,
} from './opcua/store.ts';
export type { OpcUaOptions, OpcUaStage, OpcUaTrouble } from './opcua/types.ts';
export type { Clock, FieldEvent, FieldStats, OpenSource, Rate, Sink } from './types.ts';
