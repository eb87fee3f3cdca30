import type { PlanNow, PlanTold, ReasonTold } from '../api/index.ts';
import { type Stimulus, segmentsOf, substitutes } from '../judge/index.ts';
import { MILLISECOND, type Micros, type Reason, SECOND } from '../measure/index.ts';
import { segmentsNeeded } from '../report/index.ts';
import { type Book, type Feasibility, feasibility, isHorn, type Known } from '../rulebook/index.ts';
import type { Answer } from '../signal/index.ts';
import { text } from '../words/index.ts';

/** How long each source takes to answer: the longest of its last answers. */
export interface AnswerTimes {
  take(answer: Answer): void;
  /** Seconds, by source; undefined where none has answered a question. */
  seconds(): readonly (number | undefined)[];
}

const LAST = 64;
/** Told in steps, so that a plan does not change with every answer. */
const STEP: Micros = 5 * MILLISECOND;

export const createAnswerTimes = (sources: number): AnswerTimes => {
  const times = Array.from({ length: sources }, (): Micros[] => []);
  return {
    take(answer) {
      const own = times[answer.source];
      if (answer.kind !== 'words' || own === undefined) return;
      own.push(answer.received - answer.sent);
      if (own.length > LAST) own.shift();
    },
    seconds: () =>
      times.map((own) =>
        own.length === 0 ? undefined : (Math.ceil(Math.max(...own) / STEP) * STEP) / SECOND,
      ),
  };
};

const planTold = (book: Book, plan: Feasibility): PlanTold => {
  const unit = plan.tripPoint?.unit ?? '';
  const said = (reasons: readonly Reason[]): ReasonTold[] =>
    reasons.map((reason) => ({ ...reason, text: text(reason, { unit }) }));
  return {
    interlock: book.interlocks[plan.interlock]?.name ?? '',
    advice: said(plan.advice),
    undecidable: said(plan.undecidable),
    notes: said(plan.notes),
  };
};

/** How to test these interlocks, and what cannot be decided, from all that is known now. */
export const plansTold = (book: Book, interlocks: readonly number[], known: Known): readonly PlanTold[] =>
  feasibility(book, known)
    .filter((plan) => interlocks.includes(plan.interlock))
    .map((plan) => planTold(book, plan));

/** The same for tests by these methods, with the parts of the chain that each can prove, and cannot. */
export const plansNow = (book: Book, stimuli: readonly Stimulus[], known: Known): readonly PlanNow[] => {
  const plans = plansTold(
    book,
    stimuli.map(({ interlock }) => interlock),
    known,
  );
  return stimuli.flatMap(({ interlock: id, method }): PlanNow[] => {
    const interlock = book.interlocks[id];
    const plan = plans.find((one) => one.interlock === interlock?.name);
    if (interlock === undefined || plan === undefined) return [];
    const needed = segmentsNeeded(book, interlock);
    const seen = interlock.effects.filter(
      ({ signal, becomes }) => becomes.kind !== 'stays' && !substitutes(interlock, method, signal),
    );
    const horn = interlock.effects.some(({ signal }) => isHorn(book, signal));
    const shown = segmentsOf(
      method,
      seen.map((effect) => effect.class),
      horn,
    );
    return [
      {
        plan,
        proves: needed.filter((one) => shown.includes(one)),
        cannot: needed.filter((one) => !shown.includes(one)),
      },
    ];
  });
};
