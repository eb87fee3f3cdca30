import type { EffectSeen } from '../../judge/index.ts';
import type { Interval, Outcome } from '../../measure/index.ts';
import type { Book } from '../../rulebook/index.ts';
import { text } from '../../words/index.ts';
import type { History } from './history-types.ts';
import { type Evidence, revisionIn } from './past-evidence.ts';
import { type Difference, ruleDifferences } from './rule-difference.ts';

/**
 * One figure on both sides. `changed` only where the intervals do not overlap; else no change is visible within
 * `difference` (second less first, both ends of both doubts); `one-side`: it was measured on one side only.
 */
export interface Compared {
  readonly what: string;
  readonly unit: string;
  readonly a?: Interval;
  readonly b?: Interval;
  readonly difference?: Interval;
  readonly told: 'changed' | 'no-change-visible' | 'one-side';
}

/** A difference of the rulebooks, in words. */
export interface RuleTold {
  readonly what: string;
  readonly was: string;
  readonly becomes: string;
}

export interface CompareRow {
  readonly interlock: string;
  /** Window on each side, and what it said. */
  readonly a?: { readonly window: string; readonly outcome: Outcome };
  readonly b?: { readonly window: string; readonly outcome: Outcome };
  readonly figures: readonly Compared[];
  /** Effects that came on one side only. */
  readonly onlyA: readonly string[];
  readonly onlyB: readonly string[];
  /** Pairs of effects whose order is certain on both sides, and not the same: `first, then second` on the first side. */
  readonly order: readonly (readonly [string, string])[];
  /** What the rulebooks say otherwise. */
  readonly rules: readonly RuleTold[];
}

export interface Comparison {
  readonly a: string;
  readonly b: string;
  readonly rows: readonly CompareRow[];
}

const inWords = ({ what, was, becomes }: Difference): RuleTold => ({
  what: text(what),
  was: text(was),
  becomes: text(becomes),
});

const isBounded = (one: Interval | undefined): one is Interval =>
  one !== undefined && Number.isFinite(one.low) && Number.isFinite(one.high);

const compared = (
  what: string,
  unit: string,
  a: Interval | undefined,
  b: Interval | undefined,
): readonly Compared[] => {
  const [first, second] = [isBounded(a) ? a : undefined, isBounded(b) ? b : undefined];
  if (first === undefined && second === undefined) return [];
  const sides = { what, unit, ...(first && { a: first }), ...(second && { b: second }) };
  if (first === undefined || second === undefined) return [{ ...sides, told: 'one-side' }];
  const difference = { low: second.low - first.high, high: second.high - first.low };
  const apart = second.low > first.high || second.high < first.low;
  return [{ ...sides, difference, told: apart ? 'changed' : 'no-change-visible' }];
};

const unitOf = (book: Book | undefined, name: string): string => {
  const cause = book?.interlocks.find((one) => one.name === name)?.cause.signal;
  return cause === undefined ? '' : (book?.signals[cause]?.unit ?? '');
};

const figuresOf = (unit: string, a: Evidence | undefined, b: Evidence | undefined): readonly Compared[] => {
  const [one, two] = [a?.past.verdict, b?.past.verdict];
  const effects = [...new Set([...(one?.effects ?? []), ...(two?.effects ?? [])].map(({ name }) => name))];
  const response = (seen: readonly EffectSeen[] | undefined, name: string) =>
    seen?.find((effect) => effect.name === name)?.response;
  return [
    ...compared('trip point', unit, one?.tripPoint, two?.tripPoint),
    ...compared('trip point', '%', one?.tripPercent, two?.tripPercent),
    ...compared('normal', unit, one?.normal, two?.normal),
    ...compared('delay', 's', one?.delay, two?.delay),
    ...compared('response', 's', one?.response, two?.response),
    ...effects.flatMap((name) =>
      compared(`response of ${name}`, 's', response(one?.effects, name), response(two?.effects, name)),
    ),
  ];
};

const cameIn = (evidence: Evidence | undefined): readonly EffectSeen[] =>
  (evidence?.past.verdict.effects ?? []).filter(({ changed }) => changed !== undefined);

/** Certainly before: over before the other can have begun. */
const isBefore = (one: EffectSeen, other: EffectSeen): boolean =>
  one.changed !== undefined && other.changed !== undefined && one.changed.latest < other.changed.earliest;

const orderOf = (
  a: readonly EffectSeen[],
  b: readonly EffectSeen[],
): readonly (readonly [string, string])[] => {
  const inB = new Map(b.map((effect) => [effect.name, effect]));
  return a.flatMap((first) =>
    a.flatMap((second): (readonly [string, string])[] => {
      const [one, two] = [inB.get(first.name), inB.get(second.name)];
      if (one === undefined || two === undefined || !isBefore(first, second)) return [];
      return isBefore(two, one) ? [[first.name, second.name]] : [];
    }),
  );
};

const onlyIn = (own: readonly EffectSeen[], other: readonly EffectSeen[]): readonly string[] =>
  own.map(({ name }) => name).filter((name) => other.every((one) => one.name !== name));

const rowOf = (
  history: History,
  name: string,
  a: Evidence | undefined,
  b: Evidence | undefined,
): CompareRow => {
  const bookOf = (evidence: Evidence | undefined): Book | undefined =>
    evidence && history.books.get(evidence.window.bookHash);
  const [before, after] = [bookOf(a), bookOf(b)];
  const said = ({ window, past }: Evidence) => ({ window: window.id, outcome: past.verdict.outcome });
  const [cameA, cameB] = [cameIn(a), cameIn(b)];
  const both = a !== undefined && b !== undefined;
  return {
    interlock: name,
    ...(a && { a: said(a) }),
    ...(b && { b: said(b) }),
    figures: figuresOf(unitOf(after ?? before, name), a, b),
    onlyA: both ? onlyIn(cameA, cameB) : [],
    onlyB: both ? onlyIn(cameB, cameA) : [],
    order: orderOf(cameA, cameB),
    rules: before && after && before !== after ? ruleDifferences(before, after, name).map(inWords) : [],
  };
};

/** What a name stands for: the window of that name, or of each interlock its newest test on that revision. */
const sideOf = (history: History, name: string): ReadonlyMap<string, Evidence> => {
  const found = new Map<string, Evidence>();
  const own = history.windows.find(({ id }) => id === name);
  for (const window of own === undefined ? history.windows : [own])
    for (const past of window.interlocks) {
      const machine = past.name.slice(0, past.name.lastIndexOf('.'));
      const counts =
        own !== undefined || (!window.demand && !past.demand && revisionIn(window, machine) === name);
      if (counts) found.set(past.name, { window, past });
    }
  return found;
};

/** Two windows, or two revisions, side by side. A name that the log does not know gives an empty side. */
export const compareSides = (history: History, a: string, b: string): Comparison => {
  const [first, second] = [sideOf(history, a), sideOf(history, b)];
  const names = [...new Set([...first.keys(), ...second.keys()])];
  return { a, b, rows: names.map((name) => rowOf(history, name, first.get(name), second.get(name))) };
};

/** Something is certainly other than it was. */
export const isChanged = ({ figures, onlyA, onlyB, order, rules }: CompareRow): boolean =>
  figures.some(({ told }) => told === 'changed') ||
  onlyA.length + onlyB.length + order.length + rules.length > 0;
