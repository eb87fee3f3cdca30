import type { Param } from '../measure/index.ts';
import { type Address, FUNCTION_CODES, type Table } from '../signal/index.ts';

/** Why an address is not taken; `params` hold the ways in which it could be read, where there are several. */
export interface AddressFault {
  readonly fault:
    | 'address-ambiguous'
    | 'address-coil-or-hex'
    | 'address-not-read'
    | 'address-out-of-range'
    | 'address-table-differs'
    | 'address-without-table'
    | 'namespace-by-index'
    | 'path-not-read'
    | 'bit-out-of-range';
  readonly params?: Readonly<Record<string, Param>>;
}

export type AddressRead = { readonly address: Address; readonly bit?: number } | AddressFault;

const TABLES: Readonly<Record<string, Table>> = {
  coil: 'coil',
  di: 'discrete-input',
  hr: 'holding',
  ir: 'input',
};

const NAMES: Readonly<Record<Table, string>> = {
  coil: 'coil',
  'discrete-input': 'di',
  holding: 'hr',
  input: 'ir',
};

/** First digit of the numbering that counts from 1 (Modbus Application Protocol 4.4 counts from 0 on the wire). */
const NUMBERED: Readonly<Record<string, Table>> = {
  '0': 'coil',
  '1': 'discrete-input',
  '3': 'input',
  '4': 'holding',
};

/** What people call what stands in a table: one of it, several. */
export const TABLE_WORDS: Readonly<Record<Table, readonly [one: string, many: string]>> = {
  holding: ['holding register', 'holding registers'],
  input: ['input register', 'input registers'],
  coil: ['coil', 'coils'],
  'discrete-input': ['discrete input', 'discrete inputs'],
};

/** First digits, by table. */
const DIGITS: Readonly<Record<Table, string>> = {
  coil: '0',
  'discrete-input': '1',
  holding: '4',
  input: '3',
};

export const ADDRESS_FORMS: readonly string[] = ['hr:10', 'ir:3', 'coil:5', 'di:0', '40011', '400011'];

const LAST = 65_535;
/** Four digits behind the table's own, counted from 1, reach this far. */
const LAST_OF_FIVE = 9_998;

/** `hr:10`: counted from 0, as on the wire. */
export const addressName = (table: Table, address: number): string => `${NAMES[table]}:${address}`;

/** One address in every form in which people write it. */
export interface AddressForms {
  /** What travels: `0x000A (10)`. */
  readonly wire: string;
  /** `hr:10`. */
  readonly named: string;
  /** `40011`; only the first 9,999 of a table have such a number. */
  readonly five?: string;
  /** `400011`. */
  readonly six: string;
  readonly functionCode: 1 | 2 | 3 | 4;
}

export const addressForms = (table: Table, address: number): AddressForms => {
  const digit = DIGITS[table];
  const hex = address.toString(16).toUpperCase().padStart(4, '0');
  const number = String(address + 1);
  return {
    wire: `0x${hex} (${address})`,
    named: addressName(table, address),
    ...(address <= LAST_OF_FIVE ? { five: `${digit}${number.padStart(4, '0')}` } : {}),
    six: `${digit}${number.padStart(5, '0')}`,
    functionCode: FUNCTION_CODES[table],
  };
};

/** A table by the names that people have for it: `hr` and `holding`, `ir` and `input` … */
export const tableNamed = (text: string): Table | undefined =>
  TABLES[text] ?? Object.values(TABLES).find((table) => table === text);

const at = (table: Table, address: number, bit: string | undefined): AddressRead => {
  if (address < 0 || address > LAST) return { fault: 'address-out-of-range' };
  const found = { address: { kind: 'modbus', table, at: address } as const };
  if (bit === undefined) return found;
  return Number(bit) > 15 ? { fault: 'bit-out-of-range' } : { ...found, bit: Number(bit) };
};

/** A number that may be counted from 0 or from 1: both readings, for the person who knows. */
const either = (table: Table, number: number): AddressFault => ({
  fault: 'address-ambiguous',
  params: {
    zero: addressName(table, number),
    one: number === 0 ? 'nothing' : addressName(table, number - 1),
  },
});

/** `40011`, `400011`, `4x0011`, `4:0011`: counted from 1. The digits behind the table's own say that it is such a number. */
const numbered = (text: string): AddressRead | undefined => {
  const [, digit = '', mark = '', digits = '', bit] =
    /^([0134])([x:]?)(\d{4,6})(?:\.(\d+))?$/i.exec(text) ?? [];
  const table = NUMBERED[digit];
  if (table === undefined || (mark === '' && digits.length === 6)) return undefined;
  return at(table, Number(digits) - 1, bit);
};

/** `4x10`, `4:10`: the table is plain, where it is counted from is not. */
const short = (text: string): AddressRead | undefined => {
  const [, digit = '', digits = ''] =
    /^([134])[x:](\d{1,3})$/i.exec(text) ?? /^(0):(\d{1,3})$/.exec(text) ?? [];
  const table = NUMBERED[digit];
  return table === undefined ? undefined : either(table, Number(digits));
};

