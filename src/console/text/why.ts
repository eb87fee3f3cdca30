import type { Trouble } from '../../api/index.ts';
import { NoAnswer, NotDone } from '../state/api.ts';
import { hasSentence, say, sentence } from './say.ts';

/** What the daemon has against it, in the language that is spoken; a code from a newer daemon in that one's own words. */
export const troubleText = ({ code, message, params = {} }: Trouble): string =>
  hasSentence(code) ? sentence({ code, params }) : message;

/** Why something was not done. */
export const whyText = (error: unknown): string => {
  if (error instanceof NoAnswer) return say('shell', 'no-answer');
  if (error instanceof NotDone && error.trouble !== undefined) return troubleText(error.trouble);
  return (error as Error).message;
};
