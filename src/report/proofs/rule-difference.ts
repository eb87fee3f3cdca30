import type { Phrase, SignalId } from '../../measure/index.ts';
import {
  type Book,
  type Cause,
  type Condition,
  causeRoots,
  causeSignals,
  type Effect,
  type Interlock,
  type Level,
  tagsOf,
} from '../../rulebook/index.ts';
import { formatNumber, type PhraseCode, text } from '../../words/index.ts';
import { levelPhrase, stateIn } from '../cause-text.ts';
import { decisionPhrase } from '../decision-text.ts';
import { part } from '../phrases.ts';

/** One thing that a book says otherwise than another: what it is (`set point`, `delay`, `effect E1.run-command` …), and both. */
export interface Difference {
  readonly what: Phrase;
  readonly was: Phrase;
  readonly becomes: Phrase;
}

type SignalDef = Book['signals'][number];
interface Facet {
  readonly what: Phrase;
  readonly says: Phrase;
}
/**
 * What is said, by what it is in English; two books are compared by it. Numbers of signals are different in every book, names
 * are not.
 */
type Facets = Map<string, Facet>;

const put = (into: Facets, what: Phrase, says: Phrase): void => {
  into.set(text(what), { what, says });
};

const secondsOf = (micros: number): number => micros / 1e6;
const seconds = (micros: number): Phrase => part('value-seconds', { value: secondsOf(micros) });
const plain = (value: string | number): Phrase => part('value-plain', { value });
const listOf = (parts: readonly Phrase[]): Phrase => part('value-list', { parts });

const nameIn = (book: Book, signal: SignalId): string => book.signals[signal]?.name ?? '?';
const unitIn = (book: Book, signal: SignalId): string => book.signals[signal]?.unit ?? '';

/** Without what its reference is at the moment. */
const levelIn = (book: Book, level: Level, unit: string): Phrase => levelPhrase(book, level, unit, {});

const conditionIn = (book: Book, { signal, state }: Condition): Phrase =>
  part('condition-is', { signal: nameIn(book, signal), state: stateIn(book, signal, state) });

const byKey = ([a]: readonly [string, unknown], [b]: readonly [string, unknown]): number => {
  if (a === b) return 0;
  return a < b ? -1 : 1;
};

/**
 * `at 0, bit 3, table holding`: whatever it is, by the keys of the files, so that two versions of it can be told apart. In the
 * order of the keys: a book from a log has them sorted, one from files as they were written.
 */
const plainOf = (value: unknown): string => {
  if (typeof value === 'number') return formatNumber(value);
  if (Array.isArray(value)) return value.map(plainOf).join(' ');
  if (typeof value !== 'object' || value === null) return String(value);
  return Object.entries(value)
    .sort(byKey)
    .map(([key, one]) => `${key} ${plainOf(one)}`)
    .join(', ');
};

/** What it is, of the cause itself or of one of a group. */
type Called = (code: PhraseCode) => Phrase;

const levelFacets = (book: Book, cause: Cause, called: Called, into: Facets): void => {
  const unit = unitIn(book, cause.signal);
  const level = (what: PhraseCode, one: Level): void => put(into, called(what), levelIn(book, one, unit));
  if (cause.kind === 'level') {
    level('rule-set-point', cause.setPoint);
    level('rule-tolerance', cause.tolerance);
    level('rule-clear-level', cause.clears);
  }
  if (cause.kind === 'band') {
    level('rule-near-edge', cause.near);
    level('rule-far-edge', cause.far);
    put(into, called('rule-hold'), seconds(cause.hold));
  }
  if (cause.kind === 'stuck') put(into, called('rule-standstill'), plain(cause.within));
  if ('after' in cause) put(into, called('rule-time-without'), seconds(cause.after));
};

const causeIs = (book: Book, cause: Cause): Phrase => {
  const signal = nameIn(book, cause.signal);
  if (cause.kind === 'group')
    return part('cause-is-group', { need: cause.need, count: cause.of.length, signal });
  return part('cause-is', {
    kind: part(`kind-${cause.kind}`),
    signal,
    ...('side' in cause && { more: part(`side-${cause.side}`) }),
    ...(cause.kind === 'contact' && { more: stateIn(book, cause.signal, cause.state) }),
  });
};

