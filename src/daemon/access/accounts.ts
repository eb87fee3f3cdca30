import { type Account, accountsOf, type Entry } from '../../record/index.ts';

/** The accounts of the log that the daemon writes, as they are now: asked for at each request, so they are held ready. */
export interface AccountsNow {
  get(id: string): Account | undefined;
  /** Accounts that can sign in. */
  open(): number;
  take(entry: Pick<Entry, 'kind' | 'seq' | 'body'>): void;
  /** Called after each change. */
  onChange(ear: () => void): void;
}

/** `entries`: those of kind `person` so far, in the order of the log. */
export const createAccounts = (entries: readonly Entry[]): AccountsNow => {
  const persons: Pick<Entry, 'kind' | 'seq' | 'body'>[] = [...entries];
  const ears: (() => void)[] = [];
  let accounts = accountsOf(persons);
  return {
    get: (id) => accounts.get(id),
    open: () => [...accounts.values()].filter(({ standing }) => standing === 'open').length,
    take(entry) {
      if (entry.kind !== 'person') return;
      persons.push(entry);
      accounts = accountsOf(persons);
      for (const ear of ears) ear();
    },
    onChange: (ear) => ears.push(ear),
  };
};
