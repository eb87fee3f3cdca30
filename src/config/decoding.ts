import type { Interval, QuantityKind } from '../measure/index.ts';
import type { Address, BitField, Decoding, NumberType, Table } from '../signal/index.ts';
import { bitsOf } from './tag-bits.ts';
import { curveOf, curveRead, doubtOf } from './tag-curve.ts';
import { conversionOf, MEASURE_KEYS } from './tag-number.ts';
import { pulseDecoding, pulseKeys } from './tag-pulses.ts';
import { clash, says, type TagDesk, type TagUse, tellAlone, tellMissing } from './tag-use.ts';

const BIT_TABLES: readonly Table[] = ['coil', 'discrete-input'];
export const isBitTable = (address: Address): boolean =>
  address.kind === 'modbus' && BIT_TABLES.includes(address.table);

/** More bits than these are no states. */
const MOST_NAMED = 8;

/** Where a tag lives, and the bit that its address names. */
export interface Found {
  readonly address: Address;
  readonly bit?: number;
}

/** How words become a value, and its doubt in the unit of the signal. */
export interface TagDecoding {
  readonly decoding: Decoding;
  readonly resolution: number;
  readonly accuracy: number;
}

const isText = ({ tag }: TagDesk): boolean => tag.type === 'text';

const inverted = ({ tag }: TagDesk): boolean => tag.inverted ?? tag.healthy === 'closed';

/** The type of a number, where it has one. */
const numberType = ({ tag }: TagDesk): NumberType | undefined =>
  tag.type === 'bool' || tag.type === 'text' ? undefined : tag.type;

const orderOf = ({ tag }: TagDesk) => tag.order ?? 'ABCD';

/** Characters: so many registers, or a text of an OPC UA server. */
const textDecoding = (desk: TagDesk, modbus: boolean): Decoding | undefined => {
  const { tag, at, tell } = desk;
  tellAlone(desk, ['bit', 'bits', 'bit-numbering', 'scale', 'offset', 'faults'], 'a number');
  if (!modbus) {
    tellAlone(desk, ['length', 'order'], 'registers');
    return { as: 'text', registers: 0, order: 'ABCD' };
  }
  const order = orderOf(desk);
  if (order === 'CDAB' || order === 'DCBA') tell(at.of('order'), 'text-order', { order });
  tellMissing(desk, 'length');
  return tag.length === undefined ? undefined : { as: 'text', registers: tag.length, order };
};

const single = (field: BitField | undefined): boolean => field?.count === 1;

const stateDecoding = (
  desk: TagDesk,
  { address }: Found,
  field: BitField | undefined,
): Decoding | undefined => {
  const { tag, at, tell } = desk;
  const turned = inverted(desk);
  if (isBitTable(address)) return { as: 'bit', inverted: turned };
  if (address.kind !== 'modbus') {
    const conversion = conversionOf(desk, '', numberType(desk), field);
    return conversion && { as: 'value', ...conversion, inverted: turned };
  }
  const type = numberType(desk);
  const turnedBytes = tag.order === 'BADC' || tag.order === 'DCBA';
  const plain = !turnedBytes && (type === undefined || type === 'uint16' || type === 'int16');
  if (field !== undefined && single(field) && plain) return { as: 'bit', bit: field.low, inverted: turned };
  const whole = field === undefined && (tag.type === undefined || tag.type === 'bool');
  if (whole || (turned && !single(field))) tell(at.of('address'), 'bit-missing');
  const conversion = conversionOf(desk, '', type ?? 'uint16', field);
  if (conversion === undefined) return undefined;
  const number = { as: 'number', type: type ?? 'uint16', order: orderOf(desk), ...conversion } as const;
  return turned ? { ...number, inverted: turned } : number;
};

const INTEGERS: readonly string[] = [
  'uint16',
  'int16',
  'uint32',
  'int32',
  'uint64',
  'int64',
  'bcd16',
  'bcd32',
];

const speedDecoding = (desk: TagDesk, unit: string, overOpcUa: boolean): Decoding | undefined => {
  if ((['curve', 'loop', 'percent-of'] as const).some((other) => clash(desk, 'pulses', other)))
    return undefined;
  if (!overOpcUa) return pulseDecoding(desk, unit);
  desk.tell(desk.at.of('pulses'), 'pulses-over-opc-ua', { pulses: desk.tag.pulses ?? '' });
  return undefined;
};

/** What the signal of a tag is to measure. */
interface Wanted {
  readonly unit: string;
  readonly quantity: QuantityKind;
  readonly plausible: Interval | undefined;
}

/** One step of a whole number, in what it is scaled to; a count of something is exact. */
const stepOf = (
  address: Address,
  type: NumberType | undefined,
  quantity: QuantityKind,
  scale: number,
): number =>
  address.kind !== 'trace' && INTEGERS.includes(type ?? '') && quantity !== 'count' ? Math.abs(scale) : 0;

