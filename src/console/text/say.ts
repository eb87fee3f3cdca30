import type { Absence, Outcome, Reason, Segment } from '../../measure/index.ts';
import { wordOf, sentence as words } from '../../words/index.ts';
import type { Messages, Topic } from './messages.ts';
import { speech } from './speech.ts';

/** A text of the page, with its `{holes}` filled. */
export const say = <T extends Topic>(
  topic: T,
  key: keyof Messages[T] & string,
  params: Readonly<Record<string, string | number>> = {},
): string => {
  const template: string = speech().messages[topic][key];
  return template.replace(/\{([a-z]+)\}/g, (hole, name: string) => String(params[name] ?? hole));
};

/** The sentence for a code of judge, planner or guide; `unit`: of the cause, where the reason carries none. */
export const sentence = (reason: Reason, unit = ''): string => words(reason, speech().pack, unit);

export const outcomeText = (outcome: Outcome): string => speech().pack.terms.outcomes[outcome];
export const absenceText = (absence: Absence): string => speech().pack.terms.absences[absence];
export const segmentText = (segment: Segment): string => speech().pack.terms.segments[segment];
export const methodText = (method: string): string => wordOf(speech().pack.terms.methods, method);
