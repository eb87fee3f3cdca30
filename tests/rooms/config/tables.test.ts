/** Tables after RFC 4180 that a site was written to read back to the same book. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { isList } from '../../../src/config/csv.ts';
import { readSite, writeTables } from '../../../src/config/index.ts';
import { SiteFile } from '../../../src/config/site-schema.ts';
import { bookOf, ROOT } from './load.ts';

const RULES = ['bucket-elevator', 'belt-conveyor', 'feeder'].map(
  (name) => [`${name}.yaml`, readFileSync(`${ROOT}rules/${name}.yaml`, 'utf8')] as const,
);

const book = (main: string, more: Readonly<Record<string, string>> = {}) =>
  bookOf(readSite(new Map([['site.yaml', main], ...RULES, ...Object.entries(more)]), 'site.yaml'));

const thereAndBack = (main: string): void => {
  const written = writeTables(new Map([['site.yaml', main], ...RULES]), 'site.yaml', {
    tags: 'tags.csv',
    machines: 'machines.csv',
  });
  if ('faults' in written) throw new Error(JSON.stringify(written.faults));
  expect(written.site).not.toMatch(/^(tags|machines):/m);
  const again = book(written.site, { 'tags.csv': written.tags, 'machines.csv': written.machines });
  expect(again).toEqual(book(main));
};

test('the demo site', () => {
  const demo = readFileSync(`${ROOT}config/demo-site.yaml`, 'utf8').replaceAll('../rules/', '');
  thereAndBack(demo);
});

const HEAD = `# kept: a word about the site
site: mill
sources:
  p: { protocol: modbus-tcp, host: 127.0.0.1, poll: 100 ms, scan: 50 ms }
rules: [bucket-elevator.yaml, feeder.yaml]
`;

const quantity = (unit: string) => fc.integer({ min: -50, max: 900 }).map((value) => `${value / 10} ${unit}`);
const text = fc
  .array(fc.constantFrom('a', '"', ',', ' ', '\n', 'true', '12', 'é', "'", '#', ':', ';', '='), {
    minLength: 1,
    maxLength: 8,
  })
  .map((parts) => parts.join(''));

const tag = fc.record(
  {
    type: fc.constantFrom('uint16', 'int16', 'float32', 'uint32'),
    order: fc.constantFrom('ABCD', 'CDAB', 'BADC', 'DCBA'),
    scale: fc.constantFrom(1, 0.1, 1e-7, 2.5, -0.01),
    offset: fc.constantFrom(0, -40, 0.25),
    faults: fc.uniqueArray(fc.integer({ min: 0, max: 32_767 }), { maxLength: 3 }),
    plausible: fc.tuple(fc.integer({ min: -90, max: 0 }), fc.integer({ min: 1, max: 500 })),
    resolution: fc.constantFrom('0.1 rpm', '1 rpm'),
    accuracy: quantity('rpm').map((value) => value.replace('-', '')),
    age: fc.constantFrom('computed', 'input', '20 ms'),
    'aged-after': fc.constantFrom('1 s', '250 ms'),
  },
  { requiredKeys: ['type'] },
);

const normal = fc.oneof(
  fc.constant('learned' as const),
  fc.record({ tag: fc.constant('E1.normal-speed') }),
  fc.record({ declared: fc.constant('96 rpm'), tolerance: fc.constant('0.5 rpm') }),
  fc.record({ 'learned-over': fc.constant('20 s'), steady: fc.constant('2 %') }),
  fc.record({
    tag: fc.constant('E1.normal-speed'),
    against: fc.oneof(
      fc.record({ tag: fc.constant('E1.drive-frequency'), factor: fc.constantFrom(1.92, 2) }),
      fc.array(
        fc.record({
          tag: fc.constantFrom('E1.drive-frequency', 'E1.other'),
          factor: fc.constantFrom(1.92, 2),
        }),
        {
          minLength: 1,
          maxLength: 3,
        },
      ),
    ),
  }),
);

const machine = fc.record(
  {
    title: text,
    normal,
    allowance: fc.constantFrom('5 %', '7.5 %'),
    'stops-within': fc.constant('15 s'),
    also: fc.constantFrom([], ['quiet-band']),
    set: fc.record(
      {
        'underspeed-stop.delay.time': fc.constantFrom('1 s', '2 s'),
        'underspeed-alarm.armed.after': fc.constantFrom('6 s', '9 s'),
      },
      { requiredKeys: [] },
    ),
  },
  { requiredKeys: [] },
);

/** YAML 1.2 holds JSON. */
const json = (value: unknown): string => JSON.stringify(value);

