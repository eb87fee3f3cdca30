import { MILLISECOND, type Micros, SECOND, type SignalId } from '../measure/index.ts';
import { isBits } from './tables.ts';
import type { Line, ModbusSource, Plan, Request, Source } from './types.ts';

/** Where a line is, in one word: `HOST:PORT`, or the path of a serial port. */
export const placeOf = (line: Line): string =>
  line.kind === 'serial' ? line.path : `${line.host}:${line.port}`;

/** How fast characters travel, and how long the silence between two frames is. */
interface Speed {
  readonly baud: number;
  readonly character: Micros;
  readonly silence: Micros;
}

/** Above 19,200 baud the silence is fixed. Modbus over Serial Line V1.02, 2.5.1.1. */
const FIXED_ABOVE = 19_200;
const FIXED_SILENCE: Micros = 1_750;
/** Start, eight data, parity and stop bit: what a gateway is taken to use on its far side. */
const USUAL_BITS = 11;

/** Silence between two frames: that of 3.5 characters of so many bits. */
export const frameSilence = (baud: number, bits = USUAL_BITS): Micros =>
  baud > FIXED_ABOVE ? FIXED_SILENCE : (3.5 * bits * SECOND) / baud;

const bitsOf = (line: Line): number =>
  line.kind === 'serial' ? 1 + line.dataBits + (line.parity === 'none' ? 0 : 1) + line.stopBits : USUAL_BITS;

/** Undefined where no serial line is known of. */
const speedOf = (line: Line): Speed | undefined => {
  const baud = line.kind === 'serial' ? line.baud : line.serialBaud;
  if (baud === undefined) return undefined;
  const bits = bitsOf(line);
  return { baud, character: (bits * SECOND) / baud, silence: frameSilence(baud, bits) };
};

const REQUEST_BYTES = 8;
/** Unit, function, byte count and two bytes of check around the data. */
const ANSWER_BYTES = 5;

const dataBytes = ({ table, count }: Pick<Request, 'table' | 'count'>): number =>
  isBits(table) ? Math.ceil(count / 8) : 2 * count;

/**
 * Time that a question and its answer take on a serial line, with the silence of 3.5 characters after each, and no time
 * for the device to think. µs; 0 where no serial line is known of.
 */
export const wireTime = (line: Line, request: Pick<Request, 'table' | 'count'>): Micros => {
  const speed = speedOf(line);
  if (speed === undefined) return 0;
  return (REQUEST_BYTES + ANSWER_BYTES + dataBytes(request)) * speed.character + 2 * speed.silence;
};

/** What a device takes between question and answer. Common practice, no source. */
export const TURNAROUND: Micros = 30 * MILLISECOND;

/** One request of a line: so long on the wire, so often. */
export interface LoadTerm {
  readonly source: number;
  readonly request: number;
  readonly wire: Micros;
  readonly every: Micros;
}

/** What the plan asks of one line, as shares of the time. */
export interface LineLoad {
  readonly place: string;
  readonly baud?: number;
  readonly sources: readonly number[];
  /** The heaviest case: watching, or with a window on one interlock. */
  readonly terms: readonly LoadTerm[];
  /** Wire and declared pauses alone: more than 1 cannot be. */
  readonly least: number;
  /** With the usual turnaround of a device. */
  readonly usual: number;
}

interface Unit {
  readonly source: ModbusSource;
  readonly index: number;
}

/** Why a request is asked as often as it is: a window needs it, an interlock does, nobody does. */
export type Pace = 'window' | Request['pace'];

/** From one question to the next. */
export const periodOf = (source: ModbusSource, pace: Pace): Micros => {
  if (pace === 'window') return source.windowPoll;
  return pace === 'slow' ? source.slowPoll : source.poll;
};

const everyOf = (source: ModbusSource, request: Request, focused: ReadonlySet<SignalId>): Micros =>
  periodOf(source, request.signals.some((id) => focused.has(id)) ? 'window' : request.pace);

const termsOf = (units: readonly Unit[], plan: Plan, focused: ReadonlySet<SignalId>): LoadTerm[] =>
  units.flatMap(({ source, index }) =>
    plan.requests.flatMap((request, at): LoadTerm[] => {
      if (request.source !== index) return [];
      const wire = wireTime(source.line, request) + source.pause / source.inFlight;
      return [{ source: index, request: at, wire, every: everyOf(source, request, focused) }];
    }),
  );

const shareOf = (terms: readonly LoadTerm[], more: Micros): number =>
  terms.reduce((sum, { wire, every }) => sum + (wire + more) / every, 0);

const loadOf = (
  place: string,
  units: readonly Unit[],
  plan: Plan,
  together: readonly (readonly SignalId[])[],
): LineLoad => {
  const watching = termsOf(units, plan, new Set());
  // Where nothing takes time, no window makes it more.
  const groups = watching.some(({ wire }) => wire > 0) ? together : [];
  const cases = [watching, ...groups.map((group) => termsOf(units, plan, new Set(group)))];
  const terms = cases.reduce((most, one) => (shareOf(one, 0) > shareOf(most, 0) ? one : most));
  const speed = units[0] && speedOf(units[0].source.line);
  return {
    place,
    ...(speed && { baud: speed.baud }),
    sources: units.map(({ index }) => index),
    terms,
    least: shareOf(terms, 0),
    usual: shareOf(terms, speed === undefined ? 0 : TURNAROUND),
  };
};

/** The load on each line of the sources, units at the same place taken together. */
export const lineLoads = (
  sources: readonly Source[],
  plan: Plan,
  together: readonly (readonly SignalId[])[],
): readonly LineLoad[] => {
  const places = new Map<string, Unit[]>();
  sources.forEach((source, index) => {
    if (source.protocol !== 'modbus') return;
    const place = placeOf(source.line);
    places.set(place, [...(places.get(place) ?? []), { source, index }]);
  });
  return [...places].map(([place, units]) => loadOf(place, units, plan, together));
};
