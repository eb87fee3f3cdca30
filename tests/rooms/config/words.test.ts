import { describe, expect, test } from 'vitest';
import { addressForms, modbusAddress, opcUaAddress } from '../../../src/config/address.ts';
import { type Fault, teller } from '../../../src/config/fault.ts';
import { parseLevel, reducedBy } from '../../../src/config/level-text.ts';
import { nearest } from '../../../src/config/suggest.ts';
import { traceTime } from '../../../src/config/trace-time.ts';
import { valueAt } from '../../../src/config/tree.ts';
import { readYaml } from '../../../src/config/yaml-tree.ts';
import type { Table } from '../../../src/signal/index.ts';

describe('YAML 1.2 core schema: what YAML 1.1 would have changed', () => {
  const value = (text: string) => {
    const faults: Fault[] = [];
    const tree = readYaml(`key: ${text}\n`, 'f', teller(faults));
    const found = tree === undefined ? undefined : valueAt(tree, ['key']);
    return {
      value: found?.kind === 'scalar' ? found.value : undefined,
      codes: faults.map(({ code }) => code),
    };
  };

  // YAML 1.2.2, 10.3.2: only true/false in three spellings are booleans; 1.1 also took yes, no, on, off, y, n.
  test.each(['NO', 'no', 'N', 'on', 'off', 'yes', 'y'])('%s is a text', (word) => {
    expect(value(word)).toEqual({ value: word, codes: [] });
  });
  // YAML 1.1 read 12:30 as 750 (sexagesimal integer); 1.2 dropped it.
  test('12:30 is a text', () => expect(value('12:30')).toEqual({ value: '12:30', codes: [] }));
  // YAML 1.1 read 010 as octal 8, 1.2 reads it as decimal 10: neither reader may be surprised.
  test('010 is refused', () => expect(value('010')).toEqual({ value: 10, codes: ['leading-zero'] }));
  test('"010" in quotes is a text', () => expect(value('"010"')).toEqual({ value: '010', codes: [] }));
  test('0 and 0.5 are numbers', () => {
    expect(value('0')).toEqual({ value: 0, codes: [] });
    expect(value('0.5')).toEqual({ value: 0.5, codes: [] });
  });
  // YAML 1.1 took 1_000 as 1000.
  test('1_000 is a text', () => expect(value('1_000')).toEqual({ value: '1_000', codes: [] }));
  // YAML 1.1 had the merge key.
  test('<< is a plain key', () => {
    const tree = readYaml('a: { <<: { b: 1 } }\n', 'f', teller([]));
    expect(tree === undefined ? undefined : valueAt(tree, ['a', 'b'])).toBeUndefined();
  });
});

describe('levels', () => {
  test('reduced-by 18 % says the same as below 82 % of normal', () => {
    const below = parseLevel('82 % of normal', 'normal');
    expect(below).toEqual({ of: 'normal', factor: 0.82 });
    expect(reducedBy('18 %')).toEqual(below);
    expect(reducedBy('18 % of normal')).toEqual(below);
    expect(parseLevel('82 %', 'normal')).toEqual(below);
    expect(parseLevel('normal - 18 %', undefined)).toEqual(below);
  });
  test('differences and absolute values keep their unit', () => {
    expect(parseLevel('normal - 10 rpm', undefined)).toEqual({
      of: 'normal',
      factor: 1,
      offset: { value: -10, unit: 'rpm' },
    });
    expect(parseLevel('nameplate + 1 rpm', undefined)).toEqual({
      of: 'nameplate',
      factor: 1,
      offset: { value: 1, unit: 'rpm' },
    });
    expect(parseLevel('80 degC', undefined)).toEqual({
      of: 'absolute',
      factor: 0,
      offset: { value: 80, unit: 'degC' },
    });
    expect(reducedBy('10 rpm')).toEqual({ of: 'normal', factor: 1, offset: { value: -10, unit: 'rpm' } });
  });
  test('a role that holds a value can be referred to like normal', () => {
    const ofSetSpeed = { of: 'tag', role: 'set-speed' };
    expect(parseLevel('82 % of set-speed', 'normal')).toEqual({ ...ofSetSpeed, factor: 0.82 });
    expect(parseLevel('set-speed', 'normal')).toEqual({ ...ofSetSpeed, factor: 1 });
    expect(parseLevel('set-speed - 18 %', undefined)).toEqual({ ...ofSetSpeed, factor: 0.82 });
    expect(parseLevel('set-speed + 2 rpm', undefined)).toEqual({
      ...ofSetSpeed,
      factor: 1,
      offset: { value: 2, unit: 'rpm' },
    });
    expect(reducedBy('18 % of set-speed')).toEqual({ ...ofSetSpeed, factor: 0.82 });
  });
  test('a bare percentage is of what stands beside it, or of nothing where the signal is a percentage', () => {
    expect(parseLevel('5 %', 'set-speed')).toEqual({ of: 'tag', role: 'set-speed', factor: 0.05 });
    expect(parseLevel('5 %', 'absolute')).toEqual({
      of: 'absolute',
      factor: 0,
      offset: { value: 5, unit: '%' },
    });
  });
  test('what is no level', () => {
    expect(parseLevel('80 %', undefined)).toEqual({ fault: 'percent-of-what' });
    expect(parseLevel('80 rpm of normal', 'normal')).toEqual({ fault: 'not-a-level' });
    expect(parseLevel('normal - much', 'normal')).toEqual({ fault: 'not-a-level' });
    expect(parseLevel('80 degc', 'normal')).toEqual({ fault: 'unknown-unit', unit: 'degc' });
    expect(reducedBy('120 %')).toEqual({ fault: 'not-a-level' });
  });
});

