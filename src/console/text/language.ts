import { signal } from '@preact/signals';
import type { Language, LanguagePack, NumberWords } from '../../words/index.ts';
import { prefs } from '../state/prefs.ts';
import type { Messages } from './messages.ts';

/** The texts of the page, and the sentences for codes with the words and numbers in them. */
interface Spoken {
  readonly messages: Messages;
  readonly pack: LanguagePack;
}

/** Only the language that is shown is loaded. */
const LOADERS: Readonly<Record<Language, () => Promise<Spoken>>> = {
  async en() {
    const [{ MESSAGES }, { EN }] = await Promise.all([
      import('../messages/en/index.ts'),
      import('../../words/en/index.ts'),
    ]);
    return { messages: MESSAGES, pack: EN };
  },
  async de() {
    const [{ MESSAGES }, { DE }] = await Promise.all([
      import('../messages/de/index.ts'),
      import('../../words/de/index.ts'),
    ]);
    return { messages: MESSAGES, pack: DE };
  },
  async es() {
    const [{ MESSAGES }, { ES }] = await Promise.all([
      import('../messages/es/index.ts'),
      import('../../words/es/index.ts'),
    ]);
    return { messages: MESSAGES, pack: ES };
  },
  async fr() {
    const [{ MESSAGES }, { FR }] = await Promise.all([
      import('../messages/fr/index.ts'),
      import('../../words/fr/index.ts'),
    ]);
    return { messages: MESSAGES, pack: FR };
  },
};

const spoken = signal<Spoken | undefined>(undefined);

/** What is spoken now; it is set before the page begins. */
export const speech = (): Spoken => {
  const now = spoken.value;
  if (now === undefined) throw new Error('the page began before its language was there');
  return now;
};

/** How numbers are written in the language that is spoken. */
export const numbers = (): NumberWords => speech().pack.numbers;

const load = async (language: Language): Promise<void> => {
  spoken.value = await LOADERS[language]();
  document.documentElement.lang = language;
};

export const readyText = (): Promise<void> => load(prefs.value.language);

/** Changes the language of the whole page at once. */
export const speak = async (language: Language): Promise<void> => {
  await load(language);
  prefs.value = { ...prefs.value, language };
};
