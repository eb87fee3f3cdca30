import type { Phrase, SignalId } from '../measure/index.ts';
import {
  type Book,
  type Cause,
  causeSignals,
  type Interlock,
  type Level,
  levelAt,
  type References,
} from '../rulebook/index.ts';
import { formatNumber, formatSeconds, text } from '../words/index.ts';
import type { Subject } from './facts.ts';
import { referencesOf } from './levels.ts';
import { part } from './phrases.ts';

type SignalDef = Book['signals'][number];
type Derivation = Extract<SignalDef['address'], { kind: 'derived' }>['from'];

const nameIn = (book: Book, signal: SignalId): string => book.signals[signal]?.name ?? 'a signal not known';

const signalIn = (book: Book, signal: SignalId): string | Phrase =>
  book.signals[signal]?.name ?? part('signal-unknown');

const unitIn = (book: Book, signal: SignalId): string => book.signals[signal]?.unit ?? '';

const secondsOf = (micros: number): number => micros / 1e6;

const referencePhrase = (book: Book, level: Level): Phrase => {
  if (level.of === 'normal') return part('level-normal');
  if (level.of === 'nameplate') return part('level-nameplate');
  return level.tag === undefined
    ? part('level-tag-unknown')
    : part('level-tag', { signal: signalIn(book, level.tag) });
};

/** `82 % of normal`, `normal + 40 K`, `80 °C`, with the value where the reference is known. */
export const levelPhrase = (book: Book, level: Level, unit: string, references: References): Phrase => {
  const { offset, factor } = level;
  if (level.of === 'absolute') return part('level-absolute', { level: offset, unit });
  const reference = referencePhrase(book, level);
  const percent = factor * 100;
  const shared =
    level.of === 'tag'
      ? part('level-share', { percent, level: reference })
      : part(`level-share-of-${level.of}`, { percent });
  const share = factor === 1 ? reference : shared;
  const step = { level: share, step: Math.abs(offset), unit };
  const moved = offset === 0 ? share : part(offset < 0 ? 'level-minus' : 'level-plus', step);
  const value = levelAt(level, references);
  return value === undefined ? moved : part('level-known', { level: moved, value, unit });
};

export const levelText = (book: Book, level: Level, unit: string, references: References): string =>
  text(levelPhrase(book, level, unit, references));

const groupPhrase = (need: number, causes: readonly Phrase[]): Phrase => {
  if (need === causes.length) return part('cause-all-of', { causes });
  return need === 1
    ? part('cause-any-of', { causes })
    : part('cause-some-of', { need, count: causes.length, causes });
};

/** What a state is called; its number where it has no name. */
export const stateIn = (book: Book, signal: SignalId, state: number): string | Phrase =>
  book.signals[signal]?.states[state] ?? part('state-number', { state });

const phraseOf = (book: Book, cause: Cause, refer: (signal: SignalId) => References): Phrase => {
  const signal = signalIn(book, cause.signal);
  const unit = unitIn(book, cause.signal);
  const level = (one: Level): Phrase => levelPhrase(book, one, unit, refer(cause.signal));
  switch (cause.kind) {
    case 'level':
      return part(`cause-${cause.side}`, { signal, level: level(cause.setPoint) });
    case 'contact':
      return part('cause-contact', { signal, state: stateIn(book, cause.signal, cause.state) });
    case 'no-pulses':
      return part('cause-no-pulses', { signal, after: secondsOf(cause.after) });
    case 'band': {
      const { hold, near, far } = cause;
      return part('cause-band', { signal, hold: secondsOf(hold), near: level(near), far: level(far) });
    }
    case 'sensor-fault':
      return part('cause-sensor-fault', { signal });
    case 'silent':
      return part('cause-silent', { signal, after: secondsOf(cause.after) });
    case 'stuck':
      return part('cause-stuck', { signal, within: cause.within, after: secondsOf(cause.after), unit });
    case 'restart':
      return part('cause-restart', { signal });
    case 'group':
      return groupPhrase(
        cause.need,
        cause.of.map((one) => phraseOf(book, one, refer)),
      );
    default:
      return cause satisfies never;
  }
};

/** How the cause is worded, to follow "acts when": `E1.shaft-speed is below 82 % of normal (78.7 rpm), allowed …`. */
export const causeText = (book: Book, subject: Subject): string => {
  const { interlock, machine, bands, unit, report } = subject;
  const refer = (signal: SignalId): References =>
    referencesOf(machine, signal, signal === interlock.cause.signal ? report.verdict.normal : undefined);
  const cause = phraseOf(book, interlock.cause, refer);
  return text(bands.allowed ? part('cause-allowed', { cause, allowed: bands.allowed, unit }) : cause);
};

/** The cause as the book says it, without what a window measured: `E1.shaft-speed is below 82 % of normal`. */
export const causePhrase = (book: Book, { cause, machine }: Interlock): Phrase =>
  phraseOf(book, cause, (signal) => referencesOf(book.machines[machine], signal));

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
      return `the change of ${first} over ${formatSeconds(secondsOf(from.over))}, per ${formatSeconds(secondsOf(from.per))}`;
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
