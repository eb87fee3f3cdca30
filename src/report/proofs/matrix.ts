import type { Instant, Outcome, Phrase, Reason } from '../../measure/index.ts';
import type { Effect, Interlock } from '../../rulebook/index.ts';
import { text } from '../../words/index.ts';
import { causePhrase } from '../cause-text.ts';
import { type Covered, coverageOf, gapsOf } from './coverage.ts';
import { type Evidence, endOf, revisionIn } from './past-evidence.ts';
import { type Known, type Proof, proofOf, type Standing } from './proofs.ts';
import { effectText } from './rule-difference.ts';

/**
 * How a cell stands. Where cause and effect are marked as belonging together: as the proof does. Where they are not:
 * `cross-trip`, the effect was seen to act although nothing says that it should; `quiet`, it was watched in a test that
 * passed and did not act unexplained; `unwatched`, nothing is known.
 */
export type CellState = Standing | 'cross-trip' | 'quiet' | 'unwatched';

export interface MatrixCell {
  /** Name of the effect's signal, as in `Matrix.columns`. */
  readonly effect: string;
  readonly marked: boolean;
  readonly state: CellState;
  /** What the effect must do: `stop, within 1.5 s, until reset`. */
  readonly wanted?: string;
  /** The window that says so. */
  readonly window?: string;
  readonly at?: Instant;
  readonly revision?: string;
  readonly reason?: Phrase;
}

export interface MatrixRow {
  readonly interlock: string;
  readonly title: string;
  readonly machine: string;
  readonly hazard: string;
  /** When it acts, in English, and as a phrase. */
  readonly cause: string;
  readonly acts: Phrase;
  readonly proof: Proof;
  /** One for each column, in their order. */
  readonly cells: readonly MatrixCell[];
  readonly coverage: readonly Covered[];
  /** Parts of the chain without a proof that holds. */
  readonly gaps: readonly Reason[];
}

export interface MatrixColumn {
  readonly name: string;
  readonly machine: string;
  readonly class: Effect['class'];
}

/** Causes and effects (in the spirit of IEC 62881), with what is proved of each at `on`. Plain data but for `proof`. */
export interface Matrix {
  readonly log: string;
  readonly site: string;
  readonly title: string;
  readonly on: Instant;
  readonly bookHash: string;
  readonly columns: readonly MatrixColumn[];
  readonly rows: readonly MatrixRow[];
}

const CROSS_TRIPS: ReadonlySet<string> = new Set(['unlisted-change', 'other-machine-acted']);

/** Every reason that a verdict and its trials give. */
const reasonsIn = ({ past }: Evidence): readonly Reason[] => [
  ...past.verdict.aspects.map(({ reason }) => reason),
  ...past.verdict.trials.flatMap(({ aspects, reasons }) => [
    ...aspects.map(({ reason }) => reason),
    ...reasons,
  ]),
];

/** What acted unexplained in the tests since the last pass, by signal: the newest of each. */
const crossTripsOf = (
  known: Known,
  proof: Proof,
): ReadonlyMap<string, { readonly evidence: Evidence; readonly reason: Reason }> => {
  const found = new Map<string, { evidence: Evidence; reason: Reason }>();
  for (const evidence of known.evidence.get(proof.interlock) ?? []) {
    if (proof.pass !== undefined && evidence.window.entry <= proof.pass.window.entry) continue;
    for (const reason of reasonsIn(evidence))
      if (CROSS_TRIPS.has(reason.code)) found.set(String(reason.params['signal']), { evidence, reason });
  }
  return found;
};

/** The worst that the aspects of one effect say; undefined where none names it. */
const outcomeOf = ({ past }: Evidence, effect: string): { outcome: Outcome; reason: Reason } | undefined => {
  const own = past.verdict.aspects.filter(
    ({ name }) => name === `effect:${effect}` || name === `held:${effect}`,
  );
  for (const outcome of ['fail', 'inconclusive', 'not-tested', 'pass'] as const) {
    const found = own.find((one) => one.outcome === outcome);
    if (found !== undefined) return { outcome, reason: found.reason };
  }
  return undefined;
};

/** The window that the standing of a proof rests on. */
const decidingOf = (known: Known, proof: Proof): Evidence | undefined => {
  const evidence = known.evidence.get(proof.interlock) ?? [];
  if (proof.beneath === 'failed')
    return evidence.findLast(({ past }) => past.verdict.outcome === 'fail') ?? proof.last;
  return proof.pass ?? proof.last;
};

