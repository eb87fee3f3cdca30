import { signal } from '@preact/signals';
import type { LanguagePack, NumberWords } from '../../words/index.ts';
import type { Messages } from './messages.ts';

/** The texts of the page, and the sentences for codes with the words and numbers in them. */
export interface Spoken {
  readonly messages: Messages;
  readonly pack: LanguagePack;
}

/** Set before the page begins, and at each change of its language. */
export const spoken = signal<Spoken | undefined>(undefined);

/** What is spoken now. */
export const speech = (): Spoken => {
  const now = spoken.value;
  if (now === undefined) throw new Error('the page began before its language was there');
  return now;
};

/** How numbers are written in the language that is spoken. */
export const numbers = (): NumberWords => speech().pack.numbers;
