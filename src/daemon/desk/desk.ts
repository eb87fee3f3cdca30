import type {
  AccountNow,
  EnteredNow,
  Entering,
  LogNow,
  RegisterItemNow,
  SigningNow,
} from '../../api/index.ts';
import type { Reason } from '../../measure/index.ts';
import {
  type Account,
  type Accounts,
  type ASSURANCES,
  accountChange,
  type Entry,
  lockBody,
  openAdministrators,
  type Place,
} from '../../record/index.ts';
import { MOST_FAILURES, type Passwords, passwordFault, preparePassword } from '../../store/index.ts';
import { decline } from '../decline.ts';
import type { Logbook } from '../logbook.ts';
import type { Actor, AnswerTo, Asked, Question } from './look.ts';

/** Where people's papers are taken: signatures, corrections, transcribed sheets, the register, scopes, accounts. */
export interface Desk {
  /**
   * Enters what is asked once it is on the disk. Rejects with `Declined` where a rule of the record is against it. `session`: the
   * account that is signed in; signatures and changes of accounts ask for a password all the same.
   */
  enter(request: Entering, session?: Account): Promise<EnteredNow>;
  /** The account of whoever shows its password. Rejects with `Declined`; after too many wrong ones it is locked. */
  prove(known: Known): Promise<Account>;
  log(): Promise<LogNow>;
  people(): Promise<readonly AccountNow[]>;
  register(): Promise<readonly RegisterItemNow[]>;
  /** Undefined: there is no such window. */
  signing(window: string): Promise<SigningNow | undefined>;
}

/** Who enters, and how sure that is. */
interface Sure extends Actor {
  readonly assurance: (typeof ASSURANCES)[number];
}

export interface DeskPorts {
  readonly logbook: Pick<Logbook, 'enter' | 'settled'>;
  look<Q extends Question>(question: Q): Promise<AnswerTo<Q>>;
  passwords(log: string): Passwords;
  /** UTC now. */
  utc(): string;
  /** Told of each entry once it is on the disk. */
  entered?(entry: Pick<Entry, 'kind' | 'seq' | 'body'>): void;
  /** Asked for at the log's own file, not through a daemon. */
  readonly atTheFile: boolean;
}

type Known = { readonly as: string; readonly password: string };

