import { signal } from '@preact/signals';
import { type Language, prefs } from '../state/prefs.ts';
import type { Messages } from './messages.ts';

/** Only the language that is shown is loaded. */
const LOADERS: Readonly<Record<Language, () => Promise<{ readonly MESSAGES: Messages }>>> = {
  en: () => import('../messages/en/index.ts'),
  de: () => import('../messages/de/index.ts'),
  es: () => import('../messages/es/index.ts'),
  fr: () => import('../messages/fr/index.ts'),
};

/** The texts in the language that is shown; set before the page begins. */
export const messages = signal<Messages | undefined>(undefined);

const load = async (language: Language): Promise<void> => {
  const { MESSAGES } = await LOADERS[language]();
  messages.value = MESSAGES;
  document.documentElement.lang = language;
};

export const readyText = (): Promise<void> => load(prefs.value.language);

/** Changes the language of the whole page at once. */
export const speak = async (language: Language): Promise<void> => {
  await load(language);
  prefs.value = { ...prefs.value, language };
};
