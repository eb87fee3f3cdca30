import type { Messages } from '../../text/messages.ts';
import { BEGIN } from './begin.ts';
import { CLOSING } from './closing.ts';
import { LIVE } from './live.ts';
import { NOW } from './now.ts';
import { PLOT } from './plot.ts';
import { PROOFS } from './proofs.ts';
import { RECORDS } from './records.ts';
import { REGISTER } from './register.ts';
import { SHELL } from './shell.ts';
import { WALK } from './walk.ts';

export const MESSAGES: Messages = {
  shell: SHELL,
  now: NOW,
  proofs: PROOFS,
  register: REGISTER,
  live: LIVE,
  plot: PLOT,
  records: RECORDS,
  begin: BEGIN,
  closing: CLOSING,
  walk: WALK,
};