/** `0x0010` is a number in base 16, or coil 10 in the numbering 0x, 1x, 3x, 4x. */
const based = (text: string, said: Table | undefined): AddressRead | undefined => {
  const [, digits = '', bit] = /^0x([0-9a-f]{1,6})(?:\.(\d+))?$/i.exec(text) ?? [];
  if (digits === '') return undefined;
  const number = Number.parseInt(digits, 16);
  const coil = /^\d+$/.test(digits) ? Number(digits) - 1 : -1;
  if (said !== undefined && (said !== 'coil' || coil < 0)) return at(said, number, bit);
  if (coil < 0) return { fault: 'address-without-table', params: { named: addressName('holding', number) } };
  const params = { named: addressName(said ?? 'holding', number), coil: addressName('coil', coil) };
  return { fault: 'address-coil-or-hex', params };
};

const ofTable = (read: AddressRead, said: Table | undefined): AddressRead => {
  if (said === undefined || 'fault' in read || read.address.kind !== 'modbus') return read;
  const { table } = read.address;
  return table === said ? read : { fault: 'address-table-differs', params: { table, said } };
};

/**
 * `hr:10`, `ir:0x1F`, `hr:10.3` (a bit), `coil:5`, `di:0`: counted from 0, as on the wire. `40011`, `400011`, `4x0011`
 * and `4:0011`: counted from 1. Where the table is said elsewhere (`said`), `0x000A` too, counted from 0. Whatever could
 * be read in two ways is refused with both.
 */
export const modbusAddress = (text: string, said?: Table): AddressRead => {
  const named = /^(coil|di|hr|ir):(0x[0-9a-f]+|\d+)(?:\.(\d+))?$/i.exec(text);
  const table = TABLES[named?.[1]?.toLowerCase() ?? ''];
  if (named !== null && table !== undefined) return ofTable(at(table, Number(named[2]), named[3]), said);
  const hex = based(text, said);
  if (hex !== undefined) return hex;
  const counted = numbered(text) ?? short(text);
  if (counted !== undefined) return ofTable(counted, said);
  return /^\d{1,5}$/.test(text) ? either(said ?? 'holding', Number(text)) : { fault: 'address-not-read' };
};

/** The namespace of the standard itself, always the first of a server. */
const STANDARD = 'http://opcfoundation.org/UA/';

type Path = Extract<Address, { kind: 'opc-ua-path' }>['path'];

/** A name up to the next `/`; `&` takes the meaning from the character behind it. */
const NAME = /^(?:&[/.<>:#!&]|[^/&])+/;

const pathOf = (text: string): AddressRead => {
  const path: Path[number][] = [];
  let namespace = '';
  let rest = text;
  while (rest.startsWith('/')) {
    rest = rest.slice(1);
    const said = /^nsu=([^;]+);/.exec(rest);
    if (said !== null) {
      namespace = said[1] === STANDARD ? '' : (said[1] ?? '');
      rest = rest.slice(said[0].length);
    }
    const name = NAME.exec(rest)?.[0] ?? '';
    if (/^(ns=\d+;|\d+:)/.test(name)) return { fault: 'namespace-by-index' };
    if (name === '') return { fault: 'path-not-read' };
    path.push({ namespace, name: name.replace(/&(.)/g, '$1') });
    rest = rest.slice(name.length);
  }
  // People copy the folder from which paths begin along with them.
  const [first] = path;
  if (first?.namespace === '' && first.name === 'Objects') path.shift();
  if (rest !== '' || path.length === 0) return { fault: 'path-not-read' };
  return { address: { kind: 'opc-ua-path', path } };
};

/** The forms in which an OPC UA address can be written. */
export const OPC_UA_FORMS = ['nsu=URI;s=ID', 'path=/nsu=URI;First/Second'];

const ID = /^(?:i=\d{1,10}|s=.+|g=[0-9a-fA-F]{8}(?:-[0-9a-fA-F]{4}){3}-[0-9a-fA-F]{12}|b=[A-Za-z0-9+/]+=*)$/;

/**
 * `nsu=URI;s=ID` (OPC UA Part 6, 5.3.1.10: node ids as text), or names from the Objects folder down:
 * `path=/nsu=URI;Machines/E1/Shaft speed`, where a namespace holds for the names behind it too, and `&` stands before a
 * `/` or `&` that belongs to a name (Part 4, Annex A.2). An index instead of the URI may move at a restart.
 */
export const opcUaAddress = (text: string): AddressRead => {
  if (/^ns=\d+;/.test(text)) return { fault: 'namespace-by-index' };
  if (text.startsWith('path=')) return pathOf(text.slice('path='.length));
  const found = /^nsu=([^;]+);(.+)$/.exec(text);
  if (found === null || !ID.test(found[2] ?? '')) return { fault: 'address-not-read' };
  return { address: { kind: 'opc-ua', namespace: found[1] ?? '', id: found[2] ?? '' } };
};
