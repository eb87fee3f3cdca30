import { type Book, type Needs, readPlan } from '../rulebook/index.ts';
import {
  type LineLoad,
  lineLoads,
  type ModbusSource,
  type Plan,
  type Source,
  TURNAROUND,
} from '../signal/index.ts';
import { TABLE_WORDS } from './address.ts';
import type { Desk } from './desk.ts';
import type { Place } from './fault.ts';

/** Place of a key of a source. */
export type SourcePlace = (source: string, key: string) => Place;

const tenths = (value: number): number => Math.round(value * 10) / 10;
const inMs = (micros: number): string => `${tenths(micros / 1_000)} ms`;

const termsText = (sources: readonly Source[], plan: Plan, load: LineLoad, more: number): string =>
  load.terms
    .map(({ source, request, wire, every }) => {
      const asked = plan.requests[request];
      const what = asked && `${asked.count} × ${TABLE_WORDS[asked.table][0]}`;
      return `${sources[source]?.name} ${what} ${inMs(wire + more)} of each ${inMs(every)}`;
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

const checkLoad = (book: Book, plan: Plan, load: LineLoad, at: SourcePlace, desk: Desk): void => {
  const name = book.sources[load.sources[0] ?? 0]?.name ?? '';
  const told = (share: number, more: number) => ({
    place: load.place,
    baud: load.baud ?? 0,
    share: Math.round(share * 100),
    terms: termsText(book.sources, plan, load, more),
  });
  if (load.least > 1) {
    const code = load.baud === undefined ? 'pauses-overfull' : 'line-overfull';
    desk.tell(at(name, 'poll'), code, told(load.least, 0));
  } else if (load.usual > 1) {
    const params = { ...told(load.usual, TURNAROUND), turnaround: inMs(TURNAROUND) };
    desk.warn(at(name, 'poll'), 'line-may-be-overfull', params);
  }
};

/** What is asked of each line can be carried by it, by arithmetic alone. */
export const checkLines = (book: Book, wishes: Needs, at: SourcePlace, desk: Desk): void => {
  const modbus = book.sources.filter((source) => source.protocol === 'modbus');
  checkSame(modbus, at, desk);
  for (const source of modbus) checkPaces(source, at, desk);
  const plan = readPlan(book, wishes);
  for (const load of lineLoads(book.sources, plan, wishes.together)) checkLoad(book, plan, load, at, desk);
};
