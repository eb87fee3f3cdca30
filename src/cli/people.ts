import type { AccountNow } from '../api/index.ts';
import { type EnteringOptions, enterIn, toldEntered } from './entering.ts';
import { hung } from './hung.ts';
import { EXIT, json, out } from './io.ts';
import { knownAs, newPasswordFrom, type WhoOptions } from './password.ts';
import { requestOf } from './request.ts';

export interface PeopleOptions extends EnteringOptions, WhoOptions {
  readonly name?: string;
  readonly role?: readonly string[];
  readonly newPasswordFrom?: string;
}

type Action = 'added' | 'roles-changed' | 'password-changed' | 'closed' | 'unlocked';

const TOLD: Readonly<Record<Action, string>> = {
  added: 'is added',
  'roles-changed': 'has other roles',
  'password-changed': 'has a new password',
  closed: 'is closed',
  unlocked: 'is unlocked',
};

const setsPassword = (action: Action): boolean => action === 'added' || action === 'password-changed';

/** One change of an account. */
export const changeCommand = async (
  action: Action,
  log: string,
  id: string,
  options: PeopleOptions,
): Promise<number> => {
  const who = options.as === undefined ? undefined : await knownAs(options.as, options);
  const password = setsPassword(action)
    ? await newPasswordFrom(options.newPasswordFrom, '--new-password-from')
    : undefined;
  const roles = action === 'added' || action === 'roles-changed' ? options.role : undefined;
  const { name } = options;
  const entered = await enterIn(
    log,
    requestOf({ do: 'person', action, id, who, name, roles, password }),
    options,
  );
  return toldEntered(entered, options, `the account "${id}" ${TOLD[action]}`);
};

const lineOf = ({ id, name, roles, standing }: AccountNow): string =>
  `${id.padEnd(16)} ${standing.padEnd(8)} ${name} (${roles.join(', ')})`;

/** The accounts of a log. */
export const listPeople = async (log: string, options: { readonly json: boolean }): Promise<number> => {
  const { lookAt } = await import('../daemon/index.ts');
  const people = lookAt(log, { ask: 'people' });
  if (options.json) json(people);
  else if (people.length === 0) out('There are no accounts yet; add an administrator first.');
  else for (const one of people) out(hung(lineOf(one), '', ' '.repeat(26)).join('\n'));
  return EXIT.ok;
};
