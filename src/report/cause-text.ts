import type { SignalId } from '../measure/index.ts';
import {
  type Book,
  type Cause,
  causeSignals,
  type Interlock,
  type Level,
  levelAt,
  type References,
} from '../rulebook/index.ts';
import { formatBand, formatNumber, formatSeconds } from '../words/index.ts';
import type { Subject } from './facts.ts';
import { referencesOf } from './levels.ts';

type SignalDef = Book['signals'][number];
type Derivation = Extract<SignalDef['address'], { kind: 'derived' }>['from'];

const nameIn = (book: Book, signal: SignalId): string => book.signals[signal]?.name ?? 'a signal not known';

const unitIn = (book: Book, signal: SignalId): string => book.signals[signal]?.unit ?? '';

const seconds = (micros: number): string => formatSeconds(micros / 1e6);

/** A difference of degrees Celsius is told in kelvin, so that nobody takes it for a temperature. */
export const stepUnit = (unit: string): string => (unit === 'degC' ? 'K' : unit);

const referenceText = (book: Book, level: Level): string => {
  if (level.of !== 'tag') return level.of;
  return level.tag === undefined ? 'a tag not known' : `the value of ${nameIn(book, level.tag)}`;
};

/** `82 % of normal`, `normal + 40 K`, `80 °C`, with the value where the reference is known. */
export const levelText = (book: Book, level: Level, unit: string, references: References): string => {
  if (level.of === 'absolute') return formatBand({ low: level.offset, high: level.offset }, unit);
  const reference = referenceText(book, level);
  const share = level.factor === 1 ? reference : `${formatNumber(level.factor * 100)} % of ${reference}`;
  const step = formatBand({ low: Math.abs(level.offset), high: Math.abs(level.offset) }, stepUnit(unit));
  const moved = level.offset === 0 ? share : `${share} ${level.offset < 0 ? '−' : '+'} ${step}`;
  const value = levelAt(level, references);
  return value === undefined ? moved : `${moved} (${formatBand(value, unit)})`;
};

const groupWord = (need: number, count: number): string => {
  if (need === count) return 'all of these are there at once';
  return need === 1 ? 'any of these is there' : `${need} of these ${count} are there at once`;
};

const textOf = (book: Book, cause: Cause, refer: (signal: SignalId) => References): string => {
  const name = nameIn(book, cause.signal);
  const level = (one: Level): string => levelText(book, one, unitIn(book, cause.signal), refer(cause.signal));
  switch (cause.kind) {
    case 'level':
      return `${name} is ${cause.side} ${level(cause.setPoint)}`;
    case 'contact':
      return `${name} goes to ${book.signals[cause.signal]?.states[cause.state] ?? `state ${cause.state}`}`;
    case 'no-pulses':
      return `no pulse of ${name} comes for ${seconds(cause.after)}`;
    case 'band':
      return `${name} is held for ${seconds(cause.hold)} between ${level(cause.near)}, the edge nearer to normal, and ${level(cause.far)}, beyond neither`;
    case 'sensor-fault':
      return `the sensor of ${name} is declared faulty (a wire-break, a short circuit, a fault code in place of a value)`;
    case 'silent':
      return `nothing is heard of ${name} for ${seconds(cause.after)}`;
    case 'stuck':
      return `${name}, which should move, moves by no more than ${formatBand({ low: cause.within, high: cause.within }, stepUnit(unitIn(book, cause.signal)))} for ${seconds(cause.after)}`;
    case 'restart':
      return `the count ${name} begins anew: the program of the controller was started again`;
    case 'group':
      return `${groupWord(cause.need, cause.of.length)}: ${cause.of.map((one) => `(${textOf(book, one, refer)})`).join(', ')}`;
    default:
      return cause satisfies never;
  }
};

/** How the cause is worded, to follow "acts when": `E1.shaft-speed is below 82 % of normal (78.7 rpm), allowed …`. */
export const causeText = (book: Book, subject: Subject): string => {
  const { interlock, machine, bands, unit, report } = subject;
  const refer = (signal: SignalId): References =>
    referencesOf(machine, signal, signal === interlock.cause.signal ? report.verdict.normal : undefined);
  const band = bands.allowed ? `, allowed ${formatBand(bands.allowed, unit)}` : '';
  return textOf(book, interlock.cause, refer) + band;
};

/** The cause as the book says it, without what a window measured: `E1.shaft-speed is below 82 % of normal`. */
export const causeSaid = (book: Book, { cause, machine }: Interlock): string =>
  textOf(book, cause, (signal) => referencesOf(book.machines[machine], signal));

const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;

const ORDINALS = ['highest', 'second highest', 'third highest', 'fourth highest'] as const;

const derivationText = (book: Book, from: Derivation): string => {
  const names = from.of.map((one) => nameIn(book, one));
  const [first = '', second = ''] = names;
  switch (from.as) {
    case 'difference':
      return `${first} − ${second}`;
    case 'ratio':
      return `${formatNumber(from.scale)} × ${first} ÷ ${second}`;
    case 'slip':
      return `100 % × (1 − ${from.gear === 1 ? '' : `${formatNumber(from.gear)} × `}${second} ÷ ${first}), by how much ${second} lags`;
    case 'rate':
      return `the change of ${first} over ${seconds(from.over)}, per ${seconds(from.per)}`;
    case 'mean':
      return `the mean of ${listed(names)}`;
    case 'rank':
      return `the ${ORDINALS[from.rank - 1] ?? `${from.rank}th highest`} of ${listed(names)}`;
    case 'spread':
      return `the highest less the lowest of ${listed(names)}`;
    default:
      return from satisfies never;
  }
};

/** What signals that are worked out from others are worked out from, those of theirs included; a sentence each. */
export const derivedTexts = (book: Book, cause: Cause): readonly string[] => {
  const told = new Map<SignalId, string>();
  const tell = (signal: SignalId): void => {
    const def = book.signals[signal];
    if (def?.address.kind !== 'derived' || told.has(signal)) return;
    const { from } = def.address;
    told.set(signal, `${def.name} is read from no device; it is worked out: ${derivationText(book, from)}.`);
    from.of.forEach(tell);
  };
  causeSignals(cause).forEach(tell);
  return [...told.values()];
};
