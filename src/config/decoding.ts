import { MILLISECOND, type QuantityKind, SECOND } from '../measure/index.ts';
import type { Address, Decoding, NumberType, Table } from '../signal/index.ts';
import type { Place, Tell } from './fault.ts';
import { inUnit, micros } from './quantities.ts';
import type { TagText } from './site-schema.ts';
import type { Loose } from './walk.ts';

/** What the role that a tag is bound to wants of it. */
export interface TagUse {
  /** `machine.role`. */
  readonly role: string;
  readonly states: readonly string[];
  readonly kinds: readonly QuantityKind[];
  readonly contact: boolean;
}

export interface TagPlaces {
  readonly key: Place;
  readonly of: (field: string) => Place;
}

const BIT_TABLES: readonly Table[] = ['coil', 'discrete-input'];
export const isBitTable = (address: Address): boolean =>
  address.kind === 'modbus' && BIT_TABLES.includes(address.table);

const inverted = (tag: Loose<TagText>): boolean => tag.inverted ?? tag.healthy === 'closed';

const stateDecoding = (
  tag: Loose<TagText>,
  address: Address,
  bit: number | undefined,
  at: TagPlaces,
  tell: Tell,
): Decoding => {
  if (address.kind !== 'modbus') return { as: 'value', scale: 1, offset: 0, inverted: inverted(tag) };
  if (isBitTable(address)) return { as: 'bit', inverted: inverted(tag) };
  if (bit !== undefined) return { as: 'bit', bit, inverted: inverted(tag) };
  if (tag.type === undefined || tag.type === 'bool' || inverted(tag)) tell(at.of('address'), 'bit-missing');
  return number(tag, tag.type === 'bool' ? 'uint16' : (tag.type ?? 'uint16'));
};

const number = (tag: Loose<TagText>, type: NumberType): Decoding => ({
  as: 'number',
  type,
  order: tag.order ?? 'ABCD',
  scale: tag.scale ?? 1,
  offset: tag.offset ?? 0,
  faults: (tag.faults ?? []).filter((raw) => raw !== undefined),
});

/** Units that one pulse a second is worth, in the unit of the tag; undefined where it cannot be said. */
const perPulse = (tag: Loose<TagText>): number | undefined => {
  const unit = tag.unit ?? '';
  const rate = inUnit('1 pulses/s', unit);
  if (rate !== undefined) return rate;
  const length = inUnit(tag['length-per-pulse'], 'm');
  const belt = inUnit('1 m/s', unit);
  if (belt !== undefined) return length === undefined ? undefined : belt * length;
  const targets = tag['targets-per-revolution'];
  const turning = inUnit('1 rev/s', unit);
  return targets === undefined || turning === undefined ? undefined : turning / targets;
};

const pulseDecoding = (tag: Loose<TagText>, at: TagPlaces, tell: Tell): Decoding | undefined => {
  const type = tag.type ?? 'uint16';
  if (type !== 'uint16' && type !== 'uint32') {
    tell(at.of('type'), 'pulse-type', { type });
    return undefined;
  }
  const unitsPerPulsePerSecond = perPulse(tag);
  if (unitsPerPulsePerSecond === undefined) {
    tell(at.key, 'missing-key', {
      key: inUnit('1 m/s', tag.unit ?? '') === undefined ? 'targets-per-revolution' : 'length-per-pulse',
    });
    return undefined;
  }
  const order = tag.order ?? 'ABCD';
  if (tag.pulses === 'period') {
    tellMissing(tag, 'tick', at, tell);
    return { as: 'pulse-period', type, order, tick: micros(tag.tick, MILLISECOND), unitsPerPulsePerSecond };
  }
  const rollover = tag.rollover ?? (type === 'uint16' ? 65_536 : 4_294_967_296);
  return {
    as: 'pulse-count',
    type,
    order,
    rollover,
    unitsPerPulsePerSecond,
    gate: micros(tag.gate, 2 * SECOND),
  };
};

/** Told where a key is not there at all; one that is there and wrong has been told already. */
export const tellMissing = (tag: Loose<TagText>, key: keyof TagText, at: TagPlaces, tell: Tell): void => {
  if (!Object.hasOwn(tag, key)) tell(at.key, 'missing-key', { key });
};

/** How words become a value; undefined where it cannot be known (and has been told). */
export const decodingOf = (
  tag: Loose<TagText>,
  address: Address,
  bit: number | undefined,
  state: boolean,
  at: TagPlaces,
  tell: Tell,
): Decoding | undefined => {
  if (state) return stateDecoding(tag, address, bit, at, tell);
  if (isBitTable(address) || bit !== undefined) {
    tell(at.of('address'), 'bit-cannot-measure');
    return undefined;
  }
  if (tag.pulses !== undefined) return pulseDecoding(tag, at, tell);
  if (address.kind !== 'modbus') {
    return { as: 'value', scale: tag.scale ?? 1, offset: tag.offset ?? 0, inverted: false };
  }
  if (tag.type === undefined || tag.type === 'bool') {
    tellMissing(tag, 'type', at, tell);
    return undefined;
  }
  return number(tag, tag.type);
};
