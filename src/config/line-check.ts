import { type Book, needs, readPlan } from '../rulebook/index.ts';
import { type LineLoad, lineLoads, type ModbusSource, type Table, TURNAROUND } from '../signal/index.ts';
import type { Desk } from './desk.ts';
import type { Place } from './fault.ts';

/** Place of a key of a source. */
export type SourcePlace = (source: string, key: string) => Place;

const tenths = (value: number): number => Math.round(value * 10) / 10;
const inMs = (micros: number): string => `${tenths(micros / 1_000)} ms`;

const NOUNS: Readonly<Record<Table, string>> = {
  coil: 'coil',
  'discrete-input': 'discrete input',
  holding: 'holding register',
  input: 'input register',
};

const termsText = (book: Book, load: LineLoad, more: number): string =>
  load.terms
    .map(({ source, request, wire, every }) => {
      const asked = readPlan(book).requests[request];
      const what = asked && `${asked.count} × ${NOUNS[asked.table]}`;
      return `${book.sources[source]?.name} ${what} ${inMs(wire + more)} of each ${inMs(every)}`;
    })
    .join('; ');

/** Two units on one serial port cannot speak at two speeds. */
const checkSame = (sources: readonly ModbusSource[], at: SourcePlace, desk: Desk): void => {
  const first = new Map<string, ModbusSource>();
  for (const source of sources) {
    if (source.line.kind !== 'serial') continue;
    const known = first.get(source.line.path);
    if (known === undefined) first.set(source.line.path, source);
    else if (JSON.stringify(known.line) !== JSON.stringify(source.line))
      desk.tell(at(source.name, 'path'), 'line-differs', { path: source.line.path, other: known.name });
    if (source.connection === 'own')
      desk.tell(at(source.name, 'connection'), 'own-serial-line', { path: source.line.path });
  }
};

const checkPaces = (source: ModbusSource, at: SourcePlace, desk: Desk): void => {
  const { poll, windowPoll, slowPoll } = source;
  if (windowPoll > poll)
    desk.tell(at(source.name, 'window-poll'), 'window-poll-slower', {
      window: inMs(windowPoll),
      poll: inMs(poll),
    });
  if (slowPoll < poll)
    desk.tell(at(source.name, 'slow-poll'), 'slow-poll-faster', { slow: inMs(slowPoll), poll: inMs(poll) });
};

const checkLoad = (book: Book, load: LineLoad, at: SourcePlace, desk: Desk): void => {
  const name = book.sources[load.sources[0] ?? 0]?.name ?? '';
  const about = { place: load.place, baud: load.baud ?? 0 };
  if (load.least > 1) {
    const terms = termsText(book, load, 0);
    desk.tell(at(name, 'poll'), load.baud === undefined ? 'pauses-overfull' : 'line-overfull', {
      ...about,
      share: Math.round(load.least * 100),
      terms,
    });
  } else if (load.usual > 1) {
    const terms = termsText(book, load, TURNAROUND);
    const share = Math.round(load.usual * 100);
    desk.warn(at(name, 'poll'), 'line-may-be-overfull', {
      ...about,
      share,
      terms,
      turnaround: inMs(TURNAROUND),
    });
  }
};

/** What is asked of each line can be carried by it, by arithmetic alone. */
export const checkLines = (book: Book, at: SourcePlace, desk: Desk): void => {
  const modbus = book.sources.filter((source) => source.protocol === 'modbus');
  checkSame(modbus, at, desk);
  for (const source of modbus) checkPaces(source, at, desk);
  for (const load of lineLoads(book.sources, readPlan(book), needs(book).together))
    checkLoad(book, load, at, desk);
};
