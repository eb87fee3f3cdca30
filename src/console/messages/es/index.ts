import type { Messages } from '../../text/messages.ts';
import { NOW } from './now.ts';
import { SHELL } from './shell.ts';

export const MESSAGES: Messages = { shell: SHELL, now: NOW };
