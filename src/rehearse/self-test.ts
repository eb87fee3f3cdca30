import type { Finding, WindowVerdict } from '../judge/index.ts';
import type { Outcome, Reason } from '../measure/index.ts';
import type { Book, Interlock, InterlockId } from '../rulebook/index.ts';
import { causeMutations } from './mutate-cause.ts';
import { effectMutations } from './mutate-effects.ts';
import { evidenceMutations } from './mutate-evidence.ts';
import { type Mutation, tableOf } from './mutation.ts';
import { perform } from './perform.ts';
import { stage } from './stage.ts';
import type { Polling } from './types.ts';

/** How a mutation came out. */
export interface Tried {
  readonly code: string;
  readonly about: string;
  readonly outcome: Outcome;
  /** What speaks against a pass, in the judge's codes. */
  readonly codes: readonly string[];
  /** `told`: as it must be. `survived`: it still passes. `otherwise`: no pass, but not for this reason. */
  readonly result: 'told' | 'survived' | 'otherwise';
}

export interface Proof {
  readonly interlock: InterlockId;
  /** As it should act; undefined: nobody knows how to rehearse such a cause. */
  readonly nominal?: { readonly outcome: Outcome; readonly reasons: readonly Reason[] };
  readonly tried: readonly Tried[];
  /** The same as it should act, with the polling of the site. Undefined where the site has none (a recorded trace). */
  readonly declared?: { readonly outcome: Outcome; readonly reasons: readonly Reason[] };
}

const verdictOf = (findings: readonly Finding[], interlock: Interlock): WindowVerdict | undefined => {
  const found = findings.findLast((one) => one.kind === 'window' && one.interlock === interlock.id);
  return found?.kind === 'window' ? found.verdict : undefined;
};

/** Codes of everything that is no pass, in the window and in its trials. */
const against = (verdict: WindowVerdict): readonly string[] => {
  const aspects = [verdict, ...verdict.trials].flatMap((one) => one.aspects);
  const codes = aspects.filter((one) => one.outcome !== 'pass').map((one) => one.reason.code);
  return [...new Set([...verdict.reasons.map((reason) => reason.code), ...codes])];
};

const judged = (interlock: Interlock, mutation: Mutation): Tried => {
  const { code, about } = mutation;
  const verdict = verdictOf(perform(mutation.play), interlock);
  if (verdict === undefined) return { code, about, outcome: 'not-tested', codes: [], result: 'otherwise' };
  const codes = against(verdict);
  const right = mutation.allowed.some(
    (one) => one.outcome === verdict.outcome && one.codes.some((wanted) => codes.includes(wanted)),
  );
  const wrong = verdict.outcome === 'pass' ? 'survived' : 'otherwise';
  return { code, about, outcome: verdict.outcome, codes, result: right ? 'told' : wrong };
};

/** How the source of an interlock's cause is really polled. */
const declaredPolling = (book: Book, interlock: Interlock): Polling | undefined => {
  const signal = book.signals[interlock.cause.signal];
  const source = book.sources[signal?.source ?? -1];
  if (source === undefined || source.protocol === 'trace') return undefined;
  const phase = 7_000;
  const common = { phase, scan: source.scan };
  if (source.protocol === 'modbus') {
    const age = Math.max(source.scan, signal?.age ?? 0);
    return { ...common, every: source.windowPoll, age, oneAnswer: source.scanConsistent };
  }
  const age = source.scan + 2 * (source.clockBound ?? source.publishing);
  return { ...common, every: source.sampling, age, oneAnswer: false };
};

const proofOf = (book: Book, interlock: Interlock): Proof => {
  const table = tableOf(book, interlock);
  if (table === undefined) return { interlock: interlock.id, tried: [] };
  const nominal = verdictOf(perform(table.nominal.play), interlock);
  const mutations = [...effectMutations(table), ...causeMutations(table), ...evidenceMutations(table)];
  const polling = declaredPolling(book, interlock);
  const real = polling && stage(book, interlock, undefined, polling);
  const declared = real && verdictOf(perform(real.play), interlock);
  return {
    interlock: interlock.id,
    ...(nominal && { nominal: { outcome: nominal.outcome, reasons: nominal.reasons } }),
    // What does not pass as it should act cannot be mutated into anything.
    tried: nominal?.outcome === 'pass' ? mutations.map((one) => judged(interlock, one)) : [],
    ...(declared && { declared: { outcome: declared.outcome, reasons: declared.reasons } }),
  };
};

/**
 * Plays each interlock as it should act, which must pass, and then in every way that it should not, which must not.
 * A mutation that survives shows a rule, or a judge, that cannot fail.
 */
export const selfTest = (book: Book, only?: readonly InterlockId[]): readonly Proof[] =>
  book.interlocks
    .filter(({ id }) => only === undefined || only.includes(id))
    .map((interlock) => proofOf(book, interlock));