const stateOf = (
  proof: Proof,
  deciding: Evidence | undefined,
  effect: string,
): { state: Standing; reason?: Phrase } => {
  const own = deciding && outcomeOf(deciding, effect);
  const [reason] = proof.reasons;
  const as = (state: Standing, why: Phrase | undefined = reason): { state: Standing; reason?: Phrase } => ({
    state,
    ...(why && { reason: why }),
  });
  if (proof.standing === 'bypassed' || proof.beneath !== 'failed') return as(proof.standing);
  const others = deciding?.past.verdict.aspects.some(
    ({ name, outcome }) => outcome === 'fail' && name.startsWith('effect:'),
  );
  if (own?.outcome === 'fail') return as('failed', own.reason);
  // Where another effect failed and this one came, it is not this one that failed; a pass needs all of it.
  return others === true && own !== undefined ? as('inconclusive', own.reason) : as('failed');
};

const from = (evidence: Evidence | undefined, machine: string) => {
  if (evidence === undefined) return {};
  const revision = revisionIn(evidence.window, machine);
  return {
    window: evidence.window.id,
    at: endOf(evidence.window),
    ...(revision !== undefined && { revision }),
  };
};

const rowOf = (
  known: Known,
  interlock: Interlock,
  columns: readonly MatrixColumn[],
  watched: ReadonlySet<string>,
): MatrixRow => {
  const { book } = known;
  const proof = proofOf(known, interlock);
  const deciding = decidingOf(known, proof);
  const crossTrips = crossTripsOf(known, proof);
  const marked = (effect: Effect): MatrixCell => ({
    effect: effect.name,
    marked: true,
    ...stateOf(proof, deciding, effect.name),
    wanted: effectText(book, interlock, effect),
    ...from(deciding, proof.machine),
  });
  const unmarked = (effect: string): MatrixCell => {
    const crossed = crossTrips.get(effect);
    if (crossed !== undefined)
      return {
        effect,
        marked: false,
        state: 'cross-trip',
        reason: crossed.reason,
        ...from(crossed.evidence, proof.machine),
      };
    if (proof.pass === undefined || !watched.has(effect))
      return { effect, marked: false, state: 'unwatched' };
    return { effect, marked: false, state: 'quiet', ...from(proof.pass, proof.machine) };
  };
  const coverage = coverageOf(known, interlock);
  const acts = causePhrase(book, interlock);
  return {
    interlock: interlock.name,
    title: interlock.title,
    machine: proof.machine,
    hazard: interlock.hazard,
    cause: text(acts),
    acts,
    proof,
    cells: columns.map(({ name }) => {
      const effect = interlock.effects.find((one) => one.name === name);
      return effect === undefined ? unmarked(name) : marked(effect);
    }),
    coverage,
    gaps: gapsOf(interlock.name, coverage),
  };
};

const columnsOf = ({ book }: Known): readonly MatrixColumn[] => {
  const found = new Map<string, MatrixColumn>();
  for (const { effects } of book.interlocks)
    for (const effect of effects) {
      const { name } = effect;
      if (!found.has(name))
        found.set(name, { name, machine: name.slice(0, name.lastIndexOf('.')), class: effect.class });
    }
  const order = new Map(book.machines.map(({ name }, index) => [name, index]));
  const rank = ({ machine }: MatrixColumn): number => order.get(machine) ?? order.size;
  return [...found.values()].sort((a, b) => rank(a) - rank(b));
};

/** The matrix of all interlocks, or of those of some machines. */
export const matrixOf = (known: Known, machines: ReadonlySet<string> = new Set()): Matrix => {
  const { book, history, on } = known;
  const all = columnsOf(known);
  const watched = new Set(
    book.machines.flatMap(({ outputs }) => outputs.map((signal) => book.signals[signal]?.name ?? '')),
  );
  const chosen = book.interlocks.filter(
    ({ machine }) => machines.size === 0 || machines.has(book.machines[machine]?.name ?? ''),
  );
  const rows = chosen.map((interlock) => rowOf(known, interlock, all, watched));
  // A column without a mark and without an event says nothing.
  const kept = all.map((_, index) =>
    rows.some(({ cells }) => cells[index]?.marked === true || cells[index]?.state === 'cross-trip'),
  );
  return {
    log: history.log,
    site: book.site,
    title: book.title,
    on,
    bookHash: history.bookEntries.at(-1)?.hash ?? '',
    columns: all.filter((_, index) => kept[index]),
    rows: rows.map((row) => ({ ...row, cells: row.cells.filter((_, index) => kept[index]) })),
  };
};