const atAddress = (table: Table, at: number) => ({ address: { kind: 'modbus', table, at } });

describe('addresses', () => {
  // Modbus Application Protocol V1.1b3, 4.4: data are numbered from 1, addressed from 0 on the wire.
  test.each([
    ['40001', 'holding', 0],
    ['400011', 'holding', 10],
    ['30008', 'input', 7],
    ['10001', 'discrete-input', 0],
    ['00020', 'coil', 19],
    ['hr:10', 'holding', 10],
    ['ir:0x1F', 'input', 31],
    ['HR:0x0A', 'holding', 10],
    ['4x0001', 'holding', 0],
    ['4:00011', 'holding', 10],
    ['3X65536', 'input', 65_535],
    ['di:0', 'discrete-input', 0],
    ['coil:65535', 'coil', 65_535],
  ])('%s', (text, table, at) =>
    expect(modbusAddress(text)).toEqual({ address: { kind: 'modbus', table, at } }),
  );
  test('a bit of a register', () => expect(modbusAddress('hr:10.3')).toMatchObject({ bit: 3 }));
  test.each([
    ['hr:65536', 'address-out-of-range'],
    ['40000', 'address-out-of-range'],
    ['465537', 'address-out-of-range'],
    ['hr:1.16', 'bit-out-of-range'],
    ['xy:1', 'address-not-read'],
    ['hr:', 'address-not-read'],
    ['4000001', 'address-not-read'],
    ['0x0A', 'address-without-table'],
  ])('%s is refused', (text, fault) => expect(modbusAddress(text)).toMatchObject({ fault }));
  test.each([
    ['10', { zero: 'hr:10', one: 'hr:9' }],
    ['1', { zero: 'hr:1', one: 'hr:0' }],
    ['4001', { zero: 'hr:4001', one: 'hr:4000' }],
    ['3:10', { zero: 'ir:10', one: 'ir:9' }],
    ['4x1', { zero: 'hr:1', one: 'hr:0' }],
  ])('%s is refused with both readings', (text, params) =>
    expect(modbusAddress(text)).toEqual({ fault: 'address-ambiguous', params }),
  );
  test('0x0010 is a number in base 16 or a coil, unless the table says that it is no coil', () => {
    const both = { fault: 'address-coil-or-hex', params: { named: 'hr:16', coil: 'coil:9' } };
    expect(modbusAddress('0x0010')).toEqual(both);
    expect(modbusAddress('0x0010', 'coil')).toMatchObject({ fault: 'address-coil-or-hex' });
    expect(modbusAddress('0x0010', 'holding')).toEqual(atAddress('holding', 16));
    expect(modbusAddress('0x001F', 'coil')).toEqual(atAddress('coil', 31));
    expect(modbusAddress('40011', 'input')).toMatchObject({ fault: 'address-table-differs' });
  });
  test('every form of an address reads back to it, and says what is on the wire', () => {
    for (const table of ['holding', 'input', 'coil', 'discrete-input'] as const)
      for (const at of [0, 1, 10, 9_998, 9_999, 40_000, 65_535]) {
        const { named, five, six, wire } = addressForms(table, at);
        for (const text of [named, six, ...(five === undefined ? [] : [five])])
          expect(modbusAddress(text), text).toEqual(atAddress(table, at));
        expect(wire).toMatch(new RegExp(`^0x[0-9A-F]{4} \\(${at}\\)$`));
      }
    // Register 108 is address 0x006B: example of the Modbus Application Protocol V1.1b3, 6.3.
    expect(addressForms('holding', 0x6b)).toEqual({
      wire: '0x006B (107)',
      named: 'hr:107',
      five: '40108',
      six: '400108',
      functionCode: 3,
    });
    expect(addressForms('holding', 9_999)).not.toHaveProperty('five');
  });
  test('OPC UA node ids name their namespace by URI', () => {
    const address = { kind: 'opc-ua', namespace: 'urn:mill', id: 's="E1"."Speed"' };
    expect(opcUaAddress('nsu=urn:mill;s="E1"."Speed"')).toEqual({ address });
    expect(opcUaAddress('ns=2;s=E1')).toEqual({ fault: 'namespace-by-index' });
    expect(opcUaAddress('nsu=urn:mill;i=abc')).toEqual({ fault: 'address-not-read' });
    expect(opcUaAddress('nsu=urn:mill;g=not-a-guid')).toEqual({ fault: 'address-not-read' });
    expect(opcUaAddress('E1')).toEqual({ fault: 'address-not-read' });
  });
});

