import type { Instant, Phrase, Reason, Segment } from '../../measure/index.ts';
import { parseUtc } from '../../measure/index.ts';
import type { RegisterLife } from '../../record/index.ts';
import type { Book, Interlock } from '../../rulebook/index.ts';
import { bookNow } from './history.ts';
import type { DangerPast, History } from './history-types.ts';
import {
  type Evidence,
  type EvidenceIndex,
  endOf,
  evidenceOf,
  failedAsFound,
  isPass,
  revisionIn,
} from './past-evidence.ts';
import { type Changes, changesOf, staleReasons } from './stale.ts';

/** How an interlock stands, the worst first. */
export const STANDINGS = [
  'bypassed',
  'failed',
  'never',
  'inconclusive',
  'stale',
  'overdue',
  'proved',
] as const;
export type Standing = (typeof STANDINGS)[number];

/** What is known of the proof of one interlock at a time. */
export interface Proof {
  readonly interlock: string;
  readonly machine: string;
  readonly title: string;
  readonly standing: Standing;
  /** How it would stand without the bypass. */
  readonly beneath: Exclude<Standing, 'bypassed'>;
  /** Why it stands so; and what else is to be said. */
  readonly reasons: readonly Phrase[];
  /** The last test that passed in a way that counts. */
  readonly pass?: Evidence;
  /** The last window that says anything of it, a demand too. */
  readonly last?: Evidence;
  readonly revision?: string;
  /** What the last pass proved. */
  readonly proved: readonly Segment[];
  readonly dates?: Dates;
  /** Open items of the register on it or on its machine. */
  readonly open: readonly RegisterLife[];
}

/** When the next proof is due. */
export interface Dates {
  readonly due: Instant;
  /** Until then it may be late. */
  readonly grace: Instant;
  /** Until then it is deferred, by the register item of that id. */
  readonly deferred?: { readonly until: Instant; readonly id: string };
}

/** A log at a time, made ready to ask for the proofs of its interlocks. */
export interface Known {
  readonly history: History;
  readonly book: Book;
  readonly on: Instant;
  readonly evidence: EvidenceIndex;
  readonly changes: Changes;
  readonly dangers: ReadonlyMap<string, readonly DangerPast[]>;
  readonly open: ReadonlyMap<string, readonly RegisterLife[]>;
}

/** The history as it was at a time: what came later is left out. */
export const historyUntil = (history: History, on: Instant): History => {
  if (on >= history.last) return history;
  const before = <T extends { readonly at: Instant }>(list: readonly T[]): readonly T[] =>
    list.filter(({ at }) => at <= on);
  return {
    ...history,
    bookEntries: before(history.bookEntries),
    windows: history.windows.filter((window) => endOf(window) <= on),
    revisions: before(history.revisions),
    dangers: before(history.dangers),
    scopes: before(history.scopes),
    last: on,
  };
};

const isOpenAt = ({ opened, closed }: RegisterLife, on: Instant): boolean =>
  (parseUtc(opened) ?? 0) <= on && (closed === undefined || (parseUtc(closed) ?? 0) > on);

const grouped = <T>(list: readonly T[], keyOf: (one: T) => string): ReadonlyMap<string, readonly T[]> => {
  const found = new Map<string, T[]>();
  for (const one of list) found.set(keyOf(one), [...(found.get(keyOf(one)) ?? []), one]);
  return found;
};

/** Undefined where the log has no book yet. */
export const knownAt = (whole: History, on: Instant): Known | undefined => {
  const history = historyUntil(whole, on);
  const book = bookNow(history);
  if (book === undefined) return undefined;
  return {
    history,
    book,
    on,
    evidence: evidenceOf(history),
    changes: changesOf(history, book),
    dangers: grouped(history.dangers, ({ interlock }) => interlock),
    open: grouped(
      history.register.filter((item) => isOpenAt(item, on)),
      (item) => item.on,
    ),
  };
};

const counts = (interlock: Interlock, { past }: Evidence): boolean =>
  interlock.upkeep?.proof?.methods?.includes(past.method) ?? true;

const datesOf = (
  interlock: Interlock,
  pass: Evidence | undefined,
  open: readonly RegisterLife[],
): Dates | undefined => {
  const proof = interlock.upkeep?.proof;
  if (proof === undefined || pass === undefined) return undefined;
  const due = (endOf(pass.window) + proof.every) as Instant;
  const grace = (due + Math.round(proof.every * proof.grace)) as Instant;
  const deferrals = open.flatMap(({ item, id, limit }) => {
    const until = item === 'deferral' && limit !== undefined ? parseUtc(limit) : undefined;
    return until === undefined ? [] : [{ until, id }];
  });
  const [deferred] = deferrals.sort((a, b) => b.until - a.until);
  return { due, grace, ...(deferred && { deferred }) };
};

const isOverdue = (dates: Dates | undefined, on: Instant): boolean =>
  dates !== undefined && on > dates.grace && on > (dates.deferred?.until ?? 0);

