/** Small signals and sources for tests. */
import { SECOND, type SignalId } from '../../../src/measure/index.ts';
import type {
  Curve,
  CurveShape,
  Decoding,
  ModbusSource,
  NumberType,
  SignalDef,
} from '../../../src/signal/index.ts';

export const signal = (decoding: Decoding, more: Partial<SignalDef> = {}): SignalDef => ({
  id: 0 as SignalId,
  name: 's',
  source: 0,
  address: { kind: 'modbus', table: 'holding', at: 0 },
  decoding,
  quantity: 'temperature',
  unit: 'degC',
  states: [],
  resolution: 0,
  accuracy: 0,
  age: 0,
  agedAfter: SECOND,
  ...more,
});

/** A device polled each 100 ms, one question on its way. */
export const polled = (more: Partial<ModbusSource> = {}): ModbusSource => ({
  protocol: 'modbus',
  name: 'device',
  line: { kind: 'tcp', host: 'h', port: 502 },
  unit: 1,
  poll: 100_000,
  windowPoll: 100_000,
  slowPoll: SECOND,
  inFlight: 1,
  pause: 0,
  connection: 'shared',
  timeout: SECOND,
  scan: 0,
  scanConsistent: true,
  maxRegisters: 125,
  maxBits: 2_000,
  maxGap: 0,
  ...more,
});

/** What a test over real sockets does not wait long for; values of one answer need not be of one scan. */
export const QUICK = { poll: 20_000, windowPoll: 20_000, slowPoll: 20_000, scanConsistent: false } as const;

export const number = (type: NumberType, more: Partial<Decoding & { as: 'number' }> = {}): Decoding => ({
  as: 'number',
  type,
  order: 'ABCD',
  scale: 1,
  offset: 0,
  ...more,
});

/** A number that came as it is, through a curve; `step` is that of the number before it. */
export const curved = (shape: CurveShape, step = 0, error = 0): SignalDef => {
  const curve: Curve = { ...shape, scale: 1, offset: 0, step, error };
  return signal({ as: 'value', scale: 1, offset: 0, inverted: false, curve });
};
