/** Accounts as the log tells them: ids unique for ever (21 CFR 11.300), changed by administrators alone. */
import { describe, expect, test } from 'vitest';
import {
  type AccountChange,
  accountChange,
  accountsOf,
  bodySchemas,
  lockBody,
  type Place,
  signingFault,
} from '../../../src/record/index.ts';
import { type LogMaker, newMaker } from './window-log.ts';

const change = (log: LogMaker, asked: AccountChange, as?: string, place: Place = 'daemon') => {
  const accounts = accountsOf(log.entries);
  const found = accountChange(accounts, asked, as === undefined ? undefined : accounts.get(as), place);
  if ('refused' in found) return found.refused.code;
  expect(bodySchemas.person.safeParse(found.body).success).toBe(true);
  log.put('person', asked.id, found.body);
  return 'entered';
};
const staffed = (): LogMaker => {
  const log = newMaker();
  change(log, { action: 'added', id: 'root', name: 'Cleo Weir', roles: ['administrator'] });
  change(log, { action: 'added', id: 'ada', name: 'Ada Post', roles: ['tester'] }, 'root');
  return log;
};
const lock = (log: LogMaker, id: string): void => {
  const account = accountsOf(log.entries).get(id);
  if (account) log.put('person', id, lockBody(account, 5));
};

test('the first account is an administrator, made by whoever begins', () => {
  const log = newMaker();
  expect(change(log, { action: 'added', id: 'ada', name: 'Ada Post', roles: ['tester'] })).toBe(
    'person-first',
  );
  expect(change(log, { action: 'added', id: 'root', name: 'Cleo Weir', roles: ['administrator'] })).toBe(
    'entered',
  );
  expect(change(log, { action: 'added', id: 'ada', name: 'Ada Post', roles: ['tester'] })).toBe(
    'person-needs-administrator',
  );
});

describe('rules', () => {
  test.each([
    [{ action: 'added', id: 'eve', name: 'Eve', roles: ['tester'] }, 'ada', 'person-not-administrator'],
    [{ action: 'added', id: 'Eve', name: 'Eve', roles: ['tester'] }, 'root', 'person-id'],
    [{ action: 'added', id: 'eve', name: '  ', roles: ['tester'] }, 'root', 'person-name'],
    [{ action: 'added', id: 'eve', name: 'Eve', roles: [] }, 'root', 'person-roles'],
    [{ action: 'added', id: 'ada', name: 'Ada Again', roles: ['tester'] }, 'root', 'person-id-used'],
    [{ action: 'roles-changed', id: 'root', roles: ['tester'] }, 'root', 'person-last'],
    [{ action: 'closed', id: 'root' }, 'root', 'person-last'],
    [{ action: 'closed', id: 'eve' }, 'root', 'person-unknown'],
    [{ action: 'unlocked', id: 'ada' }, 'root', 'person-not-locked'],
    [{ action: 'password-changed', id: 'root' }, 'ada', 'person-not-administrator'],
    [{ action: 'password-changed', id: 'ada' }, 'ada', 'entered'],
    [{ action: 'password-changed', id: 'ada' }, 'root', 'entered'],
  ] as [AccountChange, string, string][])('%j by %s: %s', (asked, as, code) => {
    expect(change(staffed(), asked, as)).toBe(code);
  });

  test('an id stays used when its account is closed, and closed it stays', () => {
    const log = staffed();
    expect(change(log, { action: 'closed', id: 'ada' }, 'root')).toBe('entered');
    expect(change(log, { action: 'added', id: 'ada', name: 'Other', roles: ['tester'] }, 'root')).toBe(
      'person-id-used',
    );
    expect(change(log, { action: 'roles-changed', id: 'ada', roles: ['reviewer'] }, 'root')).toBe(
      'person-closed',
    );
    log.put('person', 'ada', { action: 'unlocked', id: 'ada', name: 'Ada Post', roles: [] });
    log.put('person', 'ada', { action: 'added', id: 'ada', name: 'Other', roles: ['administrator'] });
    expect(accountsOf(log.entries).get('ada')).toMatchObject({
      standing: 'closed',
      name: 'Ada Post',
      roles: ['tester'],
    });
  });

  test('locked: unlocked by an administrator; of the last one, at the log itself', () => {
    const log = staffed();
    lock(log, 'ada');
    expect(accountsOf(log.entries).get('ada')?.standing).toBe('locked');
    expect(change(log, { action: 'unlocked', id: 'ada' }, undefined, 'file')).toBe(
      'person-needs-administrator',
    );
    expect(change(log, { action: 'unlocked', id: 'ada' }, 'root')).toBe('entered');
    lock(log, 'root');
    expect(change(log, { action: 'unlocked', id: 'root' }, undefined, 'daemon')).toBe(
      'person-needs-administrator',
    );
    expect(change(log, { action: 'added', id: 'eve', name: 'Eve', roles: ['administrator'] })).toBe(
      'person-needs-administrator',
    );
    expect(change(log, { action: 'unlocked', id: 'root' }, undefined, 'file')).toBe('entered');
  });

  test('meanings take their roles', () => {
    const accounts = accountsOf(staffed().entries);
    const codes = (['performed', 'witnessed', 'reviewed'] as const).map(
      (meaning) => signingFault(accounts.get('ada')!, meaning)?.code,
    );
    expect(codes).toEqual([undefined, undefined, 'sign-role']);
  });
});
