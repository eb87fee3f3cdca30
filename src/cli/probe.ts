import { instant } from '../measure/index.ts';
import { numberIn, type Table } from '../signal/index.ts';
import { EXIT, json, out, Stop } from './io.ts';

export interface ProbeOptions {
  readonly json: boolean;
  readonly unit: string;
  readonly count: string;
  readonly timeout: string;
}

const TABLES: Readonly<Record<string, Table>> = {
  hr: 'holding',
  ir: 'input',
  coil: 'coil',
  di: 'discrete-input',
};
const ORDERS = ['ABCD', 'CDAB', 'BADC', 'DCBA'] as const;

const targetOf = (place: string, address: string) => {
  const [host, port = '502'] = place.split(':');
  const [prefix = '', at = ''] = address.split(':');
  const table = TABLES[prefix];
  if (!host || !/^\d+$/.test(port)) throw new Stop(`"${place}" is not HOST:PORT`, { exit: EXIT.usage });
  if (table === undefined || !/^\d+$/.test(at) || Number(at) > 65_535) {
    throw new Stop(
      `"${address}" is not an address: write hr:0, ir:0, coil:0 or di:0, counted from 0 as on the wire`,
      { exit: EXIT.usage },
    );
  }
  return { host, port: Number(port), table, at: Number(at) };
};

const NEXT: Readonly<Record<string, string>> = {
  tcp: 'Nothing accepts a connection there. Check address and port, the cable, a firewall between, and whether the device serves Modbus TCP at all.',
  unit: 'The device accepts the connection but does not answer. Check the unit id, and whether another client holds its only connection.',
  address:
    'The device answers, but not at this address. Addresses count from 0 here: 40001 on a drawing is hr:0. Try one less, or the other table.',
};

const show = (value: number | undefined): string => {
  if (value === undefined) return '';
  if (!Number.isFinite(value)) return String(value);
  return Math.abs(value) >= 1e7 || (Math.abs(value) < 1e-3 && value !== 0)
    ? value.toExponential(4)
    : String(Math.round(value * 1e4) / 1e4);
};

/** Every decoding of the words that begin at `at`, side by side. */
const decodings = (words: readonly number[], at: number) => {
  const rest = words.slice(at);
  return {
    hex: (words[at] ?? 0).toString(16).padStart(4, '0'),
    bits: (words[at] ?? 0).toString(2).padStart(16, '0'),
    uint16: numberIn(rest, 'uint16', 'ABCD'),
    int16: numberIn(rest, 'int16', 'ABCD'),
    uint32: ORDERS.map((order) => numberIn(rest, 'uint32', order)),
    int32: ORDERS.map((order) => numberIn(rest, 'int32', order)),
    float32: ORDERS.map((order) => numberIn(rest, 'float32', order)),
  };
};

const wide = (name: string, values: readonly (number | undefined)[]): string =>
  `    ${name.padEnd(9)}${values.map((value, index) => `${ORDERS[index]} ${show(value)}`.padEnd(19)).join('')}`.trimEnd();

/** Asks one address and shows what it can mean; says what is wrong when nothing answers. */
export const probeCommand = async (
  place: string,
  address: string,
  options: ProbeOptions,
): Promise<number> => {
  const target = targetOf(place, address);
  const { probeModbus } = await import('../field/index.ts');
  const began = process.hrtime.bigint();
  const clock = { now: () => instant(Number((process.hrtime.bigint() - began) / 1_000n)) };
  const asked = {
    ...target,
    unit: Number(options.unit),
    count: Number(options.count),
    timeout: Number(options.timeout),
  };
  const got = await probeModbus(asked, clock);
  if ('stage' in got) {
    if (options.json) json({ ok: false, ...got, next: NEXT[got.stage] });
    else
      out(
        `No value from ${place} unit ${options.unit} ${address}: ${got.code} ${got.detail}\n${NEXT[got.stage] ?? ''}`,
      );
    return EXIT.unavailable;
  }
  const bits = target.table === 'coil' || target.table === 'discrete-input';
  const values = got.words.map((word, index) => (bits ? { bit: word } : decodings(got.words, index)));
  if (options.json) {
    json({
      ok: true,
      milliseconds: got.milliseconds,
      values: values.map((value, index) => ({ address: target.at + index, ...value })),
    });
    return EXIT.ok;
  }
  out(`${place} unit ${options.unit}: answered in ${got.milliseconds.toFixed(1)} ms`);
  values.forEach((value, index) => {
    const at = `${address.split(':')[0]}:${target.at + index}`;
    if ('bit' in value) out(`  ${at.padEnd(10)}${value.bit}`);
    else {
      out(
        `  ${at.padEnd(10)}0x${value.hex}  ${value.bits}  uint16 ${show(value.uint16)}  int16 ${show(value.int16)}`,
      );
      if (value.float32[0] !== undefined)
        out(
          [wide('float32', value.float32), wide('uint32', value.uint32), wide('int32', value.int32)].join(
            '\n',
          ),
        );
    }
  });
  return EXIT.ok;
};
