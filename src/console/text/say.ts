import type { Absence, Outcome, Reason, Segment } from '../../measure/index.ts';
import { TERMS, text, wordOf } from '../../words/index.ts';
import { messages } from './language.ts';
import type { Messages, Topic } from './messages.ts';

/** A text of the page, with its `{holes}` filled. */
export const say = <T extends Topic>(
  topic: T,
  key: keyof Messages[T] & string,
  params: Readonly<Record<string, string | number>> = {},
): string => {
  const template: string = messages.value?.[topic][key] ?? key;
  return template.replace(/\{([a-z]+)\}/g, (hole, name: string) => String(params[name] ?? hole));
};

/** The sentence for a code of judge, planner or guide; `unit`: of the cause, where the reason carries none. */
export const sentence = (reason: Reason, unit = ''): string => text(reason, { unit });

export const outcomeText = (outcome: Outcome): string => TERMS.outcomes[outcome];
export const absenceText = (absence: Absence): string => TERMS.absences[absence];
export const segmentText = (segment: Segment): string => TERMS.segments[segment];
export const methodText = (method: string): string => wordOf(TERMS.methods, method);
