import type { Outcome } from '../../measure/index.ts';
import { outcomeText } from '../text/say.ts';

const SHAPES: Readonly<Record<Outcome, string>> = {
  pass: '✔',
  fail: '✖',
  inconclusive: '?',
  'not-tested': '○',
};

/** A verdict by shape, word and border, and by colour last. */
export const Verdict = ({ outcome }: { readonly outcome: Outcome }) => (
  <span class={`mark ${outcome}`}>
    <i aria-hidden="true">{SHAPES[outcome]}</i>
    {outcomeText(outcome)}
  </span>
);

const STATES = {
  good: ['✔', 'pass'],
  bad: ['✖', 'fail'],
  warn: ['⚠', 'warn'],
  plain: ['○', 'plain'],
} as const;

/** Any other state: a shape, a word. */
export const Mark = ({ kind, text }: { readonly kind: keyof typeof STATES; readonly text: string }) => (
  <span class={`mark ${STATES[kind][1]}`}>
    <i aria-hidden="true">{STATES[kind][0]}</i>
    {text}
  </span>
);
