import {
  columnsOf,
  type Instant,
  type Interval,
  later,
  lessThan,
  type Reading,
  type Readings,
} from '../measure/index.ts';
import type { Book } from '../rulebook/index.ts';
import { boundsOf, type SignalDef } from '../signal/index.ts';
import { type Cell, readCsv } from './csv.ts';
import { type Fault, inOrder, type Place, type Tell, teller } from './fault.ts';
import { nearest } from './suggest.ts';
import { parseQuality, QUALITIES } from './trace-quality.ts';
import { traceTime } from './trace-time.ts';

export type TraceRead =
  | { readonly readings: Readings; readonly warnings: readonly Fault[] }
  | { readonly faults: readonly Fault[]; readonly warnings: readonly Fault[] };

export interface TraceOptions {
  /** Name of the file, for faults. */
  readonly file?: string;
  /** Rows of signals that the site does not know are passed over, with one warning each signal. */
  readonly ignoreUnknown?: boolean;
}

export const TRACE_COLUMNS = [
  'time',
  'signal',
  'value',
  'quality',
  'earliest',
  'low',
  'high',
  'response',
] as const;
type Column = (typeof TRACE_COLUMNS)[number];
const REQUIRED: readonly Column[] = ['time', 'signal', 'value', 'quality'];

/** Signals by tag name, and by `machine.role`. */
const signalNames = (book: Book): ReadonlyMap<string, SignalDef> => {
  const byId = new Map(book.signals.map((signal) => [signal.id, signal]));
  const names = new Map<string, SignalDef>();
  for (const machine of book.machines) {
    for (const [role, id] of Object.entries(machine.roles)) {
      const signal = byId.get(id);
      if (signal !== undefined) names.set(`${machine.name}.${role}`, signal);
    }
  }
  for (const signal of book.signals) names.set(signal.name, signal);
  return names;
};

interface Row {
  readonly cell: (column: Column) => Cell | undefined;
  readonly place: (column: Column) => Place;
  readonly tell: Tell;
}

const textOf = (row: Row, column: Column): string => row.cell(column)?.text ?? '';

const NUMBER = /^[+-]?(?:\d+(?:\.\d+)?(?:[eE][+-]?\d+)?|Infinity)$/;

const numberIn = (row: Row, column: Column): number | undefined => {
  const text = textOf(row, column);
  if (text === '') return undefined;
  if (NUMBER.test(text)) return Number(text);
  row.tell(row.place(column), 'trace-not-a-number', { text, column });
  return undefined;
};

const stateValue = (row: Row, signal: SignalDef): number | undefined => {
  const text = textOf(row, 'value');
  const named = signal.states.indexOf(text);
  if (named >= 0) return named;
  if (text === 'true' || text === 'false') return text === 'true' ? 1 : 0;
  const code = /^\d+$/.test(text) ? Number(text) : -1;
  if (code >= 0 && code < signal.states.length) return code;
  const params = { state: text, role: signal.name, known: signal.states };
  row.tell(row.place('value'), 'unknown-state', params, nearest(text, signal.states));
  return undefined;
};

const boundsIn = (row: Row, signal: SignalDef): Interval | undefined => {
  const low = numberIn(row, 'low');
  const high = numberIn(row, 'high');
  if (low !== undefined && high !== undefined) {
    if (low <= high) return { low, high };
    row.tell(row.place('low'), 'trace-low-above-high', { low, high });
    return undefined;
  }
  const value = signal.states.length > 0 ? stateValue(row, signal) : numberIn(row, 'value');
  if (value === undefined) {
    if (textOf(row, 'value') === '') row.tell(row.place('value'), 'trace-no-value', { signal: signal.name });
    return undefined;
  }
  const own = boundsOf(signal, value);
  const bounds = { low: low ?? own.low, high: high ?? own.high };
  if (bounds.low <= value && value <= bounds.high) return bounds;
  row.tell(row.place('value'), 'trace-value-outside-bounds', { value, bounds });
  return undefined;
};

/** A bare value that cannot be true is no measurement, in a trace as from the wire. */
const outside = (signal: SignalDef, value: Interval): boolean => {
  const range = signal.plausible;
  return range !== undefined && (lessThan(value.high, range.low) || lessThan(range.high, value.low));
};

const timeIn = (row: Row, column: 'time' | 'earliest'): Instant | undefined => {
  const text = textOf(row, column);
  const at = traceTime(text);
  if (at === undefined) row.tell(row.place(column), 'trace-time', { text });
  return at;
};

const spanIn = (row: Row, signal: SignalDef): Reading['at'] | undefined => {
  const latest = timeIn(row, 'time');
  const said = textOf(row, 'earliest') === '' ? undefined : timeIn(row, 'earliest');
  if (latest === undefined) return undefined;
  const earliest = said ?? later(latest, -signal.age);
  if (earliest <= latest) return { earliest, latest };
  row.tell(row.place('earliest'), 'trace-earliest-after-time');
  return undefined;
};

