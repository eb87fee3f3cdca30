import type { QuantityKind } from '../../measure/index.ts';

/** Where each signal of the plant stands: the same values over Modbus TCP and OPC UA. */
export interface MapEntry {
  /** Also the node's string identifier in `NAMESPACE`. */
  readonly name: string;
  readonly quantity: QuantityKind;
  readonly unit: string;
  /** Names of the states by code, empty for measured values. */
  readonly states: readonly string[];
  /** Holding and input register; bits of status words also stand in coils and discrete inputs. */
  readonly register: number;
  readonly type: 'uint16' | 'int16' | 'uint32' | 'float32' | 'bit';
  /** How the words of a 32-bit value travel, A the most significant byte. */
  readonly order?: 'ABCD' | 'CDAB';
  /** Bit of the register, 0 the least significant; only where `type` is bit. */
  readonly bit?: number;
  /** Coil and discrete input of a bit. */
  readonly coil?: number;
  /** Register value times this is the value in `unit`. */
  readonly scale: number;
}

/** Of the signals; the server calls itself `APPLICATION`. */
export const NAMESPACE = 'urn:tripwitness:plant:signals';
export const APPLICATION = 'urn:tripwitness:plant';

type Bit = readonly [name: string, off: string, on: string];

const BITS: readonly Bit[] = [
  ['run-command', 'stop', 'run'],
  ['motor-running', 'stopped', 'running'],
  ['tripped', 'healthy', 'tripped'],
  ['underspeed-alarm', 'quiet', 'alarm'],
  ['bearing-alarm', 'quiet', 'alarm'],
  ['alignment-alarm', 'quiet', 'alarm'],
  ['horn', 'silent', 'sounding'],
  ['alignment', 'aligned', 'displaced'],
  ['start', 'released', 'pressed'],
  ['stop', 'released', 'pressed'],
  ['reset', 'released', 'pressed'],
  ['bypass', 'normal', 'bypassed'],
  ['force', 'none', 'forced'],
  ['learning', 'no', 'yes'],
  ['silence', 'released', 'pressed'],
  ['silenced', 'no', 'yes'],
];

const FEEDER_BITS: readonly Bit[] = [...BITS.slice(0, 2), ['gate-closed', 'no', 'yes']];

const MORE_BITS: readonly Bit[] = [
  ['alignment-contact', 'closed', 'open'],
  ['warned-start', 'released', 'pressed'],
  ['start-warning', 'silent', 'sounding'],
  ['sensor-fault', 'healthy', 'fault'],
  ['link-fault', 'healthy', 'lost'],
];

type Measured = Pick<MapEntry, 'quantity' | 'unit' | 'type' | 'scale' | 'order'>;

const RPM: Measured = { quantity: 'rotational-speed', unit: 'rpm', type: 'uint16', scale: 0.1 };
const COUNT: Measured = { quantity: 'count', unit: 'count', type: 'uint16', scale: 1 };
const DEGC: Measured = { quantity: 'temperature', unit: 'degC', type: 'int16', scale: 0.1 };
const PERIOD: Measured = { quantity: 'time', unit: 'ms', type: 'uint32', order: 'ABCD', scale: 0.001 };
const PERCENT: Measured = { quantity: 'ratio', unit: '%', type: 'uint16', scale: 0.1 };
const DELAY: Measured = { quantity: 'time', unit: 's', type: 'uint16', scale: 0.1 };
const SECONDS: Measured = { quantity: 'time', unit: 's', type: 'uint16', scale: 1 };
const BELT: Measured = { quantity: 'belt-speed', unit: 'm/s', type: 'float32', order: 'CDAB', scale: 1 };

const measured = (name: string, register: number, as: Measured): MapEntry => ({
  name,
  register,
  states: [],
  ...as,
});

const bits = (machine: string, register: number, coil: number, list: readonly Bit[]): MapEntry[] =>
  list.map(([name, off, on], bit) => ({
    name: `${machine}.${name}`,
    quantity: 'state',
    unit: '',
    states: [off, on],
    register,
    type: 'bit',
    bit,
    coil: coil + bit,
    scale: 1,
  }));

const machineMap = (machine: string, base: number, coil: number): MapEntry[] => [
  measured(`${machine}.shaft-speed`, base, RPM),
  measured(`${machine}.head-speed`, base + 1, RPM),
  measured(`${machine}.bearing-temperature`, base + 2, DEGC),
  measured(`${machine}.normal-speed`, base + 3, RPM),
  measured(`${machine}.heartbeat`, base + 4, COUNT),
  measured(`${machine}.revision`, base + 5, COUNT),
  measured(`${machine}.pulse-count`, base + 6, COUNT),
  measured(`${machine}.pulse-period`, base + 7, PERIOD),
  ...bits(machine, base + 9, coil, BITS),
  measured(`${machine}.first-out`, base + 11, COUNT),
  measured(`${machine}.belt-speed`, base + 13, BELT),
];

const moreMap = (machine: string, base: number, coil: number): MapEntry[] => [
  measured(`${machine}.ambient-temperature`, base, DEGC),
  measured(`${machine}.twin-temperature`, base + 1, DEGC),
  measured(`${machine}.alarm-set-point`, base + 2, PERCENT),
  measured(`${machine}.stop-set-point`, base + 3, PERCENT),
  measured(`${machine}.stop-delay`, base + 4, DELAY),
  measured(`${machine}.start-inhibit`, base + 5, DELAY),
  measured(`${machine}.bypass-remaining`, base + 6, SECONDS),
  ...bits(machine, base + 7, coil, MORE_BITS),
  measured(`${machine}.alarm-count`, base + 8, COUNT),
  measured(`${machine}.trip-count`, base + 9, COUNT),
];

/**
 * E1 from register 0 and coil 0, its feeder F1 in registers 10 and 12 and from coil 16, C2 from 20 and coil 32.
 * What was added later stands behind: E1 from 40 and coil 48, C2 from 50 and coil 64.
 */
export const PLANT_MAP: readonly MapEntry[] = [
  ...machineMap('E1', 0, 0),
  ...bits('F1', 10, 16, FEEDER_BITS),
  measured('F1.motion', 12, RPM),
  ...machineMap('C2', 20, 32),
  ...moreMap('E1', 40, 48),
  ...moreMap('C2', 50, 64),
];
