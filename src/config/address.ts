import type { Address, Table } from '../signal/index.ts';

export type AddressRead =
  | { readonly address: Address; readonly bit?: number }
  | {
      readonly fault:
        | 'address-ambiguous'
        | 'address-not-read'
        | 'address-out-of-range'
        | 'namespace-by-index'
        | 'bit-out-of-range';
    };

const TABLES: Readonly<Record<string, Table>> = {
  coil: 'coil',
  di: 'discrete-input',
  hr: 'holding',
  ir: 'input',
};

/** First digit of the numbering that counts from 1 (Modbus Application Protocol 4.4 counts from 0 on the wire). */
const NUMBERED: Readonly<Record<string, Table>> = {
  '0': 'coil',
  '1': 'discrete-input',
  '3': 'input',
  '4': 'holding',
};

const LAST = 65_535;

const at = (table: Table, address: number, bit: string | undefined): AddressRead => {
  if (address < 0 || address > LAST) return { fault: 'address-out-of-range' };
  const found = { address: { kind: 'modbus', table, at: address } as const };
  if (bit === undefined) return found;
  return Number(bit) > 15 ? { fault: 'bit-out-of-range' } : { ...found, bit: Number(bit) };
};

/**
 * `hr:10`, `ir:0x1F`, `hr:10.3` (a bit), `coil:5`, `di:0`: counted from 0, as on the wire. `40011` and `400011`:
 * counted from 1; five or six digits say which table. Anything shorter could be either and is refused.
 */
export const modbusAddress = (text: string): AddressRead => {
  const named = /^(coil|di|hr|ir):(0x[0-9a-fA-F]+|\d+)(?:\.(\d+))?$/.exec(text);
  const table = TABLES[named?.[1] ?? ''];
  if (named !== null && table !== undefined) return at(table, Number(named[2]), named[3]);
  const numbered = /^([0134])(\d{4,5})(?:\.(\d+))?$/.exec(text);
  const from = NUMBERED[numbered?.[1] ?? ''];
  if (numbered !== null && from !== undefined) return at(from, Number(numbered[2]) - 1, numbered[3]);
  return { fault: /^-?\d+$/.test(text) ? 'address-ambiguous' : 'address-not-read' };
};

/** `nsu=URI;s=ID` (OPC UA Part 6, 5.3.1.10: node ids as text). An index instead of the URI may move at a restart. */
export const opcUaAddress = (text: string): AddressRead => {
  if (/^ns=\d+;/.test(text)) return { fault: 'namespace-by-index' };
  const found = /^nsu=([^;]+);([sigb]=.+)$/.exec(text);
  if (found === null) return { fault: 'address-not-read' };
  return { address: { kind: 'opc-ua', namespace: found[1] ?? '', id: found[2] ?? '' } };
};
