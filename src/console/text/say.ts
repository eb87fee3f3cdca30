import type { Absence, Outcome, Phrase, Segment } from '../../measure/index.ts';
import { inForms, wordOf, sentence as words } from '../../words/index.ts';
import type { Messages, Topic } from './messages.ts';
import { numbers, speech } from './speech.ts';

/** A text of the page, with its `{holes}` filled, and its `{n|form of one|form of several}` chosen. */
export const say = <T extends Topic>(
  topic: T,
  key: keyof Messages[T] & string,
  params: Readonly<Record<string, string | number>> = {},
): string => {
  const template: string = speech().messages[topic][key];
  const formed = inForms(template, (name) => params[name], numbers());
  return formed.replace(/\{([a-z]+)\}/g, (hole, name: string) => String(params[name] ?? hole));
};

/** The sentence for a code of daemon, judge, planner or guide; `unit`: of the cause, where it carries none. */
export const sentence = (phrase: Phrase, unit = ''): string => words(phrase, speech().pack, unit);

/** Whether the language that is spoken has a sentence for it. */
export const hasSentence = (code: string): boolean => Object.hasOwn(speech().pack.texts, code);

export const outcomeText = (outcome: Outcome): string => speech().pack.terms.outcomes[outcome];
export const absenceText = (absence: Absence): string => speech().pack.terms.absences[absence];
export const segmentText = (segment: Segment): string => speech().pack.terms.segments[segment];
export const methodText = (method: string): string => wordOf(speech().pack.terms.methods, method);
