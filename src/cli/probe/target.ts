import { ADDRESS_FORMS, addressForms, faultSentence, modbusAddress, tableNamed } from '../../config/index.ts';
import type { Line, Table } from '../../signal/index.ts';
import type { AccessOptions } from '../certificates.ts';
import { hung } from '../hung.ts';
import { EXIT, Stop } from '../io.ts';

export interface ProbeOptions extends AccessOptions {
  readonly pki: string;
  readonly json: boolean;
  readonly unit: string;
  readonly units?: string;
  readonly count?: string;
  readonly around?: string;
  readonly timeout: string;
  readonly table?: string;
  readonly rtuOverTcp: boolean;
  readonly baud: string;
  readonly parity: string;
  readonly expect?: string;
  readonly watch: boolean;
  readonly for?: string;
  readonly every: string;
  readonly siteFile?: string;
}

export interface Asked {
  readonly line: Line;
  readonly unit: number;
  readonly table: Table;
  readonly at: number;
  readonly bit?: number;
  /** Milliseconds. */
  readonly timeout: number;
}

/** `main` puts its name before it. */
const NAMED = 'tripwitness: ';

const wrong = (message: string): never => {
  throw new Stop(hung(message, NAMED, '  ').join('\n').slice(NAMED.length), { exit: EXIT.usage });
};

const PARITIES = ['none', 'even', 'odd'] as const;

const serial = (path: string, options: ProbeOptions): Line => {
  const parity = PARITIES.find((one) => one === options.parity);
  if (parity === undefined)
    return wrong(`--parity is one of ${PARITIES.join(', ')}, not "${options.parity}"`);
  // Two stop bits stand in for the parity that is not there (Modbus over Serial Line V1.02, 2.5.1).
  const stopBits = parity === 'none' ? 2 : 1;
  return { kind: 'serial', path, baud: Number(options.baud), parity, dataBits: 8, stopBits };
};

/** `HOST`, `HOST:PORT`, `[IPv6]:PORT`, or the name of a serial port. */
export const lineOf = (place: string, options: ProbeOptions): Line => {
  if (/^(\/dev\/|\.?\/|COM\d+$)/.test(place)) return serial(place, options);
  const [, bracketed, plain, port = '502'] = /^(?:\[([^\]]+)\]|([^:\s]+))(?::(\d+))?$/.exec(place) ?? [];
  const host = bracketed ?? plain;
  const number = Number(port);
  if (host === undefined || number < 1 || number > 65_535) {
    return wrong(
      `"${place}" is no place to ask: write HOST:PORT (such as 192.168.0.10:502), a serial port (/dev/ttyUSB0, COM3) or opc.tcp://HOST:PORT`,
    );
  }
  return { kind: options.rtuOverTcp ? 'rtu-over-tcp' : 'tcp', host, port: number };
};

/** Where nobody names an address, the first holding register is asked: any answer shows that the unit lives. */
const FIRST = 'hr:0';

export const askedOf = (place: string, address: string | undefined, options: ProbeOptions): Asked => {
  const text = address ?? FIRST;
  const said = options.table === undefined ? undefined : tableNamed(options.table);
  if (options.table !== undefined && said === undefined)
    wrong(`--table is one of hr, ir, coil, di, not "${options.table}"`);
  const read = modbusAddress(text, said);
  if ('fault' in read) {
    const params = { ...read.params, text, forms: ADDRESS_FORMS };
    return wrong(faultSentence({ code: read.fault, params }));
  }
  if (read.address.kind !== 'modbus') return wrong(`"${text}" is no Modbus address`);
  const unit = Number(options.unit);
  if (!Number.isInteger(unit) || unit > 255) wrong('--unit goes from 0 to 255');
  const { table, at } = read.address;
  const bit = read.bit === undefined ? {} : { bit: read.bit };
  return { line: lineOf(place, options), unit, table, at, ...bit, timeout: Number(options.timeout) };
};

/** `10.0.0.7:502`, `/dev/ttyUSB0 19200 even`. */
export const placeText = (line: Line): string => {
  if (line.kind === 'serial') return `${line.path} (${line.baud} baud, parity ${line.parity})`;
  const host = line.host.includes(':') ? `[${line.host}]` : line.host;
  return `${host}:${line.port}${line.kind === 'rtu-over-tcp' ? ' (RTU frames over TCP)' : ''}`;
};

/** `hr:10 = 40011 = 400011, on the wire 0x000A (10), function 3`. */
export const formsText = (table: Table, at: number): string => {
  const { named, five, six, wire, functionCode } = addressForms(table, at);
  return `${[named, five, six].filter((form) => form !== undefined).join(' = ')}, on the wire ${wire}, function ${functionCode}`;
};

const MOST_UNITS = 16;

/** `1-5`, `1,3,247`: at most sixteen, so that nobody searches a whole line by mistake. */
export const unitsOf = (text: string): readonly number[] => {
  const units = text.split(',').flatMap((part): number[] => {
    const [, first, last = first] = /^\s*(\d{1,3})(?:-(\d{1,3}))?\s*$/.exec(part) ?? [];
    if (first === undefined) return wrong(`"${text}" is no list of unit ids: write 1-5 or 1,3,247`);
    const [from, to] = [Number(first), Number(last)];
    if (from > to || to > 255) return wrong(`"${part}": unit ids go from 0 to 255, the lower one first`);
    return Array.from({ length: to - from + 1 }, (_, index) => from + index);
  });
  const once = [...new Set(units)];
  if (once.length > MOST_UNITS)
    wrong(
      `--units asks at most ${MOST_UNITS} unit ids at a time, not ${once.length}: a line full of questions disturbs others`,
    );
  return once;
};
