import type { Phrase } from '../measure/index.ts';
import type { Code, PhraseCode } from '../words/index.ts';

/** A sentence that every language has. */
export const sum = (code: Code, params: Phrase['params']): Phrase => ({ code, params });

/** A part of a sentence that every language has. */
export const part = (code: PhraseCode, params: Phrase['params'] = {}): Phrase => ({ code, params });