const responseIn = (row: Row): number => {
  const response = numberIn(row, 'response') ?? 0;
  if (Number.isInteger(response) && response >= 0 && response < 4_294_967_296) return response;
  row.tell(row.place('response'), 'not-a-whole-number', { text: String(response) });
  return 0;
};

const readingOf = (row: Row, signal: SignalDef): Reading | undefined => {
  const at = spanIn(row, signal);
  const text = textOf(row, 'quality');
  const quality = parseQuality(text);
  const response = responseIn(row);
  if (quality === undefined) {
    row.tell(
      row.place('quality'),
      'unknown-word',
      { word: text, known: QUALITIES },
      nearest(text, QUALITIES),
    );
    return undefined;
  }
  const value = quality.absent === undefined ? boundsIn(row, signal) : undefined;
  if (at === undefined) return undefined;
  const base = { signal: signal.id, at, response, flags: quality.flags };
  if (quality.absent !== undefined) return { ...base, absent: quality.absent };
  if (value === undefined) return undefined;
  const bounded = textOf(row, 'low') !== '' || textOf(row, 'high') !== '';
  return !bounded && outside(signal, value) ? { ...base, absent: 'implausible' } : { ...base, value };
};

/** A signal that the site does not have, or that it works out itself. */
const tellStrange = (
  name: string,
  signal: SignalDef | undefined,
  names: ReadonlyMap<string, SignalDef>,
  place: Place,
  tell: Tell,
): void => {
  if (signal === undefined)
    tell(place, 'trace-unknown-signal', { signal: name }, nearest(name, names.keys()));
  else tell(place, 'trace-derived-signal', { signal: name });
};

const headOf = (head: readonly Cell[], file: string, tell: Tell): ReadonlyMap<Column, number> => {
  const found = new Map<Column, number>();
  head.forEach((cell, index) => {
    const column = TRACE_COLUMNS.find((name) => name === cell.text);
    const place = { file, line: cell.line, column: cell.column };
    if (column === undefined) {
      tell(
        place,
        'unknown-column',
        { column: cell.text, known: [...TRACE_COLUMNS] },
        nearest(cell.text, TRACE_COLUMNS),
      );
    } else if (found.has(column)) tell(place, 'duplicate-name', { name: column });
    else found.set(column, index);
  });
  for (const column of REQUIRED) {
    if (!found.has(column)) tell({ file, line: 1, column: 1 }, 'csv-column-missing', { column });
  }
  return found;
};

/**
 * Reads a recorded trace (RFC 4180): `time,signal,value,quality` and, optional, `earliest,low,high,response`.
 * Where bounds are not given they are the signal's own: its age before `time`, half its resolution and its
 * accuracy around `value`. Rows may come in any order; they are put in order of `time`, equal times as they stand.
 */
export const readTrace = (text: string, book: Book, options: TraceOptions = {}): TraceRead => {
  const file = options.file ?? 'trace.csv';
  const faults: Fault[] = [];
  const warnings: Fault[] = [];
  const tell = teller(faults);
  const [head, ...rows] = readCsv(text, file, tell);
  if (head === undefined) tell({ file, line: 1, column: 1 }, 'empty-file');
  const columns = headOf(head ?? [], file, tell);
  if (faults.length > 0) return { faults: inOrder(faults), warnings: [] };
  const names = signalNames(book);
  const unknown = new Set<string>();
  const readings: Reading[] = [];
  for (const cells of rows) {
    const cell = (column: Column): Cell | undefined => cells[columns.get(column) ?? -1];
    const line = cells[0]?.line ?? 1;
    const place = (column: Column): Place => ({
      file,
      line: cell(column)?.line ?? line,
      column: cell(column)?.column ?? 1,
    });
    if (cells.length !== head?.length) {
      tell({ file, line, column: 1 }, 'csv-cells', { cells: cells.length, columns: head?.length ?? 0 });
      continue;
    }
    const row: Row = { cell, place, tell };
    const name = textOf(row, 'signal');
    const signal = names.get(name);
    if (signal === undefined || signal.address.kind === 'derived') {
      const say = options.ignoreUnknown === true ? teller(warnings) : tell;
      if (!unknown.has(name)) tellStrange(name, signal, names, place('signal'), say);
      unknown.add(name);
      continue;
    }
    const reading = readingOf(row, signal);
    if (reading !== undefined) readings.push(reading);
  }
  const doubts = inOrder(warnings);
  if (faults.length > 0) return { faults: inOrder(faults), warnings: doubts };
  readings.sort((a, b) => a.at.latest - b.at.latest);
  return { readings: columnsOf(readings), warnings: doubts };
};
