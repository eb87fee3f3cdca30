/** Every key of a tag, in YAML and in CSV, and what it becomes. Figures by hand from the definitions of the keys. */
import { describe, expect, test } from 'vitest';
import type { Book } from '../../../src/rulebook/index.ts';
import { decodeValue, decodeWords, type SignalDef } from '../../../src/signal/index.ts';
import { bookOf, readTexts } from './load.ts';

const PACK = `kind: leg
roles:
  speed: { quantity: [rotational-speed, pulse-rate], purpose: measurement }
  command: { states: [stop, run], purpose: command }
  mode: { states: [stopped, starting, running], purpose: feedback, optional: true }
  contact: { states: [closed, open], purpose: contact, optional: true }
  rise: { difference: [hot, cold] }
  hot: { quantity: temperature, purpose: measurement, optional: true }
  cold: { quantity: temperature, purpose: measurement, optional: true }
  revision: { quantity: count, purpose: revision, optional: true }
interlocks:
  underspeed-stop:
    hazard: belt slip
    cause: { signal: speed, below: 82 % of normal, tolerance: 1.5 %, clears: 85 % }
    effects: [{ signal: command, becomes: stop, within: 2 s }]
  rise-stop:
    hazard: fire
    cause: { signal: rise, above: 40 K, tolerance: 1 K, clears: 35 K }
    effects: [{ signal: command, becomes: stop, within: 2 s }]
`;

const HEAD = `site: mill
sources:
  plc: { protocol: modbus-tcp, host: 127.0.0.1, poll: 100 ms, scan: 50 ms }
  ua: { protocol: opc-ua, endpoint: "opc.tcp://127.0.0.1:4840", sampling: 50 ms, publishing: 100 ms, scan: 50 ms }
`;
const TAIL = `machines:
  E1: { kind: leg, nameplate: { speed: 96 rpm } }
rules: [leg.yaml]
`;

/** Name, then keys; every key of this helper's language stands in at least one of them. */
const TAGS: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  'E1.speed': {
    source: 'plc',
    address: 'hr:0',
    type: 'int16',
    scale: '0.1',
    'percent-of': '96 rpm',
    unit: 'rpm',
    faults: '[-32768, 32767]',
  },
  'E1.command': { source: 'plc', address: 'coil:0' },
  'E1.mode': { source: 'plc', address: 'hr:1', bits: '[5, 4]' },
  'E1.contact': {
    source: 'plc',
    address: 'hr:2',
    type: 'uint32',
    bit: '1',
    'bit-numbering': 'msb-1',
    healthy: 'open',
  },
  'E1.rise': {
    source: 'plc',
    address: 'hr:4',
    type: 'int16',
    unit: 'degC',
    plausible: '[0 K, 90 K]',
    accuracy: '1 K',
  },
  'E1.revision': { source: 'plc', address: 'hr:10', type: 'text', length: '4', order: 'BADC' },
  pt: {
    source: 'plc',
    address: 'hr:20',
    type: 'uint16',
    scale: '0.01',
    curve: 'pt100',
    unit: 'degC',
    plausible: '[-20 degC, 150 degC]',
    accuracy: '0.1 ohm',
  },
  tc: {
    source: 'ua',
    address: 'nsu=urn:x;s=Tc',
    curve: 'thermocouple-k',
    'cold-junction': '77 degF',
    unit: 'degF',
    resolution: '2 degF',
    plausible: '[0 degF, 400 degF]',
  },
  ntc: {
    source: 'plc',
    address: 'hr:21',
    type: 'uint16',
    curve: 'steinhart-hart',
    coefficients: '[1.129148e-3, 2.34125e-4, 8.76741e-8]',
    unit: 'degC',
    resolution: '10 ohm',
    plausible: '[0 degC, 100 degC]',
  },
  loop: {
    source: 'plc',
    address: 'ir:5',
    type: 'uint16',
    scale: '0.001',
    loop: '[0 degC, 160 degC]',
    unit: 'degC',
  },
  belt: { source: 'plc', address: 'hr:22', type: 'uint16', scale: '0.1', pulley: '500 mm', unit: 'm/s' },
  share: {
    source: 'plc',
    address: 'hr:23',
    type: 'uint16',
    'percent-of': '100 rpm',
    pulley: '500 mm',
    unit: 'm/s',
  },
  pulsed: {
    source: 'plc',
    address: 'hr:24',
    type: 'bcd32',
    pulses: 'count',
    'targets-per-revolution': '4',
    pulley: '500 mm',
    gate: '1 s',
    unit: 'm/s',
  },
  gated: {
    source: 'plc',
    address: 'hr:26',
    pulses: 'gate-count',
    gate: '500 ms',
    'targets-per-revolution': '4',
    unit: 'rpm',
    faults: '[65535]',
  },
  minute: {
    source: 'ua',
    address: 'nsu=urn:x;s=Min',
    pulses: 'per-minute',
    'targets-per-revolution': '4',
    unit: 'rpm',
  },
  wide: { source: 'plc', address: 'hr:30', type: 'uint64', unit: 's', scale: '0.001' },
  field: {
    source: 'plc',
    address: 'hr:34',
    bits: '[0, 3]',
    'bit-numbering': 'msb-0',
    unit: '%',
    scale: '10',
  },
  flag: { source: 'ua', address: 'nsu=urn:x;s=Word', bit: '3' },
  string: { source: 'ua', address: 'nsu=urn:x;s=Rev', type: 'text' },
};