describe('any site', () => {
  test('comes back as the same book', () => {
    fc.assert(
      fc.property(
        fc.array(tag, { minLength: 1, maxLength: 4 }),
        machine,
        (tags, { normal: own, also: _also, ...rest }) => {
          const own32 = (one: (typeof tags)[number]): boolean => /32$/.test(one.type);
          const lines = tags.map(({ plausible, ...one }, index) => {
            const range =
              plausible === undefined ? {} : { plausible: plausible.map((value) => `${value} rpm`) };
            const order =
              own32(one as (typeof tags)[number]) || one.order === 'BADC' ? {} : { order: 'ABCD' };
            const about = {
              source: 'p',
              address: `hr:${100 + 2 * index}`,
              unit: 'rpm',
              ...one,
              ...order,
              ...range,
            };
            return `  more-${index}: ${json(about)}\n`;
          });
          const machines = {
            kind: 'bucket-elevator',
            nameplate: { 'shaft-speed': '96 rpm' },
            ...rest,
            'fed-by': ['F1'],
          };
          const withNormal = own === undefined ? machines : { ...machines, normal: { 'shaft-speed': own } };
          thereAndBack(`${HEAD}tags:
  E1.shaft-speed: { source: p, address: 40001, type: uint16, scale: 0.1, unit: rpm }
  E1.normal-speed: { source: p, address: 0x0001, table: holding, type: uint16, scale: 0.1, unit: rpm }
  E1.drive-frequency: { source: p, address: hr:2, type: uint16, scale: 0.1, unit: Hz }
  E1.other: { source: p, address: hr:3, type: uint16, scale: 0.1, unit: rpm }
  E1.bearing-temperature: { source: p, address: "4x0005", type: int16, scale: 0.1, unit: degC }
  E1.run-command: { source: p, address: hr:9.0 }
  E1.motor-running: { source: p, address: hr:9.1 }
  E1.mean: { mean: [E1.shaft-speed, E1.other] }
${lines.join('')}machines:
  E1: ${json(withNormal)}
  F1: { kind: feeder, roles: { run-command: E1.run-command, motor-running: E1.motor-running } }
`);
        },
      ),
      { numRuns: 15 },
    );
  });
});

test('the comments of what stays in the site file stay', () => {
  const site = `${HEAD}tags: { a: { source: p, address: hr:0, type: uint16, unit: count } }\nmachines: {}\n`;
  const written = writeTables(new Map([['site.yaml', site], ...RULES]), 'site.yaml', {
    tags: 't.csv',
    machines: 'm.csv',
  });
  expect('site' in written && written.site).toContain('# kept: a word about the site');
  expect('tags' in written && written.tags).toBe('name,source,address,type,unit\na,p,hr:0,uint16,count\n');
});

test('every key that lists plain words has a column that is read as a list', () => {
  const shapes = ['tags', 'machines'] as const;
  const lists = shapes.flatMap((key) => {
    const record = (SiteFile.shape[key] as z.ZodOptional<z.ZodRecord<z.ZodString, z.ZodObject>>).unwrap();
    return Object.entries(record.valueType.shape).flatMap(([name, schema]) =>
      schema instanceof z.ZodOptional && schema.unwrap() instanceof z.ZodArray ? [name] : [],
    );
  });
  expect(lists).toContain('faults');
  expect(lists.filter((name) => !isList(name))).toEqual([]);
});
