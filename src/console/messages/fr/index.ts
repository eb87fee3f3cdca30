import type { Messages } from '../../text/messages.ts';
import { NOW } from './now.ts';
import { PROOFS } from './proofs.ts';
import { REGISTER } from './register.ts';
import { SHELL } from './shell.ts';

export const MESSAGES: Messages = { shell: SHELL, now: NOW, proofs: PROOFS, register: REGISTER };
