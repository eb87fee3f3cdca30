import { NOW } from './now.ts';
import { SHELL } from './shell.ts';

/** English: the other languages have exactly its keys. */
export const MESSAGES = { shell: SHELL, now: NOW } as const;
