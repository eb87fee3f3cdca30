import type { AccountRole } from '../record/index.ts';
import type { Entering } from './entering.ts';

/** From the least to the most: whoever has one may do what those before it may. Signatures ask for the very role. */
const RANKS: readonly AccountRole[] = ['viewer', 'tester', 'reviewer', 'administrator'];

/** What these roles include, from the least on. */
export const included = (roles: readonly AccountRole[]): readonly AccountRole[] =>
  RANKS.filter((role) => isEntitled(roles, role));

/** Whether one of `roles` is `least` or more. */
export const isEntitled = (roles: readonly AccountRole[], least: AccountRole): boolean =>
  roles.some((role) => RANKS.indexOf(role) >= RANKS.indexOf(least));

/**
 * Who may enter which paper. A signature is open to all: it takes a password of its own, and what a meaning demands
 * stands with the rules of the record. So does a password, which everybody may change for himself.
 */
const ENTERING: Readonly<Record<Entering['do'], AccountRole>> = {
  sign: 'viewer',
  amend: 'tester',
  comment: 'tester',
  transcribe: 'tester',
  'register-open': 'reviewer',
  'register-step': 'reviewer',
  scope: 'reviewer',
  person: 'administrator',
};

const TESTERS_ITEM = 'punch';

/** Least role for one request; `id`: the account that asks. */
export const roleToEnter = (request: Entering, id: string): AccountRole => {
  switch (request.do) {
    case 'register-open':
      return request.item === TESTERS_ITEM ? 'tester' : ENTERING[request.do];
    case 'register-step':
      return request.action === 'noted' ? 'tester' : ENTERING[request.do];
    case 'person':
      return request.action === 'password-changed' && request.id === id ? 'viewer' : ENTERING[request.do];
    default:
      return ENTERING[request.do];
  }
};
