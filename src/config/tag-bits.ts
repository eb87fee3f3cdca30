import type { BitField } from '../signal/index.ts';
import { clash, says, type TagDesk, tellAlone } from './tag-use.ts';

/** Types whose bits can be picked, by their width. */
const WIDTHS: Readonly<Record<string, number>> = { uint16: 16, int16: 16, uint32: 32, int32: 32 };

type Numbering = 'lsb-0' | 'lsb-1' | 'msb-0' | 'msb-1';

/** Least and greatest number of a bit, and where number `bit` lies counted from the least significant. */
const NUMBERINGS: Readonly<
  Record<Numbering, (width: number) => { first: number; at: (bit: number) => number }>
> = {
  'lsb-0': () => ({ first: 0, at: (bit) => bit }),
  'lsb-1': () => ({ first: 1, at: (bit) => bit - 1 }),
  'msb-0': (width) => ({ first: 0, at: (bit) => width - 1 - bit }),
  'msb-1': (width) => ({ first: 1, at: (bit) => width - bit }),
};

/** An OPC UA item without a type has as many bits as the widest that is common. */
const widthOf = (desk: TagDesk, modbus: boolean): number | undefined => {
  const { type } = desk.tag;
  if (type === undefined || type === 'bool') return modbus ? 16 : 32;
  const width = WIDTHS[type];
  if (width === undefined) desk.tell(desk.at.of('type'), 'bits-of-type', { type });
  return width;
};

/** Bits as the tag numbers them; one or two. Undefined where none are said (or they have been told). */
const saidBits = (desk: TagDesk): readonly number[] | undefined => {
  const { tag, at, tell } = desk;
  if (tag.bit !== undefined) return [tag.bit];
  if (tag.bits === undefined) return undefined;
  const bits = tag.bits.filter((bit) => bit !== undefined);
  if (bits.length === 2 && tag.bits.length === 2 && bits[0] !== bits[1]) return bits;
  tell(at.of('bits'), 'bits-two');
  return undefined;
};

/**
 * Bits that a tag picks out of its number. `fromAddress`: the bit behind the dot of `hr:9.3`, counted from the least
 * significant, 0.
 */
export const bitsOf = (
  desk: TagDesk,
  fromAddress: number | undefined,
  modbus: boolean,
): BitField | undefined => {
  const { tag, at, tell } = desk;
  if (fromAddress !== undefined) {
    for (const key of ['bit', 'bits', 'bit-numbering'] as const)
      if (says(desk, key)) tell(at.of(key), 'bit-said-twice', { key, bit: fromAddress });
    return { low: fromAddress, count: 1 };
  }
  if (!says(desk, 'bit') && !says(desk, 'bits')) tellAlone(desk, ['bit-numbering'], 'bit or bits');
  if (clash(desk, 'bit', 'bits')) return undefined;
  const bits = saidBits(desk);
  const width = bits === undefined ? undefined : widthOf(desk, modbus);
  if (bits === undefined || width === undefined) return undefined;
  const said = tag['bit-numbering'] ?? 'lsb-0';
  if (said.startsWith('msb') && tag.type === undefined && !modbus) {
    tell(at.of('bit-numbering'), 'bits-need-type', { numbering: said });
    return undefined;
  }
  const { first, at: placeOf } = NUMBERINGS[said](width);
  const places = bits.map(placeOf);
  if (places.some((place) => place < 0 || place >= width)) {
    const params = { bits: bits.map(String), numbering: said, first, last: first + width - 1 };
    tell(at.of(tag.bit === undefined ? 'bits' : 'bit'), 'bit-not-there', params);
    return undefined;
  }
  const low = Math.min(...places);
  return { low, count: Math.max(...places) - low + 1 };
};
