/** Two servers with clocks of their own, through the one path from answers to findings. */
import { describe, expect, test } from 'vitest';
import { createPipeline } from '../../../src/daemon/pipeline.ts';
import { createRecent } from '../../../src/daemon/recent.ts';
import type { Finding, WindowVerdict } from '../../../src/judge/index.ts';
import { instant, rowsIn, type SignalId } from '../../../src/measure/index.ts';
import { decodeAnswers, encodeAnswers } from '../../../src/record/index.ts';
import type { Book } from '../../../src/rulebook/index.ts';
import type { Answer, Item, OpcUaSource } from '../../../src/signal/index.ts';
import { at, bookOf, effect, HEALTHY, idOf, NAMES, type Plant, S, underspeed } from '../judge/rig.ts';

const MS = 1_000;

/** The contact opens at 8 s; the machine stops `response` later; cleared, reset and started again. */
const plantOf = (response: number): Plant => {
  const acts = 8 + response;
  const between = (from: number, to: number, on: number, off: number) => (t: number) =>
    t >= from && t < to ? on : off;
  return {
    ...HEALTHY,
    contact: between(8, 14, 1, 0),
    tripped: between(acts, 17, 1, 0),
    run: between(acts, 19, 0, 1),
    running: between(acts + 0.05, 19, 0, 1),
    reset: between(17, 17.5, 1, 0),
    start: between(19, 19.5, 1, 0),
  };
};

const CAUSE = new Set<SignalId>([idOf('contact')]);

const sourceOf = (name: string, more: Partial<OpcUaSource>): OpcUaSource => ({
  protocol: 'opc-ua',
  name,
  endpoint: 'opc.tcp://h',
  access: { mode: 'none', policy: 'Basic256Sha256', user: { kind: 'anonymous' } },
  sampling: 20 * MS,
  publishing: 100 * MS,
  queue: 10,
  timeout: 5 * S,
  scan: 0,
  ...more,
});

/** The cause comes from one server, all else from another. */
const bookWith = (more: Partial<OpcUaSource>): Book => {
  const { delay: _, limit: __, ...bare } = underspeed();
  const stop = {
    ...bare,
    name: 'E1.misalignment-stop',
    cause: { kind: 'contact' as const, signal: idOf('contact'), state: 1 },
    effects: [effect('run', 0, 1.5 * S, { until: 'reset' })] as const,
  };
  const plain = bookOf([stop]);
  return {
    ...plain,
    sources: [sourceOf('switches', more), sourceOf('drives', more)],
    signals: plain.signals.map((one) => ({
      ...one,
      source: CAUSE.has(one.id) ? 0 : 1,
      agedAfter: 5 * S,
      address: { kind: 'opc-ua' as const, namespace: '', id: `s=${one.name}` },
    })),
  };
};

interface Road {
  /** By which each server's clock is ahead at a time, in seconds. */
  readonly ahead: readonly [(t: number) => number, (t: number) => number];
  /** Seconds that a question takes to get there. */
  readonly delay: number;
  /** Words of the first server between 7.45 s and 8.3 s come so much later. */
  readonly stall?: number;
}

/** What both servers tell: the time each two seconds, changed samples at each publishing, what has not changed since. */
const answersOf = (plant: Plant, { ahead, delay, stall = 0 }: Road, to = 24): Answer[] => {
  const answers: Answer[] = [];
  for (const source of [0, 1] as const) {
    const theirs = (t: number) => at(t + ahead[source](t) + 0.000_123);
    const signals = NAMES.map((_, id) => id as SignalId).filter((id) => CAUSE.has(id) === (source === 0));
    const items = signals.map((signal) => ({ signal, sampling: 20 * MS, queue: 10 }));
    answers.push({ kind: 'terms', source, received: at(-5), publishing: 100 * MS, items });
    for (let t = -4.99; t < to; t += 2) {
      const times = { sent: at(t), theirs: theirs(t + delay), received: at(t + 2 * delay) };
      answers.push({ kind: 'clock', source, ...times });
    }
    const last = new Map<SignalId, number>();
    let arrived = 0;
    for (let word = -4.9 + source * 0.037; word < to; word += 0.1) {
      const told: Item[] = [];
      for (let sample = word - 0.1; sample < word - 1e-9; sample += 0.02)
        for (const signal of signals) {
          const value = plant[NAMES[signal]!]?.(sample) ?? 0;
          if (last.get(signal) === value) continue;
          last.set(signal, value);
          told.push({ signal, status: 0, value, sourceTime: theirs(sample), serverTime: theirs(sample) });
        }
      const late = source === 0 && word > 7.45 && word < 8.3 ? stall : 0;
      arrived = Math.max(arrived, at(word + delay + late));
      const fresh = new Set(told.map(({ signal }) => signal));
      const still = signals
        .filter((signal) => !fresh.has(signal))
        .map((signal): Item => {
          const value = last.get(signal) ?? 0;
          return { signal, status: 0, value, unchanged: true, serverTime: theirs(word) };
        });
      for (const all of [told, still])
        if (all.length > 0) answers.push({ kind: 'items', source, received: instant(arrived), items: all });
    }
  }
  return answers.sort((a, b) => a.received - b.received);
};

const run = (book: Book, answers: readonly Answer[]): Finding[] => {
  const pipeline = createPipeline(book);
  const stimuli = book.interlocks.map(({ id }) => ({ interlock: id, method: 'displaced' as const }));
  const opened = pipeline.mark({ code: 'window-opened', at: at(-4), window: 'w', stimuli });
  const found = answers.flatMap((answer) => pipeline.answer(answer));
  return [...opened, ...found, ...pipeline.mark({ code: 'window-closed', at: at(24) })];
};

