import type { Phrase, Reason } from '../../measure/index.ts';
import { type Book, causeRoots, type Interlock } from '../../rulebook/index.ts';
import { machinesOfRevision } from './controllers.ts';
import { type Evidence, endOf } from './past-evidence.ts';
import type { Known } from './proofs.ts';
import { type Difference, ruleDifferences, signalsOf } from './rule-difference.ts';

/**
 * How near a change comes to an interlock, and so how much of it is to be proved: edited itself, end to end; sharing with
 * it, from logic to final element, with one end to end for each card; a neighbour, its effects; a control among what
 * nobody touched; everything, after a migration or new firmware. Common practice, no source.
 */
export const NEARNESS = ['direct', 'shared', 'neighbour', 'control', 'all'] as const;
export type Nearness = (typeof NEARNESS)[number];

export interface ScopeRow {
  readonly interlock: string;
  readonly machine: string;
  readonly nearness: Nearness;
  readonly reasons: readonly Phrase[];
}

export interface ScopeList {
  readonly rows: readonly ScopeRow[];
  /** What keeps its proof. */
  readonly untouched: readonly string[];
  /** Names that were given and that no interlock, tag or depends-on knows. */
  readonly unknown: readonly string[];
  /** Interlocks of the old book that the new one does not have. */
  readonly gone: readonly string[];
  /** Machines on the controllers of what is to be proved because of the change itself. */
  readonly machines: readonly string[];
}

export interface ScopeWish {
  /** Tags, routines, timers, cards, interlocks, or lines of an interlock (`E1.underspeed-stop.delay`). */
  readonly changed: readonly string[];
  /** The book before; differences to `book` count as changes. */
  readonly before?: Book;
  /** Firmware, migration, another controller. */
  readonly all: boolean;
}

const alike = (a: string, b: string): boolean => a.trim().toLowerCase() === b.trim().toLowerCase();

interface Facts {
  readonly interlock: Interlock;
  readonly machine: string;
  readonly signals: ReadonlySet<string>;
  readonly roots: ReadonlySet<string>;
  readonly dependsOn: readonly string[];
}

const factsOf = (book: Book, interlock: Interlock): Facts => {
  const nameOf = (signal: number): string => book.signals[signal]?.name ?? '';
  return {
    interlock,
    machine: book.machines[interlock.machine]?.name ?? '',
    signals: new Set([...signalsOf(book, interlock)].map(nameOf)),
    roots: new Set([...causeRoots(book, interlock.cause)].map(nameOf)),
    dependsOn: interlock.upkeep?.dependsOn ?? [],
  };
};

const isLineOf = ({ interlock }: Facts, name: string): boolean =>
  alike(name, interlock.name) || name.toLowerCase().startsWith(`${interlock.name.toLowerCase()}.`);

const named = (facts: Facts, name: string): Reason | undefined => {
  if (isLineOf(facts, name)) return { code: 'scope-line', params: { name } };
  if (facts.dependsOn.some((one) => alike(one, name))) return { code: 'scope-depends-on', params: { name } };
  return [...facts.signals].some((one) => alike(one, name))
    ? { code: 'scope-tag', params: { name } }
    : undefined;
};

const differs = (params: Difference): Phrase => ({ code: 'scope-rule', params: { ...params } });

const directReasons = (facts: Facts, book: Book, { changed, before }: ScopeWish): readonly Phrase[] => [
  ...changed.flatMap((name) => named(facts, name) ?? []),
  ...(before === undefined ? [] : ruleDifferences(before, book, facts.interlock.name).map(differs)),
];

const shared = (facts: Facts, direct: readonly Facts[]): readonly Reason[] => {
  const found: Reason[] = [];
  for (const other of direct) {
    const params = { other: other.interlock.name };
    const name = facts.dependsOn.find((one) => other.dependsOn.some((its) => alike(one, its)));
    const sensor = [...facts.roots].find((one) => other.roots.has(one));
    if (name !== undefined) found.push({ code: 'scope-shares', params: { ...params, name } });
    else if (sensor !== undefined)
      found.push({ code: 'scope-same-sensor', params: { ...params, name: sensor } });
  }
  return found;
};

