import type { AccountNow, EnteredNow, Entering, LogNow, RegisterItemNow, SigningNow } from './entering.ts';
import type { MarkRequest, OpenWindow } from './schemas.ts';
import type { Now, Opened, Trouble, WindowNow } from './types.ts';

/** The part of `fetch` that the client needs; it comes in from outside. */
export type Send = (
  url: string,
  init?: { method?: string; headers?: Record<string, string>; body?: string },
) => Promise<{ readonly ok: boolean; readonly status: number; text(): Promise<string> }>;

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
  now(): Promise<Now>;
  open(request: OpenWindow): Promise<Opened>;
  show(window: string, from?: number): Promise<WindowNow>;
  mark(window: string, mark: MarkRequest): Promise<{ readonly entry: number }>;
  close(window: string, by: string): Promise<WindowNow>;
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
  const ask = async <T>(path: string, body?: unknown): Promise<T> => {
    const init =
      body === undefined
        ? undefined
        : { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
    const answer = await send(`${base}${path}`, init);
    const text = await answer.text();
    if (!answer.ok) throw new Refused(troubleOf(text, answer.status), answer.status);
    return JSON.parse(text) as T;
  };
  const at = (window: string): string => `/api/windows/${encodeURIComponent(window)}`;
  return {
    now: () => ask('/api/now'),
    open: (request) => ask('/api/windows', request),
    show: (window, from = 0) => ask(`${at(window)}?from=${from}`),
    mark: (window, mark) => ask(`${at(window)}/marks`, mark),
    close: (window, by) => ask(`${at(window)}/close`, { by }),
    log: () => ask('/api/log'),
    enter: (request) => ask('/api/entries', request),
    people: () => ask('/api/people'),
    register: () => ask('/api/register'),
    signing: (window) => ask(`${at(window)}/signing`),
  };
};
