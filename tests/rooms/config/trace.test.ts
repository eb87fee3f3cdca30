import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  MARK_ATTESTATIONS,
  MARK_METHODS,
  readMarks,
  readTrace,
  writeTrace,
} from '../../../src/config/index.ts';
import { ATTESTATIONS, METHODS } from '../../../src/judge/index.ts';
import {
  ABSENCES,
  type Absence,
  columnsOf,
  type Instant,
  type Reading,
  readingAt,
  type SignalId,
} from '../../../src/measure/index.ts';
import { bookOf, load, ROOT } from './load.ts';

const book = bookOf(load(`${ROOT}tests/rulebooks/good/site.yaml`));
const rows = (text: string, options = {}) => {
  const read = readTrace(text, book, options);
  if ('faults' in read) return read.faults.map((fault) => `${fault.line}:${fault.column} ${fault.code}`);
  return Array.from({ length: read.readings.length }, (_, index) => readingAt(read.readings, index));
};

describe('a recorded trace', () => {
  test('bare values get the bounds of their signal: age 50 ms, half of 0.1 rpm', () => {
    expect(rows('time,signal,value,quality\n1,E1.speed,96,good\n1.0,E1.command,run,good\n')).toEqual([
      {
        signal: 0,
        at: { earliest: 950_000, latest: 1_000_000 },
        response: 0,
        flags: 0,
        value: { low: 95.95, high: 96.05 },
      },
      {
        signal: 1,
        at: { earliest: 950_000, latest: 1_000_000 },
        response: 0,
        flags: 0,
        value: { low: 1, high: 1 },
      },
    ]);
  });
  test('given bounds win', () => {
    const text =
      'time,signal,value,quality,earliest,low,high,response\n1,E1.speed,96,uncertain,0.9,95,97,4\n';
    expect(rows(text)).toEqual([
      {
        signal: 0,
        at: { earliest: 900_000, latest: 1_000_000 },
        response: 4,
        flags: 4,
        value: { low: 95, high: 97 },
      },
    ]);
  });
  test('states by name, by code and as true or false; columns in any order; rows in any order', () => {
    const text =
      'signal,value,time,quality\nE1.command,1,3,good\nE1.command,false,2,good\nE1.command,run,1,forced\n';
    expect(rows(text)).toMatchObject([
      { at: { latest: 1_000_000 }, flags: 1, value: { low: 1 } },
      { at: { latest: 2_000_000 }, value: { low: 0 } },
      { at: { latest: 3_000_000 }, value: { low: 1 } },
    ]);
  });
  test('equal times keep the order of the file', () => {
    const text =
      'time,signal,value,quality\n1,E1.command,run,good\n1,E1.command,stop,good\n1,E1.command,run,good\n';
    expect(rows(text)).toMatchObject([{ value: { low: 1 } }, { value: { low: 0 } }, { value: { low: 1 } }]);
  });
  test('no value, with its reason', () => {
    expect(rows('time,signal,value,quality\n1,E1.speed,,timed-out\n')).toMatchObject([
      { absent: 'timed-out' },
    ]);
  });
  test('every fault at once, with its place', () => {
    const text = [
      'time,signal,value,quality',
      'noon,E1.speed,96,good',
      '1,E1.sped,96,good',
      '1,E1.speed,fast,good',
      '1,E1.speed,96,fine',
      '1,E1.command,runs,good',
      '1,E1.speed,,good',
      '1,E1.speed,96',
    ].join('\r\n');
    expect(rows(text)).toEqual(
      [
        '2:1 trace-time',
        '3:3 trace-unknown-signal',
        '4:12 trace-not-a-number',
        '5:15 unknown-word',
        '6:14 unknown-state',
        '7:12 trace-no-value',
        '8:1 csv-cells',
      ].sort(),
    );
  });
  test('unknown signals can be passed over, with a warning each', () => {
    const text = 'time,signal,value,quality\n1,other,1,good\n2,other,1,good\n2,E1.speed,96,good\n';
    const read = readTrace(text, book, { ignoreUnknown: true });
    expect(read.warnings.map(({ line, code }) => [line, code])).toEqual([[2, 'trace-unknown-signal']]);
    expect('readings' in read && read.readings.length).toBe(1);
  });
  test('a column that is not known is told', () => {
    expect(rows('time,signal,value,quality,responce\n')).toEqual(['1:27 unknown-column']);
  });
});

