import { NOW } from './now.ts';
import { PROOFS } from './proofs.ts';
import { REGISTER } from './register.ts';
import { SHELL } from './shell.ts';

/** English: the other languages have exactly its keys. */
export const MESSAGES = { shell: SHELL, now: NOW, proofs: PROOFS, register: REGISTER } as const;