const numberDecoding = (
  desk: TagDesk,
  { address }: Found,
  field: BitField | undefined,
  { unit, quantity, plausible }: Wanted,
): TagDecoding | undefined => {
  const curve = curveOf(desk, unit);
  const type = numberType(desk) ?? (field === undefined ? undefined : 'uint16');
  if (address.kind === 'modbus' && type === undefined) {
    tellMissing(desk, 'type');
    if (desk.tag.type === 'bool') desk.tell(desk.at.of('type'), 'bit-cannot-measure');
    return undefined;
  }
  const conversion = conversionOf(desk, unit, type, field);
  const curveLost = curve === undefined && (says(desk, 'curve') || says(desk, 'loop'));
  if (conversion === undefined || curveLost) return undefined;
  const step = stepOf(address, type, quantity, conversion.scale);
  const read = curve && curveRead(desk, curve, unit, step, plausible);
  if (curve !== undefined && read === undefined) return undefined;
  const { resolution, accuracy } = read ?? plainDoubt(desk, unit, step);
  const all = read === undefined ? conversion : { ...conversion, curve: read.curve };
  const decoding: Decoding =
    address.kind === 'modbus' && type !== undefined
      ? { as: 'number', type, order: orderOf(desk), ...all }
      : { as: 'value', ...all, inverted: false };
  return { decoding, resolution, accuracy };
};

const measuredDecoding = (
  desk: TagDesk,
  found: Found,
  field: BitField | undefined,
  wanted: Wanted,
): TagDecoding | undefined => {
  const { address } = found;
  const { pulses } = desk.tag;
  if (isBitTable(address) || single(field)) {
    desk.tell(desk.at.of('address'), 'bit-cannot-measure');
    return undefined;
  }
  pulseKeys(desk);
  if (pulses !== 'count' && pulses !== 'gate-count' && pulses !== 'period')
    return numberDecoding(desk, found, field, wanted);
  const decoding = speedDecoding(
    desk,
    wanted.unit,
    address.kind === 'opc-ua' || address.kind === 'opc-ua-path',
  );
  return decoding && { decoding, ...plainDoubt(desk, wanted.unit, 0) };
};

/** Without a curve: as declared, or one step of the register. */
const plainDoubt = (desk: TagDesk, unit: string, step: number) => ({
  resolution: doubtOf(desk, 'resolution', unit, undefined).behind ?? step,
  accuracy: doubtOf(desk, 'accuracy', unit, undefined).behind ?? 0,
});

/** A tag that holds a state is one of its role's, or, where no role binds it, one without anything that measures. */
export const isState = (desk: TagDesk, use: TagUse | undefined, { address, bit }: Found): boolean => {
  if (use !== undefined) return use.states.length > 0;
  const { tag } = desk;
  if (isText(desk)) return false;
  if (isBitTable(address) || bit !== undefined || tag.bit !== undefined || tag.type === 'bool') return true;
  return tag.unit === undefined && !MEASURE_KEYS.some((key) => says(desk, key));
};

/** Names of the states of a tag that no role has named: a bit is off or on, several are numbers. */
export const namesOfStates = (decoding: Decoding): readonly string[] => {
  const count = 'field' in decoding ? (decoding.field?.count ?? 1) : 1;
  return count === 1 || count > MOST_NAMED
    ? ['off', 'on']
    : Array.from({ length: 1 << count }, (_, code) => String(code));
};

/** Keys that a state has no use for: it has no unit and no doubt. */
const measuresState = (desk: TagDesk): void =>
  tellAlone(desk, [...MEASURE_KEYS, 'coefficients', 'cold-junction'], 'a measured value');

/** A coil or an input is a bit already. */
const bitsPicked = (
  desk: TagDesk,
  { address, bit }: Found,
  modbus: boolean,
): BitField | undefined | 'told' => {
  if (isBitTable(address)) {
    tellAlone(desk, ['bit', 'bits', 'bit-numbering'], 'a register');
    return undefined;
  }
  const said = says(desk, 'bit') || says(desk, 'bits');
  return bitsOf(desk, bit, modbus) ?? (said ? 'told' : undefined);
};

/** How words become a value; undefined where it cannot be known (and has been told). */
export const decodingOf = (
  desk: TagDesk,
  found: Found,
  wanted: Wanted & { readonly state: boolean },
): TagDecoding | undefined => {
  const { at, tell } = desk;
  const modbus = found.address.kind === 'modbus';
  if (isText(desk)) {
    if (wanted.quantity === 'count') {
      const decoding = textDecoding(desk, modbus);
      return decoding && { decoding, resolution: 0, accuracy: 0 };
    }
    tell(at.of('type'), 'text-cannot-measure');
    return undefined;
  }
  tellAlone(desk, ['length'], 'type: text');
  const pick = bitsPicked(desk, found, modbus);
  if (pick === 'told') return undefined;
  if (!wanted.state) return measuredDecoding(desk, found, pick, wanted);
  measuresState(desk);
  const decoding = stateDecoding(desk, found, pick);
  return decoding && { decoding, resolution: 0, accuracy: 0 };
};
