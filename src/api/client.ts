import type { GuideState } from '../guide/index.ts';
import type { PlanNow, SessionNow } from './console-types.ts';
import type { AccountNow, EnteredNow, Entering, LogNow, RegisterItemNow, SigningNow } from './entering.ts';
import type { AnswerOf, RouteName, Sent } from './routes.ts';
import type { MarkRequest, OpenWindow } from './schemas.ts';
import type { StepRequest } from './steps.ts';
import type { Now, Opened, Trouble, WindowNow } from './types.ts';

/** The part of `fetch` that the client needs; it comes in from outside. */
export type Send = (
  url: string,
  init?: { method?: string; headers?: Record<string, string>; body?: string },
) => Promise<{
  readonly ok: boolean;
  readonly status: number;
  /** A browser keeps cookies itself and shows none of them. */
  readonly headers?: { get(name: string): string | null };
  text(): Promise<string>;
}>;

/** The daemon answered that it cannot. */
export class Refused extends Error {
  readonly code: string;
  readonly status: number;

  constructor(trouble: Trouble, status: number) {
    super(trouble.message);
    this.name = 'Refused';
    this.code = trouble.code;
    this.status = status;
  }
}

export interface Client {
  /** Who is signed in, and whether that is asked for. */
  session(): Promise<SessionNow>;
  /** From now on every call is made in this session. */
  signIn(id: string, password: string): Promise<SessionNow>;
  signOut(): Promise<void>;
  now(): Promise<Now>;
  open(request: OpenWindow): Promise<Opened>;
  show(window: string, from?: number): Promise<WindowNow>;
  mark(window: string, mark: MarkRequest): Promise<{ readonly entry: number }>;
  close(window: string, by?: string): Promise<WindowNow>;
  /** Where a guided window stands. */
  guide(window: string): Promise<GuideState>;
  step(window: string, step: StepRequest): Promise<GuideState>;
  /** How to test these interlocks by these methods, and what that can prove. */
  plan(stimuli: OpenWindow['stimuli']): Promise<readonly PlanNow[]>;
  /** Which log it writes. */
  log(): Promise<LogNow>;
  /** What people enter beside a window's marks: signatures, corrections, register, accounts. */
  enter(request: Entering): Promise<EnteredNow>;
  people(): Promise<readonly AccountNow[]>;
  register(): Promise<readonly RegisterItemNow[]>;
  /** Signatures of a window, and what its site demands. */
  signing(window: string): Promise<SigningNow>;
}

const troubleOf = (text: string, status: number): Trouble => {
  try {
    const value = JSON.parse(text) as Partial<Trouble>;
    if (typeof value.code === 'string' && typeof value.message === 'string') return value as Trouble;
  } catch {
    // Not ours: something else answers on that port.
  }
  return { code: 'not-a-daemon', message: `the answer (HTTP ${status}) is not one of a tripwitness daemon` };
};

/** Typed calls to a running daemon at `base`, e.g. `http://127.0.0.1:8470`. Throws `Refused` for what it refuses. */
export const createClient = (base: string, send: Send): Client => {
  let cookie: string | undefined;
  let csrf = '';
  /** `POST /api/windows/:id/close` as it stands in the table of routes; `:id` is filled in. */
  const ask = async <Name extends RouteName>(
    name: Name,
    { id = '', query = '', body }: { id?: string; query?: string; body?: Sent<Name> } = {},
  ): Promise<AnswerOf<Name>> => {
    const [method = '', path = ''] = name.split(' ');
    const headers = {
      ...(body !== undefined && { 'content-type': 'application/json' }),
      ...(cookie !== undefined && { cookie }),
      ...(method !== 'GET' && csrf !== '' && { 'x-tripwitness-csrf': csrf }),
    };
    const sent = body === undefined ? {} : { body: JSON.stringify(body) };
    const answer = await send(`${base}${path.replace(':id', encodeURIComponent(id))}${query}`, {
      method,
      headers,
      ...sent,
    });
    const text = await answer.text();
    if (!answer.ok) throw new Refused(troubleOf(text, answer.status), answer.status);
    const set = answer.headers?.get('set-cookie');
    if (typeof set === 'string') cookie = set.split(';')[0];
    return JSON.parse(text) as AnswerOf<Name>;
  };
  const taken = (session: SessionNow): SessionNow => {
    csrf = session.csrf;
    return session;
  };
  return {
    session: async () => taken(await ask('GET /api/session')),
    signIn: async (id, password) => taken(await ask('POST /api/session', { body: { id, password } })),
    async signOut() {
      taken(await ask('DELETE /api/session'));
    },
    now: () => ask('GET /api/now'),
    open: (request) => ask('POST /api/windows', { body: request }),
    show: (window, from = 0) => ask('GET /api/windows/:id', { id: window, query: `?from=${from}` }),
    mark: (window, mark) => ask('POST /api/windows/:id/marks', { id: window, body: mark }),
    close: (window, by) =>
      ask('POST /api/windows/:id/close', { id: window, body: by === undefined ? {} : { by } }),
    log: () => ask('GET /api/log'),
    enter: (request) => ask('POST /api/entries', { body: request }),
    people: () => ask('GET /api/people'),
    register: () => ask('GET /api/register'),
    signing: (window) => ask('GET /api/windows/:id/signing', { id: window }),
    guide: (window) => ask('GET /api/windows/:id/guide', { id: window }),
    step: (window, step) => ask('POST /api/windows/:id/steps', { id: window, body: step }),
    plan: (stimuli) => {
      const list = (of: readonly string[]): string => of.map(encodeURIComponent).join(',');
      const interlocks = list(stimuli.map(({ interlock }) => interlock));
      const methods = list(stimuli.map(({ method }) => method));
      return ask('GET /api/plan', { query: `?interlocks=${interlocks}&methods=${methods}` });
    },
  };
};
