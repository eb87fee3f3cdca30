import type { SignalId } from '../../measure/index.ts';
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
import { formatNumber, formatSeconds } from '../../words/index.ts';
import { levelText } from '../cause-text.ts';
import { decisionName } from '../decision-text.ts';

/** One thing that a book says otherwise than another. Texts for people; '' where one of them says nothing. */
export interface Difference {
  /** `set point`, `delay`, `effect E1.run-command`, `signal E1.shaft-speed, address` … */
  readonly what: string;
  readonly was: string;
  readonly becomes: string;
}

type SignalDef = Book['signals'][number];
/** What is said, by name; two books are compared by it. Numbers of signals are different in every book, names are not. */
type Facets = Map<string, string>;

const seconds = (micros: number): string => formatSeconds(micros / 1e6);

const nameIn = (book: Book, signal: SignalId): string => book.signals[signal]?.name ?? '?';

const stateIn = (book: Book, { signal, state }: Condition): string =>
  book.signals[signal]?.states[state] ?? `state ${state}`;

const conditionIn = (book: Book, one: Condition): string =>
  `${nameIn(book, one.signal)} is ${stateIn(book, one)}`;

const byKey = ([a]: readonly [string, unknown], [b]: readonly [string, unknown]): number => {
  if (a === b) return 0;
  return a < b ? -1 : 1;
};

/**
 * `at 0, bit 3, table holding`: whatever it is, in words that two versions of it can be told apart by. In the order of the
 * keys: a book from a log has them sorted, one from files as they were written.
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

const levelFacets = (book: Book, cause: Cause, prefix: string, into: Facets): void => {
  const unit = book.signals[cause.signal]?.unit ?? '';
  const put = (what: string, level: Level): void => {
    into.set(`${prefix}${what}`, levelText(book, level, unit, {}));
  };
  if (cause.kind === 'level') {
    put('set point', cause.setPoint);
    put('tolerance', cause.tolerance);
    put('clear level', cause.clears);
  }
  if (cause.kind === 'band') {
    put('near edge', cause.near);
    put('far edge', cause.far);
    into.set(`${prefix}hold`, seconds(cause.hold));
  }
  if (cause.kind === 'stuck') into.set(`${prefix}standstill`, formatNumber(cause.within));
  if ('after' in cause) into.set(`${prefix}time without`, seconds(cause.after));
};

const causeFacets = (book: Book, cause: Cause, prefix: string, into: Facets): void => {
  const side = 'side' in cause ? ` ${cause.side}` : '';
  const state = cause.kind === 'contact' ? ` ${stateIn(book, cause)}` : '';
  const need = cause.kind === 'group' ? ` ${cause.need} of ${cause.of.length}` : '';
  into.set(`${prefix}cause`, `${cause.kind}${need} ${nameIn(book, cause.signal)}${side}${state}`);
  levelFacets(book, cause, prefix, into);
  if (cause.kind === 'group')
    for (const [index, one] of cause.of.entries())
      causeFacets(book, one, `${prefix}cause ${index + 1}, `, into);
};

const becomesText = (book: Book, { signal, becomes }: Effect): string => {
  if (becomes.kind === 'level')
    return `${becomes.side} ${levelText(book, becomes.level, book.signals[signal]?.unit ?? '', {})}`;
  const state = book.signals[signal]?.states[becomes.state] ?? `state ${becomes.state}`;
  return becomes.kind === 'stays' ? `stays ${state}` : state;
};

/** `stop, within 1.5 s, until reset`: what an effect must do. */
export const effectText = (book: Book, interlock: Interlock, effect: Effect): string => {
  const after = effect.after.flatMap((index) => interlock.effects[index]?.name ?? []);
  return [
    becomesText(book, effect),
    `within ${seconds(effect.within)}`,
    ...(effect.notBefore > 0 ? [`not before ${seconds(effect.notBefore)}`] : []),
    ...(after.length > 0 ? [`after ${after.join(' and ')}`] : []),
    ...(effect.until === 'unstated'
      ? []
      : [`until ${effect.until === 'reset' ? 'reset' : 'the cause clears'}`]),
    ...(effect.cascade ? ['by cascade'] : []),
  ].join(', ');
};

