/** Accounts of a log, one of each role, and their sessions with a daemon. */
import { spawnSync } from 'node:child_process';
import type { SessionNow } from '../../src/api/index.ts';
import { type Answered, type Asking, asked } from './asking.ts';
import { MAIN, type Ran } from './rig.ts';

export const STAFF = {
  root: { name: 'Rona Root', role: 'administrator', password: 'root horse battery' },
  rene: { name: 'Rene Weir', role: 'reviewer', password: 'rene river stone!' },
  tess: { name: 'Tess Post', role: 'tester', password: 'tess correct staple' },
  vera: { name: 'Vera Mill', role: 'viewer', password: 'vera window glass' },
} as const;
export type StaffId = keyof typeof STAFF;
export const IDS = Object.keys(STAFF) as StaffId[];

const ENV = Object.fromEntries(IDS.map((id) => [`${id.toUpperCase()}_PASSWORD`, STAFF[id].password]));

/** A command with the passwords of all in its environment; there is no terminal. */
export const runAs = (env: Readonly<Record<string, string>>, ...args: string[]): Ran => {
  const ran = spawnSync(process.execPath, [MAIN, ...args], {
    encoding: 'utf8',
    env: { ...process.env, ...ENV, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  return { code: ran.status ?? -1, out: ran.stdout, err: ran.stderr };
};

export const as = (id: StaffId): string[] => ['--as', id, '--password-from', `${id.toUpperCase()}_PASSWORD`];

/** The first is the administrator. */
export const hire = (log: string): void => {
  for (const id of IDS) {
    const who = id === 'root' ? [] : as('root');
    const { name, role } = STAFF[id];
    const from = ['--new-password-from', `${id.toUpperCase()}_PASSWORD`];
    const ran = runAs({}, 'people', 'add', log, id, '--name', name, '--role', role, ...from, ...who);
    if (ran.code !== 0) throw new Error(ran.err);
  }
};

/** Somebody's session. */
export interface Signed {
  readonly session: SessionNow;
  readonly cookie: string;
  /** The whole `set-cookie`. */
  readonly set: string;
  ask(path: string, asking?: Asking): Promise<Answered>;
  headers(): Readonly<Record<string, string>>;
}

export const signedInAs = async (url: string, id: StaffId, ca?: string): Promise<Signed> => {
  const trust = ca === undefined ? {} : { ca };
  const body = { id, password: STAFF[id].password };
  const answer = await asked(`${url}/api/session`, { ...trust, method: 'POST', body });
  if (answer.status !== 201) throw new Error(`${id} could not sign in: ${answer.text}`);
  const [set = ''] = answer.headers['set-cookie'] ?? [];
  const [cookie = ''] = set.split(';');
  const session = answer.json<SessionNow>();
  const headers = () => ({ cookie, 'x-tripwitness-csrf': session.csrf });
  return {
    session,
    cookie,
    set,
    headers,
    ask: (path, asking = {}) =>
      asked(`${url}${path}`, { ...trust, ...asking, headers: { ...headers(), ...asking.headers } }),
  };
};