const causeFacets = (book: Book, cause: Cause, called: Called, into: Facets): void => {
  put(into, called('rule-cause'), causeIs(book, cause));
  levelFacets(book, cause, called, into);
  if (cause.kind === 'group')
    for (const [index, one] of cause.of.entries()) {
      const number = index + 1;
      causeFacets(book, one, (code) => part('rule-of-cause', { number, what: called(code) }), into);
    }
};

const becomesPhrase = (book: Book, { signal, becomes }: Effect): Phrase => {
  if (becomes.kind === 'level') {
    const level = levelIn(book, becomes.level, unitIn(book, signal));
    return part('value-side', { side: part(`side-${becomes.side}`), level });
  }
  const state = stateIn(book, signal, becomes.state);
  return part(becomes.kind === 'stays' ? 'effect-stays' : 'effect-becomes', { state });
};

const effectPhrase = (book: Book, interlock: Interlock, effect: Effect): Phrase => {
  const effects = effect.after.flatMap((index) => interlock.effects[index]?.name ?? []);
  return listOf([
    becomesPhrase(book, effect),
    part('effect-within', { within: secondsOf(effect.within) }),
    ...(effect.notBefore > 0 ? [part('effect-not-before', { notBefore: secondsOf(effect.notBefore) })] : []),
    ...(effects.length > 0 ? [part('effect-after', { effects })] : []),
    ...(effect.until === 'reset' ? [part('effect-until-reset')] : []),
    ...(effect.until === 'cause-clears' ? [part('effect-until-clear')] : []),
    ...(effect.cascade ? [part('effect-by-cascade')] : []),
  ]);
};

/** `stop, within 1.5 s, until reset`: what an effect must do. */
export const effectText = (book: Book, interlock: Interlock, effect: Effect): string =>
  text(effectPhrase(book, interlock, effect));

const limitPhrase = (limit: NonNullable<Interlock['limit']>, level: Phrase): Phrase =>
  listOf([
    part('value-side', { side: part(limit.side), level }),
    part(`judged-at-${limit.judgedAt}`),
    ...(limit.inclusive ? [] : [part('itself-outside')]),
  ]);

const armedPhrase = ({ when, after }: Interlock['armed'], book: Book): Phrase => {
  const conditions = when.map((one) => conditionIn(book, one));
  return listOf([
    conditions.length === 0 ? part('value-always') : part('value-conditions', { conditions }),
    ...(after > 0 ? [part('value-after', { after: secondsOf(after) })] : []),
  ]);
};

const ruleFacets = (book: Book, interlock: Interlock, into: Facets): void => {
  const { delay, limit, release, repeat, armed } = interlock;
  const level = (one: Level): Phrase => levelIn(book, one, unitIn(book, interlock.cause.signal));
  if (delay) {
    const { time, tolerance, onReturn } = delay;
    const params = { time: secondsOf(time), tolerance: secondsOf(tolerance), onReturn };
    put(into, part('rule-delay'), part('value-delay', params));
  }
  if (limit) put(into, part('rule-limit'), limitPhrase(limit, level(limit.level)));
  if (release) {
    const around = { level: level(release.at), tolerance: level(release.tolerance) };
    put(into, part('rule-release'), part('value-around', around));
  }
  if (repeat)
    put(
      into,
      part('rule-repeat'),
      part('value-repeat', { trials: repeat.trials, level: level(repeat.within) }),
    );
  put(into, part('rule-decision'), decisionPhrase(interlock));
  put(into, part('rule-armed'), armedPhrase(armed, book));
  for (const effect of interlock.effects)
    put(into, part('rule-effect', { effect: effect.name }), effectPhrase(book, interlock, effect));
};

const normalFacets = (book: Book, interlock: Interlock, into: Facets): void => {
  const machine = book.machines[interlock.machine];
  for (const id of causeSignals(interlock.cause)) {
    const normal = machine?.normals.find((one) => one.signal === id);
    if (normal === undefined) continue;
    const { from, nameplate, allowance, against } = normal;
    const signal = nameIn(book, id);
    const tag = from.kind === 'tag' && part('value-tag', { signal: nameIn(book, from.signal) });
    put(into, part('rule-normal', { signal }), tag || plain(plainOf(from)));
    if (nameplate) put(into, part('rule-nameplate', { signal }), plain(nameplate.low));
    put(into, part('rule-allowance', { signal }), part('value-percent', { value: allowance * 100 }));
    for (const one of against ?? [])
      put(into, part('rule-against', { signal, other: nameIn(book, one.signal) }), plain(one.factor));
  }
};

