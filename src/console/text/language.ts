import type { Language } from '../../words/index.ts';
import { prefs } from '../state/prefs.ts';
import { type Spoken, spoken } from './speech.ts';

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