describe('times of a trace', () => {
  test.each([
    ['0.1', 100_000],
    ['0.3', 300_000],
    ['1.000001', 1_000_001],
    ['1.0000005', 1_000_001],
    ['-0.5', -500_000],
    ['12', 12_000_000],
    ['2251799813.685248', 2_251_799_813_685_248],
    ['1970-01-01T00:00:01.25Z', 1_250_000],
    ['1970-01-01T01:00:00+01:00', 0],
  ])('%s', (text, micros) => expect(traceTime(text)).toBe(micros));
  test.each(['', 'noon', '1e3', '12:30', '2026-11-25T09:30:00'])('"%s" is no time', (text) =>
    expect(traceTime(text)).toBeUndefined(),
  );
});

test('the nearest word, or none', () => {
  expect(nearest('adress', ['address', 'accuracy'])).toBe('address');
  expect(nearest('tolernace', ['tolerance', 'title'])).toBe('tolerance');
  expect(nearest('Shaft_Speed', ['shaft-speed'])).toBe('shaft-speed');
  expect(nearest('horn', ['speed', 'command'])).toBeUndefined();
  expect(nearest('x', ['ab'])).toBeUndefined();
});

/** Names and escapes: OPC 10000-4, Annex A.2 (relative paths), with URIs in the place of indices. */
describe('OPC UA addresses by names', () => {
  const path = (...names: readonly (readonly [string, string])[]) => ({
    address: { kind: 'opc-ua-path', path: names.map(([namespace, name]) => ({ namespace, name })) },
  });
  test.each([
    [
      'path=/nsu=urn:mill;Machines/E1/Shaft speed',
      path(['urn:mill', 'Machines'], ['urn:mill', 'E1'], ['urn:mill', 'Shaft speed']),
    ],
    [
      'path=/nsu=http://maker.example/UA/;A/nsu=urn:b;B',
      path(['http://maker.example/UA/', 'A'], ['urn:b', 'B']),
    ],
    ['path=/Objects/nsu=urn:mill;E1', path(['urn:mill', 'E1'])],
    ['path=/nsu=http://opcfoundation.org/UA/;Server', path(['', 'Server'])],
    ['path=/nsu=urn:mill;fan && feeder&/left', path(['urn:mill', 'fan & feeder/left'])],
    ['path=/nsu=urn:mill;1&:2', path(['urn:mill', '1:2'])],
  ])('%s', (text, wanted) => {
    expect(opcUaAddress(text)).toEqual(wanted);
  });
  test.each([
    ['path=', 'path-not-read'],
    ['path=/', 'path-not-read'],
    ['path=nsu=urn:mill;E1', 'path-not-read'],
    ['path=/nsu=urn:mill;E1/', 'path-not-read'],
    ['path=/nsu=urn:mill;A & B', 'path-not-read'],
    ['path=/nsu=urn:mill;', 'path-not-read'],
    ['path=/2:Machines', 'namespace-by-index'],
    ['path=/ns=2;Machines', 'namespace-by-index'],
  ])('%s is refused', (text, fault) => {
    expect(opcUaAddress(text)).toEqual({ fault });
  });
});