const verdictOf = (findings: readonly Finding[]): WindowVerdict | undefined =>
  findings.flatMap((one) => (one.kind === 'window' ? [one.verdict] : []))[0];

const MEASURED = bookWith({ sourceClock: 'server' });
const AHEAD: Road = { ahead: [() => 3_600, () => -17], delay: 0.002 };

test('an hour apart and measured: the response is that of one clock, and passes', () => {
  const verdict = verdictOf(run(MEASURED, answersOf(plantOf(1), AHEAD)));
  expect(verdict?.outcome).toBe('pass');
  const { low = 0, high = 9 } = verdict?.response ?? {};
  expect(low).toBeLessThan(1);
  expect(high).toBeGreaterThan(1);
  // A publishing interval and a sample on both sides, and what clocks asked every 2 s over 4 ms leave open.
  expect(high - low).toBeLessThan(0.26);
});

test('a word that was late is not taken for a late change', () => {
  // The contact is told 0.8 s late: without the clock 1.9 s would look like 1.1 s, and pass.
  const late = answersOf(plantOf(1.9), { ...AHEAD, stall: 0.8 });
  for (const more of [{ sourceClock: 'server' as const }, {}]) {
    const verdict = verdictOf(run(bookWith(more), late));
    expect(verdict?.outcome).not.toBe('pass');
    const response = verdict?.response ?? { low: 0, high: 0 };
    expect(response.low).toBeLessThan(1.9);
    expect(response.high).toBeGreaterThan(1.9);
  }
});

test('clocks known to a second and a half only: which came first is not guessed', () => {
  // Questions take 0.7 s each way, so that the offset of either is known to 1.4 s.
  const slow = { ...AHEAD, delay: 0.7 };
  const verdict = verdictOf(run(MEASURED, answersOf(plantOf(1), slow)));
  expect(verdict?.outcome).toBe('inconclusive');
  const response = verdict?.response ?? { low: 1, high: 1 };
  expect(response.low).toBe(0);
  expect(response.high).toBeGreaterThan(1.5);
});

describe('a server’s clock is set by 0.3 s during the trial', () => {
  const steps: Road = { ...AHEAD, ahead: [(t) => (t < 8.5 ? 3_600 : 3_600.3), () => -17] };
  const answers = answersOf(plantOf(1), steps);
  const findings = run(MEASURED, answers);

  test('the trial is doubted, and says whose clock it was', () => {
    const verdict = verdictOf(findings);
    expect(verdict?.outcome).toBe('inconclusive');
    const reason = verdict?.reasons.find(({ code }) => code === 'clock-stepped');
    expect(reason?.params['source']).toBe('switches');
    expect(Math.abs(Number(reason?.params['by']) - 0.3)).toBeLessThan(0.02);
  });

  test('where source times bound nothing, it is of no consequence', () => {
    const verdict = verdictOf(run(bookWith({}), answers));
    expect(verdict?.outcome).toBe('pass');
  });

  test('a trial that had ended before the clock was asked again is doubted too', () => {
    const later: Road = { ...AHEAD, ahead: [(t) => (t < 21.5 ? 3_600 : 3_600.3), () => -17] };
    // Asked at 21.01 s and 23.01 s; the trial ends in between, when the belt has run for its time.
    expect(verdictOf(run(MEASURED, answersOf(plantOf(1), later)))?.outcome).toBe('pass');
    const quick = plantOf(1);
    const moved: Plant = { ...quick, contact: (t) => (t >= 8 && t < 20.5 ? 1 : 0) };
    const verdict = verdictOf(run(MEASURED, answersOf(moved, later)));
    expect(verdict?.reasons.map(({ code }) => code)).toContain('clock-stepped');
  });

  test('from the log it comes out the same, byte for byte', () => {
    const again = run(MEASURED, decodeAnswers(encodeAnswers(answers)) ?? []);
    expect(JSON.stringify(again)).toBe(JSON.stringify(findings));
    expect(findings.length).toBeGreaterThan(3);
  });
});

test('a server that publishes more seldom than it was asked is waited for, and nothing of it is late', () => {
  const answers = answersOf(plantOf(1), AHEAD).map(
    (answer): Answer => (answer.kind === 'terms' ? { ...answer, publishing: 2 * S } : answer),
  );
  const absences = (all: readonly Answer[]): number => {
    let late = 0;
    const read = createPipeline(MEASURED, {
      read: (rows) => {
        late += rowsIn(rows).filter(({ absent }) => absent === 'late').length;
      },
    });
    // The second server's words come 3.5 s after those of the first, as they may at that interval.
    const order = all
      .map((answer) => ({ answer, turn: answer.received + (answer.source === 1 ? 3.5 * S : 0) }))
      .sort((a, b) => a.turn - b.turn);
    for (const { answer, turn } of order)
      read.answer(
        answer.source === 1 && answer.kind === 'items' ? { ...answer, received: instant(turn) } : answer,
      );
    return late;
  };
  expect(absences(answers)).toBe(0);
  expect(absences(answersOf(plantOf(1), AHEAD))).toBeGreaterThan(0);
});

test('a window that opens later still knows what was granted, and what the clocks showed', () => {
  const recent = createRecent(10 * S);
  const answers = answersOf(plantOf(1), AHEAD, 40);
  for (const answer of answers) recent.take(answer);
  const kept = recent.since(at(30));
  expect(kept.filter(({ kind }) => kind === 'terms').map(({ source }) => source)).toEqual([0, 1]);
  expect(kept.filter(({ kind, received }) => kind === 'clock' && received < at(30)).length).toBeGreaterThan(
    4,
  );
  expect(kept.every(({ kind, received }) => kind !== 'items' || received >= at(30))).toBe(true);
  const times = kept.map(({ received }) => received);
  expect(times).toEqual([...times].sort((a, b) => a - b));
});