const absent = ABSENCES.filter((word) => word !== '') as Absence[];
const bound = fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => value + 0);
const base = {
  flags: fc.integer({ min: 0, max: 7 }),
  response: fc.nat(4_294_967_295),
  long: fc.nat(10_000_000),
};
const anyReading: fc.Arbitrary<Reading> = fc
  .record({
    ...base,
    signal: fc.constantFrom(0, 1),
    latest: fc.integer({ min: 0, max: 4e15 }),
    why: fc.option(fc.constantFrom(...absent)),
    a: bound,
    b: bound,
    state: fc.constantFrom(0, 1),
  })
  .map(({ signal, latest, long, response, flags, why, a, b, state }): Reading => {
    const at = { earliest: (latest - long) as Instant, latest: latest as Instant };
    const head = { signal: signal as SignalId, at, response, flags };
    if (why !== null) return { ...head, absent: why };
    const value = signal === 1 ? { low: state, high: state } : { low: Math.min(a, b), high: Math.max(a, b) };
    return { ...head, value };
  });

test('what was written reads back the same, bit for bit', () => {
  fc.assert(
    fc.property(fc.array(anyReading, { maxLength: 30 }), (list) => {
      const readings = columnsOf([...list].sort((a, b) => a.at.latest - b.at.latest));
      const read = readTrace(writeTrace(book, readings), book);
      expect(read).toEqual({ readings, warnings: [] });
    }),
    { numRuns: 200 },
  );
});

test('a trace is written as RFC 4180 says: CRLF after every line, also the last', () => {
  const text = writeTrace(book, columnsOf([]));
  expect(text).toBe('time,signal,value,quality,earliest,low,high,response\r\n');
});

describe('marks beside a trace', () => {
  test('become what the judge takes, in order of time', () => {
    const text = `marks:
  - { at: 5, mark: window-closed }
  - { at: 1.5, mark: window-opened, window: W1, stimuli: { E1.underspeed-stop: injected } }
  - { at: 2, mark: attested, by: the fitter, machine: E1, what: motion-stopped }
`;
    expect(readMarks(text, book)).toEqual({
      marks: [
        {
          code: 'window-opened',
          at: 1_500_000,
          window: 'W1',
          stimuli: [{ interlock: 0, method: 'injected' }],
        },
        { code: 'attested', at: 2_000_000, by: 'the fitter', machine: 0, what: 'motion-stopped' },
        { code: 'window-closed', at: 5_000_000 },
      ],
    });
  });
  describe('what an instrument at the sensor showed', () => {
    const observed = (fields: string) =>
      readMarks(
        `marks:\n  - { at: 3, mark: observed, by: me, interlock: E1.underspeed-stop, instrument: tacho 4, ${fields} }\n`,
        book,
      );
    const codes = (fields: string) => {
      const read = observed(fields);
      return 'faults' in read ? read.faults.map(({ line, column, code }) => `${line}:${column} ${code}`) : [];
    };
    test('as a value with its doubt, in a unit of its own', () => {
      const mark = {
        code: 'observed',
        at: 3_000_000,
        by: 'me',
        interlock: 0,
        value: { low: 78.5, high: 79.5 },
        instrument: 'tacho 4',
      };
      expect(observed('value: 79 rpm, doubt: 0.5 rpm')).toEqual({ marks: [mark] });
      // 1 rev/s are 60 rpm (arithmetic).
      expect(observed('low: 1 rev/s, high: 1.5 rev/s')).toEqual({
        marks: [{ ...mark, value: { low: 60, high: 90 } }],
      });
    });
    test('never as a bare value, as half a pair or in another unit', () => {
      expect(codes('value: 79 rpm')).toEqual(['2:5 observed-value']);
      expect(codes('low: 79 rpm')).toEqual(['2:5 observed-value']);
      expect(codes('value: 79 rpm, doubt: 1 rpm, low: 70 rpm')).toEqual(['2:5 observed-value']);
      expect(codes('value: 79, doubt: 1 rpm')).toEqual(['2:97 unit-missing']);
      expect(codes('low: 80 rpm, high: 79 rpm')).toEqual(['2:95 trace-low-above-high']);
      expect(codes('value: 79 degC, doubt: 1 rpm')).toEqual(['2:97 wrong-unit']);
    });
  });
  test('unknown interlocks, machines and methods are told', () => {
    const text = `marks:
  - { at: 1, mark: window-opened, stimuli: { E1.underspeed: injected, E1.underspeed-stop: pushed } }
  - { at: noon, mark: now, by: me, text: here }
  - { at: 2, mark: attested, by: me, machine: E7, what: motion-stopped }
`;
    const read = readMarks(text, book);
    expect('faults' in read ? read.faults.map((fault) => `${fault.line} ${fault.code}`) : []).toEqual([
      '2 unknown-interlock',
      '2 unknown-word',
      '3 trace-time',
      '4 unknown-machine',
    ]);
  });
  test('the words are those of the judge', () => {
    expect(MARK_METHODS).toEqual(METHODS);
    expect(MARK_ATTESTATIONS).toEqual(ATTESTATIONS);
  });
});