const asYaml = `${HEAD}tags:\n${Object.entries(TAGS)
  .map(
    ([name, keys]) =>
      `  ${name}: { ${Object.entries(keys)
        .map(([key, value]) => `${key}: ${/;s=|^%$/.test(value) ? `"${value}"` : value}`)
        .join(', ')} }`,
  )
  .join('\n')}\n${TAIL}`;

const COLUMNS = [...new Set(Object.values(TAGS).flatMap((keys) => Object.keys(keys)))];
/** A list in CSV: quantities are parted by semicolons, numbers by blanks. */
const cellOf = (value: string): string =>
  value.startsWith('[')
    ? value.slice(1, -1).replaceAll(', ', /[a-zA-Z]/.test(value.replaceAll(/e-/g, '')) ? '; ' : ' ')
    : value;
const CSV = [
  ['name', ...COLUMNS].join(','),
  ...Object.entries(TAGS).map(([name, keys]) =>
    [name, ...COLUMNS.map((key) => cellOf(keys[key] ?? ''))].join(','),
  ),
].join('\n');

const fromYaml = (): Book => bookOf(readTexts('site.yaml', { 'site.yaml': asYaml, 'leg.yaml': PACK }));
const fromCsv = (): Book =>
  bookOf(
    readTexts('site.yaml', {
      'site.yaml': `${HEAD}tags-from: tags.csv\n${TAIL}`,
      'tags.csv': CSV,
      'leg.yaml': PACK,
    }),
  );

test('a table says the same as a file', () => {
  expect(fromCsv().signals).toEqual(fromYaml().signals);
});

const book = fromYaml();
const tag = (name: string): SignalDef => {
  const found = book.signals.find((one) => one.name === name);
  if (found === undefined) throw new Error(`no ${name}`);
  return found;
};
const read = (name: string, ...words: number[]) => {
  const decoded = decodeWords(tag(name), words);
  return 'value' in decoded ? decoded.value : decoded.absent;
};
const middle = (name: string, ...words: number[]): number => {
  const found = read(name, ...words);
  return typeof found === 'string' ? Number.NaN : (found.low + found.high) / 2;
};