/** What happened after the last pass and takes it away: a fail in a test or in earnest, or a danger that was seen. */
const failReasons = (
  evidence: readonly Evidence[],
  pass: Evidence | undefined,
  dangers: readonly DangerPast[],
): readonly Reason[] => {
  const since = pass === undefined ? Number.NEGATIVE_INFINITY : endOf(pass.window);
  const failed = evidence.findLast(
    (one) =>
      one.past.verdict.outcome === 'fail' && (pass === undefined || one.window.entry > pass.window.entry),
  );
  const danger = dangers.findLast(({ at }) => at > since);
  return [
    ...(failed === undefined
      ? []
      : [
          {
            code: failed.window.demand || failed.past.demand ? 'failed-on-demand' : 'failed-in-test',
            params: { window: failed.window.id, at: endOf(failed.window) },
          },
        ]),
    ...(danger === undefined
      ? []
      : [{ code: 'danger-seen', params: { at: danger.at, entry: danger.entry } }]),
  ];
};

/** What is to be said of a proof that stands, or of an interlock that has none. */
const notesOf = (
  interlock: Interlock,
  evidence: readonly Evidence[],
  pass: Evidence | undefined,
  revision: string | undefined,
): readonly Reason[] => {
  const later = evidence.filter((one) => pass === undefined || one.window.entry > pass.window.entry);
  const open = later.findLast(({ past }) => past.verdict.outcome === 'inconclusive');
  const demand = later.findLast(
    ({ window, past }) => (window.demand || past.demand) && past.verdict.outcome === 'pass',
  );
  const other = later.findLast((one) => isPass(one) && !counts(interlock, one));
  return [
    ...(open
      ? [{ code: 'proof-inconclusive', params: { window: open.window.id, at: endOf(open.window) } }]
      : []),
    ...(other
      ? [
          {
            code: 'proof-method-does-not-count',
            params: {
              window: other.window.id,
              method: other.past.method,
              methods: interlock.upkeep?.proof?.methods ?? [],
            },
          },
        ]
      : []),
    ...(demand
      ? [{ code: 'proof-demand-only', params: { window: demand.window.id, at: endOf(demand.window) } }]
      : []),
    ...(pass && failedAsFound(pass)
      ? [{ code: 'proof-failed-as-found', params: { window: pass.window.id } }]
      : []),
    ...(pass && revision === undefined
      ? [{ code: 'proof-no-revision', params: { window: pass.window.id } }]
      : []),
  ];
};

const dateReasons = (dates: Dates | undefined, on: Instant): readonly Reason[] => {
  if (dates === undefined) return [];
  const { due, grace, deferred } = dates;
  if (isOverdue(dates, on)) return [{ code: 'proof-overdue', params: { due } }];
  if (on > grace && deferred !== undefined)
    return [{ code: 'proof-deferred', params: { due, until: deferred.until, id: deferred.id } }];
  return on > due ? [{ code: 'proof-in-grace', params: { due, grace } }] : [];
};

const beneathOf = (facts: {
  readonly fails: readonly Reason[];
  readonly pass: Evidence | undefined;
  readonly stale: readonly Phrase[];
  readonly overdue: boolean;
  readonly tried: boolean;
}): Proof['beneath'] => {
  if (facts.fails.length > 0) return 'failed';
  if (facts.pass === undefined) return facts.tried ? 'inconclusive' : 'never';
  if (facts.stale.length > 0) return 'stale';
  return facts.overdue ? 'overdue' : 'proved';
};

/** The proof of one interlock of the book at `known.on`. */
export const proofOf = (known: Known, interlock: Interlock): Proof => {
  const machine = known.book.machines[interlock.machine]?.name ?? '';
  const evidence = known.evidence.get(interlock.name) ?? [];
  const pass = evidence.findLast((one) => isPass(one) && counts(interlock, one));
  const open = [...(known.open.get(interlock.name) ?? []), ...(known.open.get(machine) ?? [])];
  const fails = failReasons(evidence, pass, known.dangers.get(interlock.name) ?? []);
  const stale = pass === undefined ? [] : staleReasons(known.changes, pass, interlock);
  const dates = datesOf(interlock, pass, open);
  const revision = pass && revisionIn(pass.window, machine);
  const tried = evidence.some(({ past }) => past.verdict.outcome === 'inconclusive');
  const beneath = beneathOf({ fails, pass, stale, overdue: isOverdue(dates, known.on), tried });
  const bypass = open.filter(({ item }) => item === 'bypass');
  const last = evidence.at(-1);
  return {
    interlock: interlock.name,
    machine,
    title: interlock.title,
    standing: bypass.length > 0 ? 'bypassed' : beneath,
    beneath,
    reasons: [
      ...bypass.map(({ id, opened }) => ({
        code: 'proof-bypassed',
        params: { id, at: parseUtc(opened) ?? 0 },
      })),
      ...fails,
      ...stale,
      ...dateReasons(dates, known.on),
      ...notesOf(interlock, evidence, pass, revision),
    ],
    ...(pass && { pass }),
    ...(last && { last }),
    ...(revision !== undefined && { revision }),
    proved: pass?.past.verdict.proved ?? [],
    ...(dates && { dates }),
    open,
  };
};
