import type { AdviceNow } from '../api/index.ts';
import type { Finding, Stimulus } from '../judge/index.ts';
import { type Instant, lessThan, MILLISECOND, type Micros, type Reading, SECOND } from '../measure/index.ts';
import {
  type Book,
  type CauseReading,
  type Coached,
  coach,
  type Feasibility,
  feasibility,
  type InterlockId,
  type Known,
} from '../rulebook/index.ts';
import { text } from '../words/index.ts';

/** At most so often is anybody told something new. */
const EVERY: Micros = 250 * MILLISECOND;

/** A cause moves if it has come farther than its doubt within this time. */
const LATELY: Micros = 2 * SECOND;

/** Readings are kept for the longest hold, and at least as long as a slow ramp needs to be told. */
const LEAST: Micros = 12 * SECOND;

/** What tells nobody how to move on. */
const SILENT = new Set(['coach-not-there']);

/** Where an interlock under test is: what moves before it is ready counts for nothing, and is not advised on. */
export type Stage = 'waits' | 'ready' | 'trial';

/** Watches the causes of the interlocks under test, and tells whoever moves them how to. Nothing of it is recorded. */
export interface Coaching {
  /** Signals that it needs readings of. */
  readonly signals: ReadonlySet<number>;
  take(reading: Reading): void;
  /** Whether an interlock has acted decides whether there is anything left to advise. */
  heard(finding: Finding): void;
  /** Looks anew where it is time to. `known` is asked only then. */
  look(now: Instant, stageOf: (interlock: InterlockId) => Stage, known: () => Known): void;
  advice(): readonly AdviceNow[];
}

interface Watched {
  readonly interlock: InterlockId;
  readonly name: string;
  readonly signal: number;
  acted: boolean;
}

const middle = ({ low, high }: CauseReading): number => (low + high) / 2;

/** It has left its clear band, or has come farther than its doubt in the last seconds. */
const moves = (plan: Feasibility, rows: readonly CauseReading[]): boolean => {
  const newest = rows.at(-1);
  const { edges, fixed } = plan.tripPoint ?? {};
  if (newest === undefined || edges === undefined || fixed === undefined) return false;
  const falls = edges.outside < edges.inside;
  if (falls ? lessThan(newest.high, edges.clear) : lessThan(edges.clear, newest.low)) return true;
  const before = rows.find((row) => row.latest >= newest.latest - LATELY) ?? newest;
  return Math.abs(middle(newest) - middle(before)) > 2 * fixed;
};

/** A measured speed goes in jumps, one for each pulse: a rate is told over this long, and so many pulses, at least. */
const STEADY: Micros = SECOND;
const PULSES = 4;

const RATES = new Set(['coach-slow-down', 'coach-in-range', 'coach-unclear']);
const HOLDS = new Set(['coach-hold', 'coach-held']);

/**
 * What is said of the rate rests on readings that are far enough apart; what is said of a hold rests on all, unless
 * those that are far apart say that it moves.
 */
const steadily = (plan: Feasibility, rows: readonly CauseReading[]): Coached | undefined => {
  const told = coach(plan, rows);
  const newest = rows.at(-1);
  const holds = HOLDS.has(told.code);
  if (newest === undefined || !(holds || RATES.has(told.code))) return told;
  const pulses = plan.pulses === undefined ? 0 : (PULSES * SECOND) / plan.pulses.frequency;
  const apart = Math.max(STEADY, pulses);
  const far = rows.filter((row) => row === newest || row.latest <= newest.latest - apart);
  if (far.length < 2) return holds ? told : undefined;
  const steady = coach(plan, far);
  return holds && !((steady.rate?.low ?? 0) > 0) ? told : steady;
};

/** Nothing is advised to a cause that goes back to where it came from. */
const returns = ({ rate }: Coached): boolean => rate !== undefined && rate.high < 0;

/** A level is told to a tenth of its unit. */
const tidy = ({ code, params }: Coached): Coached =>
  typeof params['level'] === 'number'
    ? { code, params: { ...params, level: Math.round(params['level'] * 10) / 10 } }
    : { code, params };

const reachOf = ({ hold, keep }: Feasibility): Micros =>
  Math.max(
    LEAST,
    SECOND * (2 + Math.max(hold?.inside.seconds ?? 0, hold?.outside.seconds ?? 0, keep?.own ?? 0)),
  );

export const createCoaching = (book: Book, stimuli: readonly Stimulus[]): Coaching => {
  const tested = new Set(stimuli.map(({ interlock }) => interlock));
  // Only what is under test is planned anew when a normal is learned.
  const small = { ...book, interlocks: book.interlocks.filter(({ id }) => tested.has(id)) };
  const watched = small.interlocks.map(
    ({ id, name, cause }): Watched => ({ interlock: id, name, signal: cause.signal, acted: false }),
  );
  const signals = new Set<number>(watched.map(({ signal }) => signal));
  const rows = new Map<number, CauseReading[]>();
  let reach = LEAST;
  let looked = Number.NEGATIVE_INFINITY;
  let planned: { readonly key: string; readonly plans: ReadonlyMap<InterlockId, Feasibility> } | undefined;
  let advice: readonly AdviceNow[] = [];

  const plansFor = (known: Known): ReadonlyMap<InterlockId, Feasibility> => {
    const key = JSON.stringify(known);
    if (planned?.key === key) return planned.plans;
    const plans = new Map(feasibility(small, known).map((plan) => [plan.interlock, plan]));
    reach = Math.max(...[...plans.values()].map(reachOf), LEAST);
    planned = { key, plans };
    return plans;
  };

  const adviceFor = (one: Watched, plan: Feasibility | undefined, stage: Stage): AdviceNow[] => {
    const own = rows.get(one.signal) ?? [];
    const level = plan?.tripPoint !== undefined;
    if (plan === undefined || one.acted || !(level || plan.present !== undefined)) return [];
    if (stage !== 'trial' && !(stage === 'ready' && level && moves(plan, own))) return [];
    if (own.length === 1) return [];
    const coached = steadily(plan, own);
    if (coached === undefined || returns(coached) || SILENT.has(coached.code)) return [];
    const { code, params } = tidy(coached);
    const unit = plan.tripPoint?.unit ?? '';
    return [{ interlock: one.name, code, params, text: text({ code, params }, { unit }) }];
  };

  return {
    signals,
    take({ signal, at, value }) {
      if (!signals.has(signal)) return;
      // What the cause did during a gap is not known: a hold begins anew behind it.
      if (value === undefined) {
        rows.delete(signal);
        return;
      }
      const own = rows.get(signal) ?? [];
      if (own.length === 0) rows.set(signal, own);
      own.push({ ...at, ...value });
      while ((own[0]?.latest ?? at.latest) < at.latest - reach) own.shift();
    },
    heard(finding) {
      const one = watched.find(({ interlock }) => interlock === finding.interlock);
      if (one === undefined) return;
      if (finding.kind === 'trial') one.acted = false;
      if (finding.kind !== 'event') return;
      if (finding.reason.code === 'trial-began') one.acted = false;
      if (finding.reason.code === 'effect-came') one.acted = true;
    },
    look(now, stageOf, known) {
      if (now - looked < EVERY) return;
      looked = now;
      const plans = plansFor(known());
      advice = watched.flatMap((one) => adviceFor(one, plans.get(one.interlock), stageOf(one.interlock)));
    },
    advice: () => advice,
  };
};
