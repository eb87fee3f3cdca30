import { TEXTS } from './en/texts.ts';
import { TERMINAL } from './terminal/texts.ts';

/** Every sentence by code, in English: those that exist in all languages, and those of the command line. */
export const CATALOGUE: Readonly<Record<string, string>> = { ...TEXTS, ...TERMINAL };
