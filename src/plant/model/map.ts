/** Where each signal of the plant stands: the same values over Modbus TCP and OPC UA. */
export interface MapEntry {
  readonly name: string;
  /** Holding (and input) register; bits of status words also stand in coils and discrete inputs. */
  readonly register: number;
  readonly type: 'uint16' | 'int16' | 'uint32' | 'float32' | 'bit';
  /** Bit of the register, 0 the least significant; only where `type` is bit. */
  readonly bit?: number;
  /** Coil and discrete input of a bit. */
  readonly coil?: number;
  /** Register value times this is the value in `unit`. */
  readonly scale: number;
  readonly unit: string;
}

export const NAMESPACE = 'urn:tripwitness:plant';

const BITS = [
  'run-command',
  'motor-running',
  'tripped',
  'underspeed-alarm',
  'bearing-alarm',
  'alignment-alarm',
  'horn',
  'alignment',
  'start',
  'stop',
  'reset',
  'bypass',
  'force',
] as const;

const machineMap = (machine: string, base: number, coil: number): MapEntry[] => {
  const at = (
    name: string,
    offset: number,
    type: MapEntry['type'],
    scale: number,
    unit: string,
  ): MapEntry => ({
    name: `${machine}.${name}`,
    register: base + offset,
    type,
    scale,
    unit,
  });
  return [
    at('shaft-speed', 0, 'uint16', 0.1, 'rpm'),
    at('head-speed', 1, 'uint16', 0.1, 'rpm'),
    at('bearing-temperature', 2, 'int16', 0.1, 'degC'),
    at('normal-speed', 3, 'uint16', 0.1, 'rpm'),
    at('heartbeat', 4, 'uint16', 1, 'count'),
    at('revision', 5, 'uint16', 1, 'count'),
    at('pulse-count', 6, 'uint16', 1, 'count'),
    at('pulse-period', 7, 'uint32', 1, 'us'),
    ...BITS.map((name, bit): MapEntry => ({ ...at(name, 9, 'bit', 1, ''), bit, coil: coil + bit })),
    at('first-out', 11, 'uint16', 1, 'count'),
  ];
};

/** E1 from register 0 and coil 0, its feeder F1 in register 10 and from coil 16, C2 from register 20 and coil 32. */
export const PLANT_MAP: readonly MapEntry[] = [
  ...machineMap('E1', 0, 0),
  { name: 'F1.run-command', register: 10, type: 'bit', bit: 0, coil: 16, scale: 1, unit: '' },
  { name: 'F1.motor-running', register: 10, type: 'bit', bit: 1, coil: 17, scale: 1, unit: '' },
  { name: 'F1.motion', register: 12, type: 'uint16', scale: 0.1, unit: 'rpm' },
  ...machineMap('C2', 20, 32),
];

export const REGISTERS = 40;
export const COILS = 48;

/** The controller's image as registers. A value that does not fit is cut to its width, as a controller would. */
export const registersOf = (image: Readonly<Record<string, number>>): Uint16Array => {
  const registers = new Uint16Array(REGISTERS);
  for (const entry of PLANT_MAP) {
    const value = image[entry.name] ?? 0;
    const raw = Math.round(value / entry.scale);
    if (entry.type === 'bit') {
      if (value !== 0) registers[entry.register] = (registers[entry.register] ?? 0) | (1 << (entry.bit ?? 0));
    } else if (entry.type === 'uint32') {
      registers[entry.register] = Math.floor(raw / 65_536);
      registers[entry.register + 1] = raw % 65_536;
    } else registers[entry.register] = raw & 0xffff;
  }
  return registers;
};

export const coilsOf = (image: Readonly<Record<string, number>>): Uint8Array => {
  const coils = new Uint8Array(COILS);
  for (const entry of PLANT_MAP) if (entry.coil !== undefined) coils[entry.coil] = image[entry.name] ?? 0;
  return coils;
};