export const createDesk = (ports: DeskPorts): Desk => {
  const { logbook } = ports;
  let turn: Promise<unknown> = Promise.resolve();

  const put = async (
    kind: Entry['kind'],
    subject: string,
    actor: string,
    body: Entry['body'],
  ): Promise<EnteredNow> => {
    const entry = logbook.enter(kind, subject, actor, body);
    await logbook.settled();
    ports.entered?.({ kind, seq: entry, body });
    return { entry, kind, subject, actor, body };
  };

  const accountsNow = async (): Promise<Accounts> =>
    new Map((await ports.look({ ask: 'accounts' })).map((account) => [account.id, account]));
  const passwordsNow = async (): Promise<Passwords> =>
    ports.passwords((await ports.look({ ask: 'log' })).log);

  /** After the last wrong password the account is locked; the entry comes before the answer. */
  const failed = async (account: Account | undefined, failures: number): Promise<never> => {
    if (account === undefined || failures < MOST_FAILURES)
      return decline({ code: 'password-wrong', params: {} });
    await put('person', account.id, 'daemon', lockBody(account, failures));
    return decline({ code: 'password-locked', params: { id: account.id } });
  };

  /** The account of whoever shows its password. */
  const proved = async ({ as, password }: Known, accounts: Accounts): Promise<Account> => {
    const account = accounts.get(as);
    const params = { id: as };
    if (account?.standing === 'locked') return decline({ code: 'password-locked', params });
    const open = account?.standing === 'open' ? account : undefined;
    const checked = await (await passwordsNow()).check(as, password, open?.password);
    if (checked.outcome === 'wrong') return failed(open, checked.failures);
    if (checked.outcome === 'lost' || open === undefined) return decline({ code: 'password-lost', params });
    return open;
  };

  /** Whoever is signed in enters under no other name; for another's signature, that one shows his own password. */
  const otherFault = ({ do: what, who }: Entering, session: Account): Reason | undefined => {
    const code = 'session-other-name';
    if (who === undefined || what === 'sign' || what === 'person') return undefined;
    const isSame = 'by' in who ? who.by.trim() === session.name : who.as === session.id;
    return isSame
      ? undefined
      : { code, params: { name: session.name, other: 'by' in who ? who.by : who.as } };
  };

  const actorOf = async (request: Entering, session: Account | undefined): Promise<Sure> => {
    const { who } = request;
    const other = session && otherFault(request, session);
    if (other !== undefined) return decline(other);
    if (who !== undefined && 'as' in who) {
      const account = await proved(who, await accountsNow());
      return { name: account.name, account, assurance: 'password' };
    }
    if (session !== undefined) return { name: session.name, account: session, assurance: 'session' };
    if (who === undefined) return decline({ code: 'who-missing', params: {} });
    return { name: who.by, assurance: 'typed' };
  };

  const paper = async (
    request: Exclude<Entering, { do: 'person' }>,
    session: Account | undefined,
  ): Promise<EnteredNow> => {
    const { who: _, ...asked } = request;
    const { assurance, ...actor } = await actorOf(request, session);
    const decided = await ports.look({ ask: 'decide', asked: asked as Asked, actor, utc: ports.utc() });
    if ('refused' in decided) return decline(decided.refused);
    const { account } = actor;
    // A signature says so itself.
    const sure = { assurance, ...(account && { person: { id: account.id, name: account.name } }) };
    return put(decided.kind, decided.subject, actor.name, { ...sure, ...decided.body });
  };

  /** `people.json` may be gone with the disk that it lay on. */
  const placeOf = (accounts: Accounts, passwords: Passwords): Place => {
    if (!ports.atTheFile) return 'daemon';
    const known = openAdministrators(accounts).some(({ id, password }) => passwords.knows(id, password));
    return known ? 'file' : 'file-without-passwords';
  };

  const person = async (
    request: Entering & { do: 'person' },
    session: Account | undefined,
  ): Promise<EnteredNow> => {
    const { who, action, id, name, roles, password } = request;
    if (session !== undefined && who === undefined)
      return decline({ code: 'session-needs-password', params: { name: session.name } });
    const accounts = await accountsNow();
    const actor = who && (await proved(who, accounts));
    const change = { action, id, ...(name !== undefined && { name }), ...(roles !== undefined && { roles }) };
    const passwords = await passwordsNow();
    const changed = accountChange(accounts, change, actor, placeOf(accounts, passwords));
    if ('refused' in changed) return decline(changed.refused);
    const { body } = changed;
    const setsPassword = action === 'added' || action === 'password-changed';
    const fault = setsPassword ? passwordFault(password ?? '', id, String(body['name'])) : undefined;
    if (fault !== undefined) return decline(fault);
    const prepared = setsPassword ? await preparePassword(password ?? '') : undefined;
    // The entry first: a crash before the file is written leaves an account without a password, which nobody can use,
    // never one that the log does not know of.
    const entered = await put('person', id, actor?.name ?? String(body['name']), body);
    if (prepared !== undefined) passwords.put(id, prepared, entered.entry);
    if (action === 'unlocked') passwords.forgive(id);
    return entered;
  };

  /** One after the other: what one decides by must still be so when its entry is written. */
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const mine = turn.then(async () => {
      await logbook.settled();
      return work();
    });
    turn = mine.catch(() => undefined);
    return mine;
  };

  return {
    enter: (request, session) =>
      inTurn(() => (request.do === 'person' ? person(request, session) : paper(request, session))),
    prove: (known) => inTurn(async () => proved(known, await accountsNow())),
    log: () => ports.look({ ask: 'log' }),
    people: () => ports.look({ ask: 'people' }),
    register: () => ports.look({ ask: 'register', utc: ports.utc() }),
    signing: (window) => ports.look({ ask: 'signing', window }),
  };
};
