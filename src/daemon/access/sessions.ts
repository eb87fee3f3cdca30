import { randomBytes } from 'node:crypto';
import { Declined } from '../../api/index.ts';
import { type Instant, SECOND } from '../../measure/index.ts';
import { type Account, utf8 } from '../../record/index.ts';
import { type KeptSession, type KeptSessions, sha256 } from '../../store/index.ts';
import type { Desk } from '../desk/desk.ts';
import type { Logbook } from '../logbook.ts';
import type { AccountsNow } from './accounts.ts';
import { createBounded } from './bounded.ts';

/** Without a request for so long, and after so long in any case, whoever is signed in signs in again. Common practice, no source. */
const IDLE = 12 * 3_600 * SECOND;
const LONGEST = 24 * 3_600 * SECOND;
/** The file need not know each use to the second. */
const USE_TOLD = 60 * SECOND;
/** Of one account; the oldest ends. */
const MOST = 20;
/** 256 bits. */
const SECRET_BYTES = 32;

/** Those who are signed in. A session is named by the secret that its browser holds; only the hash of that is kept. */
export interface Sessions {
  /** Rejects with `Declined` where id or password is not right, or the account is locked. `from`: network address. */
  signIn(id: string, password: string, from: string): Promise<string>;
  /** Whose session it is, and that it is used now; undefined: there is none. */
  account(secret: string): Account | undefined;
  /** Resolves once the entry is on the disk. */
  signOut(secret: string, from: string): Promise<void>;
  /** Calls `ear` when the session ends, for whatever reason; returns how to stop listening. */
  onEnd(secret: string, ear: () => void): () => void;
  /** Ends what is over by time. */
  look(): void;
  stop(): void;
}

export interface SessionPorts {
  readonly desk: Pick<Desk, 'prove'>;
  readonly accounts: AccountsNow;
  readonly logbook: Pick<Logbook, 'enter' | 'settled'>;
  readonly kept: KeptSessions;
  now(): Instant;
}

const hashOf = (secret: string): string => sha256(utf8(secret));

const rolesOf = ({ roles }: { readonly roles: readonly string[] }): string => [...roles].sort().join();

export const createSessions = ({ desk, accounts, logbook, kept, now }: SessionPorts): Sessions => {
  const sessions = new Map<string, KeptSession>();
  const ears = new Map<string, Set<() => void>>();
  const failures = createBounded();
  let written = 0;

  const write = (): void => {
    written = now();
    kept.write([...sessions.values()]);
  };

  /** The account is open, and what it was when this session began: anything else ends it. */
  const accountOf = ({ id, password, roles, began, used }: KeptSession): Account | undefined => {
    const account = accounts.get(id);
    const at = now();
    const isOver = at - used > IDLE || at - began > LONGEST;
    const isSame =
      account?.standing === 'open' &&
      account.password === password &&
      rolesOf(account) === rolesOf({ roles });
    return isSame && !isOver ? account : undefined;
  };

  const end = (hash: string): void => {
    if (!sessions.delete(hash)) return;
    for (const ear of ears.get(hash) ?? []) ear();
    ears.delete(hash);
  };

  const look = (): void => {
    const over = [...sessions.values()].filter((one) => accountOf(one) === undefined);
    for (const { hash } of over) end(hash);
    if (over.length > 0) write();
  };

  for (const one of kept.read()) sessions.set(one.hash, one);
  look();
  accounts.onChange(look);

  const failed = (id: string, from: string): void => {
    const account = accounts.get(id);
    const more = failures.admit(now());
    if (more === undefined) return;
    // An id that nobody has may be a password that slipped into the wrong field.
    const who = { id: account?.id ?? '', name: account?.name ?? '' };
    logbook.enter('session', who.id, 'daemon', {
      action: 'failed',
      ...who,
      from,
      ...(more > 0 && { more }),
    });
  };

  return {
    async signIn(id, password, from) {
      const account = await desk.prove({ as: id, password }).catch((error: unknown) => {
        if (error instanceof Declined) failed(id, from);
        throw error;
      });
      const { name, roles, password: set } = account;
      logbook.enter('session', account.id, name, { action: 'signed-in', id: account.id, name, from });
      await logbook.settled();
      const secret = randomBytes(SECRET_BYTES).toString('base64url');
      const hash = hashOf(secret);
      const at = now();
      sessions.set(hash, { hash, id: account.id, password: set, roles: [...roles], began: at, used: at });
      const own = [...sessions.values()].filter((one) => one.id === account.id);
      for (const one of own.slice(0, -MOST)) end(one.hash);
      write();
      return secret;
    },
    account(secret) {
      const hash = hashOf(secret);
      const found = sessions.get(hash);
      const account = found && accountOf(found);
      if (found === undefined || account === undefined) return undefined;
      const at = now();
      sessions.set(hash, { ...found, used: at });
      if (at - written > USE_TOLD) write();
      return account;
    },
    async signOut(secret, from) {
      const hash = hashOf(secret);
      const found = sessions.get(hash);
      const account = found && accountOf(found);
      end(hash);
      write();
      if (account === undefined) return;
      const { id, name } = account;
      logbook.enter('session', id, name, { action: 'signed-out', id, name, from });
      await logbook.settled();
    },
    onEnd(secret, ear) {
      const hash = hashOf(secret);
      const own = ears.get(hash) ?? new Set();
      ears.set(hash, own.add(ear));
      return () => own.delete(ear);
    },
    look,
    stop() {
      const more = failures.left();
      if (more > 0) logbook.enter('session', '', 'daemon', { action: 'failed', id: '', name: '', more });
      if (sessions.size > 0) write();
    },
  };
};
