import { kindOfUnit, type Micros, type SignalId, unitsOf } from '../measure/index.ts';
import type { SignalDef } from '../signal/index.ts';
import { ADDRESS_FORMS, modbusAddress, OPC_UA_FORMS, opcUaAddress } from './address.ts';
import { decodingOf, type Found, isState, namesOfStates } from './decoding.ts';
import type { Tell } from './fault.ts';
import { inUnit, micros } from './quantities.ts';
import type { TagText } from './site-schema.ts';
import type { SourceRead } from './sources.ts';
import { nearest } from './suggest.ts';
import { tellTooShort } from './tag-pulses.ts';
import { type TagDesk, type TagPlaces, type TagUse, tellMissing } from './tag-use.ts';
import type { Loose } from './walk.ts';

const addressOf = (desk: TagDesk, protocol: SourceRead['source']['protocol']): Found | undefined => {
  const { tag, at, tell } = desk;
  if (protocol === 'trace') {
    if (tag.address !== undefined) tell(at.of('address'), 'trace-has-no-address');
    return { address: { kind: 'trace' } };
  }
  if (tag.address === undefined) {
    tellMissing(desk, 'address');
    return undefined;
  }
  const text = String(tag.address);
  const read = protocol === 'opc-ua' ? opcUaAddress(text) : modbusAddress(text, tag.table);
  if ('fault' in read) {
    tell(at.of('address'), read.fault, {
      ...read.params,
      text,
      forms: protocol === 'opc-ua' ? OPC_UA_FORMS : ADDRESS_FORMS,
    });
    return undefined;
  }
  return read.bit === undefined ? { address: read.address } : { address: read.address, bit: read.bit };
};

const unitOf = (desk: TagDesk, use: TagUse | undefined): string | undefined => {
  const { tag, at, tell } = desk;
  const only = use?.kinds.length === 1 && use.kinds[0] === 'count';
  if (tag.unit === undefined) {
    if (only || (use === undefined && tag.type === 'text')) return 'count';
    tellMissing(desk, 'unit');
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

const contactWords = ({ tag, at, tell }: TagDesk, use: TagUse | undefined): void => {
  if (tag.inverted !== undefined && tag.healthy !== undefined)
    tell(at.of('inverted'), 'healthy-and-inverted');
  if (use?.contact === true && !Object.hasOwn(tag, 'healthy'))
    tell(at.key, 'healthy-missing', { role: use.role });
  if (use !== undefined && use.states.length > 0 && tag.unit !== undefined) {
    tell(at.of('unit'), 'state-has-no-unit', { unit: tag.unit, role: use.role });
  }
};

const plausibleOf = ({ tag, at, tell }: TagDesk, unit: string, difference: boolean) => {
  if (tag.plausible === undefined) return undefined;
  const [low, high] = tag.plausible.map((text) => inUnit(text, unit, difference));
  if (low !== undefined && high !== undefined && low < high && tag.plausible.length === 2)
    return { low, high };
  tell(at.of('plausible'), 'plausible-range', { unit });
  return undefined;
};

const ageOf = ({ tag, at, tell }: TagDesk, scan: Micros): Micros => {
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
  const desk: TagDesk = { tag, at, tell };
  contactWords(desk, use);
  const found = addressOf(desk, source.protocol);
  if (found === undefined) return undefined;
  const state = isState(desk, use, found);
  const unit = state ? '' : unitOf(desk, use);
  if (unit === undefined) return undefined;
  const quantity = state ? 'state' : (kindOfUnit(unit) ?? 'count');
  const plausible = state ? undefined : plausibleOf(desk, unit, use?.difference === true);
  const read = decodingOf(desk, found, { state, unit, quantity, plausible });
  if (source.protocol === 'modbus') tellTooShort(desk, read?.decoding, plausible, source.poll);
  if (read === undefined) return undefined;
  return {
    id: context.id,
    name,
    source: context.source.index,
    address: found.address,
    ...read,
    quantity,
    unit,
    states: state ? (use?.states ?? namesOfStates(read.decoding)) : [],
    age: ageOf(desk, source.scan),
    agedAfter: micros(tag['aged-after'], agedAfter),
    ...(plausible === undefined ? {} : { plausible }),
  };
};
