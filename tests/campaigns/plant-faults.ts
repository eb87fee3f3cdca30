/**
 * Every fault of the simulated plant against every interlock of leg 1 of the demonstration site. The plant is polled as
 * a Modbus device and an OPC UA server would be, and its answers go the whole way of the live run: decoded, merged,
 * judged. Nothing that a fault makes wrong may pass.
 */
import { createPipeline } from '../../src/daemon/pipeline.ts';
import type { WindowVerdict } from '../../src/judge/index.ts';
import { instant } from '../../src/measure/index.ts';
import { FAULTS, type Fault } from '../../src/plant/index.ts';
import {
  advance,
  applyHand,
  createModel,
  type PlantModel,
  registersOf,
} from '../../src/plant/model/index.ts';
import { readPlan } from '../../src/rulebook/index.ts';
import type { Answer, Item } from '../../src/signal/index.ts';
import { bookOf, load, ROOT } from '../rooms/config/load.ts';
import { CONCERNS, ONLY_BY, type Tried, type Way } from './plant-faults-concern.ts';
import { KNOWN, type KnownPass } from './plant-faults-known.ts';
import { PROCEDURES, type Procedure } from './plant-faults-tests.ts';

const book = bookOf(load(`${ROOT}config/demo-site.yaml`));
const plan = readPlan(book);

const POLL = 50_000;
/** From question to answer, µs. */
const ANSWERS_AFTER = 2_000;
const epoch = (at: number) => instant(1.7e15 + at);

const wordsOf = (model: PlantModel, at: number): Answer[] => {
  const registers = registersOf(model.image);
  return plan.requests.map((request, index) => ({
    kind: 'words',
    source: request.source,
    request: index,
    sent: epoch(at),
    received: epoch(at + ANSWERS_AFTER),
    words: [...registers.subarray(request.at, request.at + request.count)],
  }));
};

/** Samples at every poll; at every second one they are published, with what has not changed repeated. */
const opcUa = () => {
  const shown = new Map<number, number>();
  let waiting: Item[] = [];
  return (model: PlantModel, at: number, publish: boolean): Answer[] => {
    const answers: Answer[] = [];
    for (const [source, signals] of plan.items) {
      const fresh = new Set<number>();
      for (const signal of signals) {
        const value = model.image[book.signals[signal]?.name ?? ''] ?? 0;
        if (shown.get(signal) === value) continue;
        shown.set(signal, value);
        fresh.add(signal);
        waiting.push({ signal, status: 0, value, sourceTime: epoch(model.scannedAt), serverTime: epoch(at) });
      }
      if (!publish) continue;
      const told = new Set(waiting.map(({ signal }) => signal as number));
      const still = signals
        .filter((signal) => !told.has(signal))
        .map((signal): Item => {
          const value = shown.get(signal) ?? 0;
          return { signal, status: 0, value, serverTime: epoch(at), unchanged: true };
        });
      answers.push({
        kind: 'items',
        source,
        received: epoch(at + ANSWERS_AFTER),
        items: [...waiting, ...still],
      });
      waiting = [];
    }
    return answers;
  };
};

export interface Judged {
  readonly interlock: Tried;
  readonly verdict: WindowVerdict;
}

/** One plant, one procedure, one window over the interlocks that it exercises. */
export const judge = (procedure: Procedure, seed: number, fault?: Fault): Judged[] => {
  const model = createModel({ seed, ...(fault && { fault }) });
  const pipeline = createPipeline(book);
  const ids = procedure.interlocks.map((name) =>
    book.interlocks.findIndex((one) => one.name === `E1.${name}`),
  );
  const publish = opcUa();
  const hands = [...procedure.script].sort((a, b) => a[0] - b[0]);
  const phase = 3_000 + ((seed * 7_919) % POLL);
  const stimuli = ids.map((id) => ({ interlock: book.interlocks[id]!.id, method: procedure.method }));
  pipeline.mark({ code: 'window-opened', at: epoch(1), window: 'campaign', stimuli });
  let hand = 0;
  let polls = 0;
  for (let at = phase; at <= procedure.until * 1e6; at += POLL) {
    for (let due = hands[hand]; due !== undefined && due[0] * 1e6 <= at; due = hands[++hand]) {
      advance(model, Math.round(due[0] * 1e6) - model.asked);
      applyHand(model, due[1]);
    }
    advance(model, at - model.asked);
    polls += 1;
    for (const answer of [...wordsOf(model, at), ...publish(model, at, polls % 2 === 0)])
      pipeline.answer(answer);
  }
  const end = epoch(procedure.until * 1e6 + POLL);
  const findings = pipeline.mark({ code: 'window-closed', at: end });
  return procedure.interlocks.map((interlock, index) => {
    const found = findings.find((one) => one.kind === 'window' && one.interlock === ids[index]);
    if (found?.kind !== 'window') throw new Error(`no verdict on ${interlock}`);
    return { interlock, verdict: found.verdict };
  });
};

export interface Pass {
  readonly fault: Fault;
  readonly interlock: Tried;
  readonly way: Way;
}

export interface Tally {
  /** Outcomes of concerned interlocks by fault. */
  readonly rows: Map<string, Record<string, number>>;
  /** Passes that are wrong. */
  readonly passes: Pass[];
  /** Verdicts that give no reason. */
  readonly silent: Pass[];
}

const isConcerned = (fault: Fault, interlock: Tried, way: Way): boolean =>
  CONCERNS[fault].includes(interlock) && (ONLY_BY[fault] ?? way) === way;

export const campaign = (seed: number, faults: readonly Fault[]): Tally => {
  const tally: Tally = { rows: new Map(), passes: [], silent: [] };
  for (const fault of faults) {
    const row: Record<string, number> = {};
    for (const procedure of PROCEDURES) {
      const { way, interlocks } = procedure;
      if (!interlocks.some((one) => isConcerned(fault, one, way))) continue;
      for (const { interlock, verdict } of judge(procedure, seed, fault)) {
        if (!isConcerned(fault, interlock, way)) continue;
        row[verdict.outcome] = (row[verdict.outcome] ?? 0) + 1;
        if (verdict.outcome === 'pass') tally.passes.push({ fault, interlock, way });
        if (verdict.reasons.length === 0) tally.silent.push({ fault, interlock, way });
      }
    }
    tally.rows.set(fault, row);
  }
  return tally;
};

const explains = (known: KnownPass, pass: Pass): boolean =>
  known.fault === pass.fault &&
  known.interlocks.includes(pass.interlock) &&
  (known.way ?? pass.way) === pass.way;

export const unexplained = ({ passes }: Tally): Pass[] =>
  passes.filter((pass) => !KNOWN.some((known) => explains(known, pass)));

/** What stands in the list of known wrong passes, but does not pass any more. */
export const outlived = ({ passes }: Tally): { fault: Fault; interlock: Tried }[] =>
  KNOWN.filter(({ byChance }) => !byChance).flatMap((known) =>
    known.interlocks
      .filter((interlock) => !passes.some((pass) => explains(known, pass) && pass.interlock === interlock))
      .map((interlock) => ({ fault: known.fault, interlock })),
  );

/** A third of the faults, another one for every seed; or all. */
export const faultsOf = (seed: number, all: boolean): Fault[] =>
  (Object.keys(FAULTS) as Fault[]).filter((_, index) => all || index % 3 === seed % 3);

export const tableOf = ({ rows }: Tally): string =>
  [...rows]
    .filter(([, row]) => Object.keys(row).length > 0)
    .map(([fault, row]) => `${fault.padEnd(26)}${JSON.stringify(row)}`)
    .join('\n');
