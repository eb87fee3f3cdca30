import { kindOfUnit, type Micros, type QuantityKind, type SignalId, unitsOf } from '../measure/index.ts';
import type { Address, Decoding, SignalDef } from '../signal/index.ts';
import { ADDRESS_FORMS, modbusAddress, opcUaAddress } from './address.ts';
import { decodingOf, isBitTable, type TagPlaces, type TagUse, tellMissing } from './decoding.ts';
import type { Tell } from './fault.ts';
import { inUnit, micros } from './quantities.ts';
import type { TagText } from './site-schema.ts';
import type { SourceRead } from './sources.ts';
import { nearest } from './suggest.ts';
import type { Loose } from './walk.ts';

const addressOf = (
  tag: Loose<TagText>,
  protocol: SourceRead['source']['protocol'],
  at: TagPlaces,
  tell: Tell,
): { address: Address; bit?: number } | undefined => {
  if (protocol === 'trace') {
    if (tag.address !== undefined) tell(at.of('address'), 'trace-has-no-address');
    return { address: { kind: 'trace' } };
  }
  if (tag.address === undefined) {
    tellMissing(tag, 'address', at, tell);
    return undefined;
  }
  const text = String(tag.address);
  const read = protocol === 'opc-ua' ? opcUaAddress(text) : modbusAddress(text, tag.table);
  if ('fault' in read) {
    tell(at.of('address'), read.fault, { ...read.params, text, forms: [...ADDRESS_FORMS, 'nsu=URI;s=ID'] });
    return undefined;
  }
  const bit = tag.bit ?? read.bit;
  return bit === undefined ? { address: read.address } : { address: read.address, bit };
};

const isState = (
  tag: Loose<TagText>,
  use: TagUse | undefined,
  address: Address,
  bit: number | undefined,
): boolean => {
  if (use !== undefined) return use.states.length > 0;
  return isBitTable(address) || bit !== undefined || tag.type === 'bool' || tag.unit === undefined;
};

const unitOf = (
  tag: Loose<TagText>,
  use: TagUse | undefined,
  at: TagPlaces,
  tell: Tell,
): string | undefined => {
  const only = use?.kinds.length === 1 && use.kinds[0] === 'count';
  if (tag.unit === undefined) {
    if (only) return 'count';
    tellMissing(tag, 'unit', at, tell);
    return undefined;
  }
  const kind = kindOfUnit(tag.unit);
  const units = (use?.kinds ?? []).flatMap((wanted) => unitsOf(wanted));
  if (kind === undefined) {
    tell(at.of('unit'), 'unknown-unit', { unit: tag.unit, units }, nearest(tag.unit, units));
    return undefined;
  }
  if (use === undefined || use.kinds.includes(kind)) return tag.unit;
  tell(at.of('unit'), 'wrong-unit', {
    unit: tag.unit,
    measures: kind,
    wanted: use.kinds.join(' or '),
    units,
  });
  return undefined;
};

const contactWords = (tag: Loose<TagText>, use: TagUse | undefined, at: TagPlaces, tell: Tell): void => {
  if (tag.inverted !== undefined && tag.healthy !== undefined)
    tell(at.of('inverted'), 'healthy-and-inverted');
  if (use?.contact === true && !Object.hasOwn(tag, 'healthy'))
    tell(at.key, 'healthy-missing', { role: use.role });
  if (use !== undefined && use.states.length > 0 && tag.unit !== undefined) {
    tell(at.of('unit'), 'state-has-no-unit', { unit: tag.unit, role: use.role });
  }
};

const INTEGERS = new Set(['uint16', 'int16', 'uint32', 'int32']);

const defaultResolution = (decoding: Decoding, kind: QuantityKind): number =>
  decoding.as === 'number' && INTEGERS.has(decoding.type) && kind !== 'count' ? Math.abs(decoding.scale) : 0;

/** A quantity of the tag in its unit; told where the unit measures something else. */
const own = (
  tag: Loose<TagText>,
  field: 'resolution' | 'accuracy',
  unit: string,
  at: TagPlaces,
  tell: Tell,
): number | undefined => {
  const text = tag[field];
  if (text === undefined) return undefined;
  const value = inUnit(text, unit, true);
  if (value === undefined)
    tell(at.of(field), 'wrong-unit', { unit: text, measures: '', wanted: unit, units: [unit] });
  return value;
};

const plausibleOf = (tag: Loose<TagText>, unit: string, at: TagPlaces, tell: Tell) => {
  if (tag.plausible === undefined) return undefined;
  const [low, high] = tag.plausible.map((text) => inUnit(text, unit));
  if (low !== undefined && high !== undefined && low < high && tag.plausible.length === 2)
    return { low, high };
  tell(at.of('plausible'), 'plausible-range', { unit });
  return undefined;
};

const ageOf = (tag: Loose<TagText>, scan: Micros, at: TagPlaces, tell: Tell): Micros => {
  if (tag.age === undefined || tag.age === 'computed') return scan;
  if (tag.age === 'input') return 2 * scan;
  const age = micros(tag.age, undefined);
  if (age === undefined) tell(at.of('age'), 'age-not-read', { text: tag.age });
  return age ?? scan;
};

export interface TagContext {
  readonly id: SignalId;
  readonly source: { readonly index: number; readonly read: SourceRead };
  readonly use: TagUse | undefined;
  readonly at: TagPlaces;
  readonly tell: Tell;
}

/** A tag as a signal; undefined where something of it could not be read (and has been told). */
export const signalOf = (name: string, tag: Loose<TagText>, context: TagContext): SignalDef | undefined => {
  const { at, tell, use } = context;
  const { source, agedAfter } = context.source.read;
  contactWords(tag, use, at, tell);
  const found = addressOf(tag, source.protocol, at, tell);
  if (found === undefined) return undefined;
  const state = isState(tag, use, found.address, found.bit);
  const unit = state ? '' : unitOf(tag, use, at, tell);
  const decoding = decodingOf(tag, found.address, found.bit, state, at, tell);
  if (unit === undefined || decoding === undefined) return undefined;
  const quantity = state ? 'state' : (kindOfUnit(unit) ?? 'count');
  const plausible = state ? undefined : plausibleOf(tag, unit, at, tell);
  const unbound = ['off', 'on'];
  return {
    id: context.id,
    name,
    source: context.source.index,
    address: found.address,
    decoding,
    quantity,
    unit,
    states: state ? (use?.states ?? unbound) : [],
    resolution: state ? 0 : (own(tag, 'resolution', unit, at, tell) ?? defaultResolution(decoding, quantity)),
    accuracy: state ? 0 : (own(tag, 'accuracy', unit, at, tell) ?? 0),
    age: ageOf(tag, source.scan, at, tell),
    agedAfter: micros(tag['aged-after'], agedAfter),
    ...(plausible === undefined ? {} : { plausible }),
  };
};