const ruleFacets = (book: Book, interlock: Interlock, into: Facets): void => {
  const { delay, limit, release, repeat, armed } = interlock;
  const unit = book.signals[interlock.cause.signal]?.unit ?? '';
  const level = (one: Level): string => levelText(book, one, unit, {});
  if (delay)
    into.set('delay', `${seconds(delay.time)} ± ${seconds(delay.tolerance)}, on return ${delay.onReturn}`);
  if (limit)
    into.set(
      'limit',
      `${limit.side.replaceAll('-', ' ')} ${level(limit.level)}` +
        `, judged at ${limit.judgedAt}${limit.inclusive ? '' : ', itself outside'}`,
    );
  if (release) into.set('release', `${level(release.at)} ± ${level(release.tolerance)}`);
  if (repeat) into.set('repeat', `${repeat.trials} trials within ${level(repeat.within)}`);
  into.set('decision rule', decisionName(interlock));
  into.set(
    'armed',
    `${armed.when.map((one) => conditionIn(book, one)).join(' and ') || 'always'}${armed.after > 0 ? `, after ${seconds(armed.after)}` : ''}`,
  );
  for (const effect of interlock.effects)
    into.set(`effect ${effect.name}`, effectText(book, interlock, effect));
};

const normalFacets = (book: Book, interlock: Interlock, into: Facets): void => {
  const machine = book.machines[interlock.machine];
  for (const signal of causeSignals(interlock.cause)) {
    const normal = machine?.normals.find((one) => one.signal === signal);
    if (normal === undefined) continue;
    const { from, nameplate, allowance, against } = normal;
    const name = nameIn(book, signal);
    into.set(`normal of ${name}`, from.kind === 'tag' ? `tag ${nameIn(book, from.signal)}` : plainOf(from));
    if (nameplate) into.set(`nameplate of ${name}`, plainOf(nameplate.low));
    into.set(`allowance of ${name}`, `${formatNumber(allowance * 100)} %`);
    for (const one of against ?? [])
      into.set(`normal of ${name} against ${nameIn(book, one.signal)}`, formatNumber(one.factor));
  }
};

/** Where a controller answers may change without the controller: it is not part of what a signal is. */
const sourceText = (book: Book, signal: SignalDef): string => {
  const source = book.sources[signal.source];
  if (source === undefined) return 'worked out';
  return source.protocol === 'modbus' ? `${source.name}, unit ${source.unit}` : source.name;
};

const addressText = (book: Book, { address }: SignalDef): string => {
  if (address.kind !== 'derived') return plainOf(address);
  const { of, ...how } = address.from;
  return `${plainOf(how)} of ${of.map((one) => nameIn(book, one)).join(', ')}`;
};

const signalFacets = (book: Book, id: SignalId, into: Facets): void => {
  const signal = book.signals[id];
  if (signal === undefined) return;
  const put = (what: string, text: string): void => {
    into.set(`signal ${signal.name}, ${what}`, text);
  };
  put('source', sourceText(book, signal));
  put('address', addressText(book, signal));
  put('decoding', plainOf(signal.decoding));
  put('unit', signal.unit === '' ? signal.states.join(' / ') : signal.unit);
  put('resolution', formatNumber(signal.resolution));
  put('accuracy', formatNumber(signal.accuracy));
  if (signal.plausible) put('plausible', plainOf(signal.plausible));
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
  causeFacets(book, interlock.cause, '', facets);
  ruleFacets(book, interlock, facets);
  normalFacets(book, interlock, facets);
  for (const signal of signalsOf(book, interlock)) signalFacets(book, signal, facets);
  return facets;
};

const named = (book: Book, name: string): Interlock | undefined =>
  book.interlocks.find((one) => one.name === name);

/**
 * What of an interlock is said otherwise in another book: its cause, levels, times, effects, normals, and how its signals
 * are read. Titles, intervals of proof and how often is polled prove nothing and are not compared. An interlock that
 * one of the books does not have differs as a whole.
 */
export const ruleDifferences = (from: Book, to: Book, name: string): readonly Difference[] => {
  const [before, after] = [named(from, name), named(to, name)];
  if (before === undefined || after === undefined)
    return before === after
      ? []
      : [{ what: 'interlock', was: before ? 'there' : '', becomes: after ? 'there' : '' }];
  const [was, becomes] = [facetsOf(from, before), facetsOf(to, after)];
  return [...new Set([...was.keys(), ...becomes.keys()])].flatMap((what): Difference[] => {
    const [old, now] = [was.get(what) ?? '', becomes.get(what) ?? ''];
    return old === now ? [] : [{ what, was: old, becomes: now }];
  });
};