describe('what a tag becomes', () => {
  test('percent of a full value: 82.0 % of 96 rpm, known to a tenth of a percent', () => {
    expect(middle('E1.speed', 820)).toBeCloseTo(78.72, 9);
    expect(tag('E1.speed').resolution).toBeCloseTo(0.096, 9);
    expect(read('E1.speed', 0x8000)).toBe('sensor-fault');
    expect(read('E1.speed', 0x7fff)).toBe('sensor-fault');
  });

  test('bits as they are numbered', () => {
    expect(read('E1.mode', 0b0010_0000)).toEqual({ low: 2, high: 2 });
    // The most significant of 32 is number 1; 1 is the second state, because the contact is open while all is well.
    expect(read('E1.contact', 0x8000, 0)).toEqual({ low: 1, high: 1 });
    expect(read('E1.contact', 0x7fff, 0xffff)).toEqual({ low: 0, high: 0 });
    expect(middle('field', 0xa000)).toBe(100);
    expect(tag('field').resolution).toBe(10);
    expect(decodeValue(tag('flag'), 8)).toEqual({ value: { low: 1, high: 1 } });
    expect(decodeValue(tag('flag'), 0xf7)).toEqual({ value: { low: 0, high: 0 } });
  });

  /** 40 K of a rise are 40 degC of it: its plausible range has no offset either (0 K is not −273.15 degC). */
  test('a rise that the controller shows', () => {
    expect(tag('E1.rise').plausible).toEqual({ low: 0, high: 90 });
    expect(tag('E1.rise').accuracy).toBe(1);
    expect(read('E1.rise', 0xfff0)).toBe('implausible');
  });

  test('texts', () => {
    expect(tag('E1.revision')).toMatchObject({
      decoding: { as: 'text', registers: 4, order: 'BADC' },
      unit: 'count',
    });
    expect(tag('string').decoding).toEqual({ as: 'text', registers: 0, order: 'ABCD' });
  });

  /** IEC 60751: a step of 0.01 ohm is 0.0263 K at 150 degC, where it is most (0.38 ohm a kelvin, falling). */
  test('a sensor: doubt before the curve, and its widest behind it for planning', () => {
    expect(middle('pt', 13_851)).toBeCloseTo(100.012, 3);
    expect(tag('pt').resolution).toBeGreaterThan(0.026);
    expect(tag('pt').resolution).toBeLessThan(0.028);
    expect(tag('pt').accuracy).toBeCloseTo(0.1 / 0.373, 2);
    const found = read('pt', 13_851);
    expect(typeof found !== 'string' && found.high - found.low).toBeCloseTo((2 * 0.105) / 0.379, 2);
    expect(read('pt', 65_535)).toBe('implausible');
    const decoded = decodeValue(tag('tc'), 4.096);
    // 25 degC of the other junction: 124.3 degC are 255.7 degF; 1 degF to each side was declared behind the curve.
    expect('value' in decoded && (decoded.value.low + decoded.value.high) / 2).toBeCloseTo(255.7, 0);
    expect('value' in decoded && decoded.value.high - decoded.value.low).toBeCloseTo(2, 6);
    // 10 ohm of 10 kohm are 0.023 K at 25 degC (4.4 % a kelvin), and most where it is hot.
    expect(middle('ntc', 10_000)).toBeCloseTo(25, 1);
    expect(tag('ntc').resolution).toBeGreaterThan(0.3);
  });

  test('a current loop', () => {
    expect(middle('loop', 12_000)).toBeCloseTo(80, 9);
    expect(tag('loop').resolution).toBeCloseTo(0.01, 9);
    expect(read('loop', 3_600)).toBe('sensor-fault');
    expect(read('loop', 3_700)).toBe('implausible');
  });

  /** v = π D n: 500 mm at 60 rpm is 1.5708 m/s. */
  test('a belt from its pulley', () => {
    expect(middle('belt', 600)).toBeCloseTo(Math.PI / 2, 9);
    expect(middle('share', 60)).toBeCloseTo(Math.PI / 2, 9);
    expect(tag('pulsed').decoding).toMatchObject({
      as: 'pulse-count',
      type: 'bcd32',
      rollover: 100_000_000,
      gate: 1_000_000,
    });
    expect((tag('pulsed').decoding as { unitsPerPulsePerSecond: number }).unitsPerPulsePerSecond).toBeCloseTo(
      Math.PI / 8,
      9,
    );
  });

  test('counts of a gate and rates of pulses', () => {
    expect(tag('gated').decoding).toMatchObject({
      as: 'pulse-gate',
      unitsPerPulsePerSecond: 15,
      gate: 500_000,
      faults: [65_535],
    });
    const decoded = decodeValue(tag('minute'), 164);
    expect('value' in decoded && decoded.value).toEqual({ low: 41, high: 41 });
  });

  test('64 bits', () => {
    expect(middle('wide', 0, 0, 0x0001, 0x86a0)).toBe(100);
  });
});
