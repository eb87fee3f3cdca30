import type { Aspect, EffectSeen } from '../../judge/index.ts';
import type { Outcome } from '../../measure/index.ts';
import type { Book, Effect, Machine } from '../../rulebook/index.ts';
import { formatBand, formatInterval, formatSeconds, text } from '../../words/index.ts';
import { levelText } from '../cause-text.ts';
import type { Subject } from '../facts.ts';
import { referencesOf } from '../levels.ts';

/** One effect of an interlock: what is asked of it, what was seen of it, and what was judged. */
export interface EffectTold {
  readonly effect: Effect;
  /** Absent where the window says nothing of it. */
  readonly seen?: EffectSeen;
  readonly outcome: Outcome;
  readonly response: string;
  readonly required: string;
  readonly words: string;
}

/** When it must come, counted from the cause at its set point: `≤ 1.5 s`, `0.5 … 1.5 s`. */
export const requiredText = ({ within, notBefore }: Effect): string =>
  notBefore > 0
    ? formatBand({ low: notBefore / 1e6, high: within / 1e6 }, 's')
    : `≤ ${formatSeconds(within / 1e6)}`;

/** What it must become: `stop`, `stays running`, `below 1 rpm`. `machine`: the one whose levels it is told in. */
export const becomesText = (book: Book, machine: Machine | undefined, effect: Effect): string => {
  const { becomes, signal } = effect;
  const def = book.signals[signal];
  if (becomes.kind === 'level') {
    const level = levelText(book, becomes.level, def?.unit ?? '', referencesOf(machine, signal));
    return `${becomes.side} ${level}`;
  }
  const state = def?.states[becomes.state] ?? `state ${becomes.state}`;
  return becomes.kind === 'stays' ? `stays ${state}` : state;
};

/** The effects of an interlock in its own order. */
export const effectsTold = (subject: Subject): readonly EffectTold[] => {
  const { aspects, effects } = subject.report.verdict;
  return subject.interlock.effects.map((effect) => {
    const seen = effects.find((one) => one.name === effect.name);
    const aspect = aspects.find((one) => one.name === `effect:${effect.name}`);
    return {
      effect,
      ...(seen && { seen }),
      outcome: aspect?.outcome ?? 'not-tested',
      response: seen?.response ? formatInterval(seen.response, 's') : '–',
      required: requiredText(effect),
      words: aspect ? text(aspect.reason, { unit: subject.unit }) : 'Not judged.',
    };
  });
};

/** One thing judged beside the effects. */
export interface AspectTold {
  readonly name: string;
  readonly outcome: Outcome;
  readonly words: string;
}

const nameOf = (name: string): string => {
  const at = name.indexOf(':');
  const what = (at < 0 ? name : name.slice(0, at)).replaceAll('-', ' ');
  return at < 0 ? what : `${what} ${name.slice(at + 1)}`;
};

/** What was judged beside what the effects tell. */
export const aspectsTold = (aspects: readonly Aspect[], unit: string): readonly AspectTold[] =>
  aspects
    .filter(({ name }) => !name.startsWith('effect:'))
    .map(({ name, outcome, reason }) => ({ name: nameOf(name), outcome, words: text(reason, { unit }) }));
