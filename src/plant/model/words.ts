import { type MapEntry, PLANT_MAP } from './map.ts';

export const REGISTERS = 60;
const COILS = 80;

/** The high and the low word of a 32-bit value. */
const wordsOf = (entry: MapEntry, raw: number): readonly [number, number] => {
  if (entry.type === 'uint32') return [Math.floor(raw / 65_536), raw % 65_536];
  const view = new DataView(new ArrayBuffer(4));
  view.setFloat32(0, raw);
  return [view.getUint16(0), view.getUint16(2)];
};

/** The controller's image as registers. A value that does not fit is cut to its width, as a controller would. */
export const registersOf = (image: Readonly<Record<string, number>>): Uint16Array => {
  const registers = new Uint16Array(REGISTERS);
  for (const entry of PLANT_MAP) {
    const value = image[entry.name] ?? 0;
    const { register } = entry;
    if (entry.type === 'bit') {
      if (value !== 0) registers[register] = (registers[register] ?? 0) | (1 << (entry.bit ?? 0));
    } else if (entry.type === 'uint32' || entry.type === 'float32') {
      const raw = entry.type === 'uint32' ? Math.round(value / entry.scale) : value;
      const [high, low] = wordsOf(entry, raw);
      registers[register] = entry.order === 'CDAB' ? low : high;
      registers[register + 1] = entry.order === 'CDAB' ? high : low;
    } else registers[register] = Math.round(value / entry.scale) & 0xffff;
  }
  return registers;
};

export const coilsOf = (image: Readonly<Record<string, number>>): Uint8Array => {
  const coils = new Uint8Array(COILS);
  for (const entry of PLANT_MAP) if (entry.coil !== undefined) coils[entry.coil] = image[entry.name] ?? 0;
  return coils;
};
