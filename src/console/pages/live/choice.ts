import type { BookNow, InterlockShown } from '../../../api/index.ts';
import { goTo, type Route } from '../../state/route.ts';

export const MOST_SIGNALS = 20;
export const SPANS = [10, 30, 60, 300, 600] as const;
const USUAL_SPAN = 60;

/** What the address of the page asks for. */
export interface LiveChoice {
  /** Interlock whose cause and effects are followed; '' where there is none. */
  readonly on: string;
  readonly signals: readonly string[];
  /** Seconds. */
  readonly span: number;
}

export const choiceIn = ({ query }: Route): LiveChoice => {
  const span = Number(query.get('span'));
  return {
    on: query.get('on') ?? '',
    signals: (query.get('signals') ?? '').split(',').filter((one) => one !== ''),
    span: SPANS.find((one) => one === span) ?? USUAL_SPAN,
  };
};

export const choose = ({ on, signals, span }: LiveChoice): void =>
  goTo(['live'], {
    ...(on !== '' && { on }),
    ...(signals.length > 0 && { signals: signals.join(',') }),
    ...(span !== USUAL_SPAN && { span: String(span) }),
  });

/** Cause first, then what it must bring about. */
export const signalsOf = ({ cause, effects }: InterlockShown): readonly string[] => [
  ...new Set([cause, ...effects.map(({ signal }) => signal)]),
];

/** Names that are there, each once, no more than fit. */
export const followedIn = (book: BookNow, { on, signals }: LiveChoice): readonly string[] => {
  const interlock = book.interlocks.find((one) => one.name === on);
  const wanted = new Set([...(interlock === undefined ? [] : signalsOf(interlock)), ...signals]);
  return book.signals
    .map(({ name }) => name)
    .filter((name) => wanted.has(name))
    .toSorted((a, b) => [...wanted].indexOf(a) - [...wanted].indexOf(b))
    .slice(0, MOST_SIGNALS);
};