/** Where a controller answers may change without the controller: it is not part of what a signal is. */
const sourcePhrase = (book: Book, signal: SignalDef): Phrase => {
  const source = book.sources[signal.source];
  if (source === undefined) return part('value-worked-out');
  return source.protocol === 'modbus'
    ? part('value-unit-of', { source: source.name, unit: String(source.unit) })
    : plain(source.name);
};

const addressPhrase = (book: Book, { address }: SignalDef): Phrase => {
  if (address.kind !== 'derived') return plain(plainOf(address));
  const { of, ...how } = address.from;
  return part('value-of', { how: plainOf(how), signals: of.map((one) => nameIn(book, one)) });
};

const signalFacets = (book: Book, id: SignalId, into: Facets): void => {
  const def = book.signals[id];
  if (def === undefined) return;
  const tell = (what: PhraseCode, says: Phrase): void => put(into, part(what, { signal: def.name }), says);
  tell('rule-source', sourcePhrase(book, def));
  tell('rule-address', addressPhrase(book, def));
  tell('rule-decoding', plain(plainOf(def.decoding)));
  tell('rule-unit', plain(def.unit === '' ? def.states.join(' / ') : def.unit));
  tell('rule-resolution', plain(def.resolution));
  tell('rule-accuracy', plain(def.accuracy));
  if (def.plausible) tell('rule-plausible', plain(plainOf(def.plausible)));
};

/** Signals that a verdict on the interlock rests on. */
export const signalsOf = (book: Book, interlock: Interlock): ReadonlySet<SignalId> => {
  const { cause, effects, armed } = interlock;
  const machine = book.machines[interlock.machine];
  const normals = (machine?.normals ?? []).flatMap(({ signal, from }) =>
    from.kind === 'tag' && causeSignals(cause).includes(signal) ? [from.signal] : [],
  );
  return new Set([
    ...causeSignals(cause),
    ...causeRoots(book, cause),
    ...effects.map(({ signal }) => signal),
    ...armed.when.map(({ signal }) => signal),
    ...tagsOf(interlock),
    ...normals,
  ]);
};

const facetsOf = (book: Book, interlock: Interlock): Facets => {
  const facets: Facets = new Map();
  causeFacets(book, interlock.cause, part, facets);
  ruleFacets(book, interlock, facets);
  normalFacets(book, interlock, facets);
  for (const signal of signalsOf(book, interlock)) signalFacets(book, signal, facets);
  return facets;
};

const named = (book: Book, name: string): Interlock | undefined =>
  book.interlocks.find((one) => one.name === name);

const NONE = part('not-there');

/**
 * What of an interlock is said otherwise in another book: its cause, levels, times, effects, normals, and how its signals
 * are read. Titles, intervals of proof and how often is polled prove nothing and are not compared. An interlock that
 * one of the books does not have differs as a whole.
 */
export const ruleDifferences = (from: Book, to: Book, name: string): readonly Difference[] => {
  const [before, after] = [named(from, name), named(to, name)];
  if (before === undefined || after === undefined) {
    const stands = (one: Interlock | undefined): Phrase => (one === undefined ? NONE : part('there'));
    const what = part('rule-interlock');
    return before === after ? [] : [{ what, was: stands(before), becomes: stands(after) }];
  }
  const [was, becomes] = [facetsOf(from, before), facetsOf(to, after)];
  return [...new Set([...was.keys(), ...becomes.keys()])].flatMap((key): Difference[] => {
    const [old, now] = [was.get(key), becomes.get(key)];
    const what = (old ?? now)?.what;
    const same = text(old?.says ?? NONE) === text(now?.says ?? NONE);
    return same || what === undefined ? [] : [{ what, was: old?.says ?? NONE, becomes: now?.says ?? NONE }];
  });
};