const neighbour = (facts: Facts, direct: readonly Facts[], book: Book): readonly Reason[] => {
  const found: Reason[] = [];
  const effects = new Set(facts.interlock.effects.map(({ name }) => name));
  for (const other of direct) {
    const params = { other: other.interlock.name };
    const effect = other.interlock.effects.find(({ name }) => effects.has(name));
    const [own, its] = [book.machines[facts.interlock.machine], book.machines[other.interlock.machine]];
    const cascades = [...facts.interlock.effects, ...other.interlock.effects].some(({ cascade }) => cascade);
    const fed =
      own !== undefined &&
      its !== undefined &&
      (own.feeds.includes(its.index) || its.feeds.includes(own.index));
    if (effect !== undefined)
      found.push({ code: 'scope-same-effect', params: { ...params, name: effect.name } });
    else if (fed && cascades)
      found.push({ code: 'scope-cascade', params: { ...params, machine: other.machine } });
  }
  return found;
};

/** With these machines all that are on the same controllers: a scope is for a program, and a program runs them all. */
const sameControllers = (book: Book, machines: ReadonlySet<string>): readonly string[] => {
  const found = new Set(machines);
  for (const { name, revision } of book.machines) {
    const own = machinesOfRevision(book, {
      machine: name,
      quality: revision === undefined ? 'typed' : 'tag',
    });
    if ([...own].some((one) => machines.has(one))) for (const one of own) found.add(one);
  }
  return book.machines.map(({ name }) => name).filter((name) => found.has(name));
};

/** A tenth of what nobody touched, three at least. Common practice, no source. */
const controlsOf = (count: number): number => Math.min(count, Math.max(3, Math.ceil(count / 10)));

const provedAt = (evidence: Known['evidence'] | undefined, name: string): number => {
  const own: readonly Evidence[] = evidence?.get(name) ?? [];
  const pass = own.findLast(
    ({ window, past }) => !window.demand && !past.demand && past.verdict.outcome === 'pass',
  );
  return pass === undefined ? Number.NEGATIVE_INFINITY : endOf(pass.window);
};

/**
 * Which interlocks of `book` must be proved again after a change, and why. The controls are those that were proved
 * longest ago, so that the same question gives the same answer; without `evidence` in the order of the book.
 */
export const scopeOf = (book: Book, wish: ScopeWish, evidence?: Known['evidence']): ScopeList => {
  const facts = book.interlocks.map((interlock) => factsOf(book, interlock));
  const reasonsOf = new Map<Facts, readonly Phrase[]>();
  for (const one of facts) reasonsOf.set(one, directReasons(one, book, wish));
  const direct = facts.filter((one) => (reasonsOf.get(one) ?? []).length > 0);
  const rows: ScopeRow[] = [];
  const rest: Facts[] = [];
  const put = (one: Facts, nearness: Nearness, reasons: readonly Phrase[]): void => {
    rows.push({ interlock: one.interlock.name, machine: one.machine, nearness, reasons });
  };
  for (const one of facts) {
    const own = reasonsOf.get(one) ?? [];
    const shares = own.length > 0 ? [] : shared(one, direct);
    const near = own.length + shares.length > 0 ? [] : neighbour(one, direct, book);
    if (own.length > 0) put(one, 'direct', own);
    else if (wish.all) put(one, 'all', [{ code: 'scope-all', params: {} }]);
    else if (shares.length > 0) put(one, 'shared', shares);
    else if (near.length > 0) put(one, 'neighbour', near);
    else rest.push(one);
  }
  const machines = sameControllers(book, new Set(rows.map(({ machine }) => machine)));
  const byAge = [...rest].sort(
    (a, b) => provedAt(evidence, a.interlock.name) - provedAt(evidence, b.interlock.name) || 0,
  );
  const controls = rows.length === 0 ? [] : byAge.slice(0, controlsOf(rest.length));
  for (const one of controls) put(one, 'control', [{ code: 'scope-control', params: {} }]);
  const rank = ({ nearness }: ScopeRow): number => NEARNESS.indexOf(nearness);
  return {
    rows: rows.sort((a, b) => rank(a) - rank(b)),
    untouched: rest.filter((one) => !controls.includes(one)).map(({ interlock }) => interlock.name),
    unknown: wish.changed.filter((name) => facts.every((one) => named(one, name) === undefined)),
    gone: (wish.before?.interlocks ?? [])
      .map(({ name }) => name)
      .filter((name) => facts.every(({ interlock }) => interlock.name !== name)),
    machines,
  };
};
