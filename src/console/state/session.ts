import { signal } from '@preact/signals';
import type { SessionNow } from '../../api/index.ts';

/** Who is signed in; undefined until the daemon has said so. */
export const session = signal<SessionNow | undefined>(undefined);

export type Role = 'viewer' | 'tester' | 'reviewer' | 'administrator';

/** Whether whoever sits here may do what needs this role. The daemon decides for itself; this only spares a refusal. */
export const may = (role: Role): boolean => {
  const now = session.value;
  if (now === undefined) return false;
  return now.access === 'open' || (now.account?.may.includes(role) ?? false);
};

/** Nothing is shown before somebody signs in. */
export const isClosed = (): boolean =>
  session.value?.access === 'accounts' && session.value.account === undefined;
