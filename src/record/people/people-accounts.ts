import type { Reason } from '../../measure/index.ts';
import type { Entry } from '../types.ts';
import { type AccountRole, type Meaning, personSchema } from './people-bodies.ts';

/** An account as the log tells it. Passwords stand elsewhere; what an account may do stands here alone. */
export interface Account {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly AccountRole[];
  readonly standing: 'open' | 'locked' | 'closed';
  /** Number of the entry that its password was set with. */
  readonly password: number;
}

export type Accounts = ReadonlyMap<string, Account>;

/** All accounts that there ever were, from the `person` entries of a log in their order. */
export const accountsOf = (entries: Iterable<Pick<Entry, 'kind' | 'seq' | 'body'>>): Accounts => {
  const accounts = new Map<string, Account>();
  for (const { kind, seq, body } of entries) {
    const read = kind === 'person' ? personSchema.safeParse(body) : undefined;
    if (!read?.success) continue;
    const { action, id, name, roles } = read.data;
    const before = accounts.get(id);
    if (action === 'added') {
      // An id is never given twice (21 CFR 11.300(a)): a second "added" changes nothing.
      if (before === undefined) accounts.set(id, { id, name, roles, standing: 'open', password: seq });
      continue;
    }
    if (before === undefined || before.standing === 'closed') continue;
    const standing = action === 'locked' || action === 'closed' ? action : before.standing;
    accounts.set(id, {
      ...before,
      roles: action === 'roles-changed' ? roles : before.roles,
      standing: action === 'unlocked' ? 'open' : standing,
      password: action === 'password-changed' ? seq : before.password,
    });
  }
  return accounts;
};

export type AccountAction = 'added' | 'roles-changed' | 'password-changed' | 'closed' | 'locked' | 'unlocked';

export interface AccountChange {
  readonly action: AccountAction;
  readonly id: string;
  readonly name?: string;
  readonly roles?: readonly AccountRole[];
}

const ID = /^[a-z0-9][a-z0-9._-]{1,59}$/;

const administrators = (accounts: Accounts, standings: readonly Account['standing'][]): readonly Account[] =>
  [...accounts.values()].filter(
    ({ roles, standing }) => roles.includes('administrator') && standings.includes(standing),
  );

const reason = (code: string, params: Reason['params'] = {}): Reason => ({ code, params });

const additionFault = (accounts: Accounts, { id, name, roles }: AccountChange): Reason | undefined => {
  if (!ID.test(id)) return reason('person-id', { id });
  if (accounts.has(id)) return reason('person-id-used', { id });
  if (name === undefined || name.trim() === '') return reason('person-name', { id });
  if (roles === undefined || roles.length === 0) return reason('person-roles', { id });
  const isFirst = administrators(accounts, ['open', 'locked']).length === 0;
  return isFirst && !roles.includes('administrator') ? reason('person-first', { id }) : undefined;
};

/** Nobody may leave the accounts without anybody who can change them. */
const isLast = (accounts: Accounts, { id }: Account): boolean =>
  administrators(accounts, ['open']).every((one) => one.id === id);

const changeFault = (accounts: Accounts, change: AccountChange, about: Account): Reason | undefined => {
  const { action, id, roles } = change;
  if (about.standing === 'closed') return reason('person-closed', { id });
  if (action === 'unlocked' && about.standing !== 'locked') return reason('person-not-locked', { id });
  const isAdministrator = about.roles.includes('administrator');
  if (action === 'closed' && isAdministrator && isLast(accounts, about)) return reason('person-last', { id });
  if (action !== 'roles-changed') return undefined;
  if (roles === undefined || roles.length === 0) return reason('person-roles', { id });
  const loses = isAdministrator && !roles.includes('administrator');
  return loses && isLast(accounts, about) ? reason('person-last', { id }) : undefined;
};

/** Open administrators: those whose passwords are needed to change accounts. */
export const openAdministrators = (accounts: Accounts): readonly Account[] =>
  administrators(accounts, ['open']);

/** Where a change is asked for: through the daemon, at the log's own file, or there with no administrator's password left. */
export type Place = 'daemon' | 'file' | 'file-without-passwords';

const isRecovery = (accounts: Accounts, { action, id }: AccountChange, place: Place): boolean =>
  place === 'file-without-passwords' &&
  action === 'password-changed' &&
  openAdministrators(accounts).some((one) => one.id === id);

/** Who acts; undefined: nobody has shown who he is. */
const rightFault = (
  accounts: Accounts,
  change: AccountChange,
  actor: Account | undefined,
  place: Place,
): Reason | undefined => {
  if (actor !== undefined) {
    const own = change.action === 'password-changed' && change.id === actor.id;
    return own || actor.roles.includes('administrator')
      ? undefined
      : reason('person-not-administrator', { id: actor.id });
  }
  const able = openAdministrators(accounts).length > 0;
  if (change.action === 'added' && administrators(accounts, ['open', 'locked']).length === 0)
    return undefined;
  // When the last administrator is locked out, whoever holds the log's own folder lets him in again; the entry says so.
  if (change.action === 'unlocked' && place !== 'daemon' && !able) return undefined;
  if (isRecovery(accounts, change, place)) return undefined;
  return reason('person-needs-administrator');
};

/**
 * The body of the entry for a change of accounts, or why it is refused. A password that nobody had to show anything for says
 * so: `recovered`.
 */
export const accountChange = (
  accounts: Accounts,
  change: AccountChange,
  actor: Account | undefined,
  place: Place,
): { readonly body: Entry['body'] } | { readonly refused: Reason } => {
  const { action, id } = change;
  const right = rightFault(accounts, change, actor, place);
  if (right !== undefined) return { refused: right };
  const about = accounts.get(id);
  if (action !== 'added' && about === undefined) return { refused: reason('person-unknown', { id }) };
  const fault =
    about === undefined || action === 'added'
      ? additionFault(accounts, change)
      : changeFault(accounts, change, about);
  if (fault !== undefined) return { refused: fault };
  const roles = [
    ...new Set(action === 'added' || action === 'roles-changed' ? change.roles : about?.roles),
  ].sort();
  const recovered = actor === undefined && isRecovery(accounts, change, place);
  const name = about?.name ?? change.name?.trim() ?? '';
  return { body: { action, id, name, roles, ...(recovered && { recovered }) } };
};

/** The entry of a lock after too many wrong passwords. */
export const lockBody = ({ id, name, roles }: Account, failures: number): Entry['body'] => ({
  action: 'locked',
  id,
  name,
  roles: [...roles],
  failures,
});

const ENTITLED: Readonly<Record<Meaning, AccountRole | undefined>> = {
  performed: 'tester',
  witnessed: undefined,
  reviewed: 'reviewer',
};

/** Why this account may not sign with that meaning; undefined where it may. */
export const signingFault = ({ id, roles }: Account, meaning: Meaning): Reason | undefined => {
  const role = ENTITLED[meaning];
  return role === undefined || roles.includes(role) ? undefined : reason('sign-role', { id, meaning, role });
};
