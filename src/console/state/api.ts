import type { Trouble } from '../../api/index.ts';
import { session } from './session.ts';

/** Nobody answered: it is not known whether the request arrived. */
export class NoAnswer extends Error {
  override readonly name = 'NoAnswer';
}

/** The daemon said no; `trouble`: why, as a code, where it said so. */
export class NotDone extends Error {
  override readonly name = 'NotDone';
  readonly trouble: Trouble | undefined;

  constructor(message: string, trouble?: Trouble) {
    super(message);
    this.trouble = trouble;
  }
}

/** So long an answer may take, milliseconds. */
const PATIENCE = 10_000;
/** What stands between the daemon and us found no daemon. */
const BETWEEN = [502, 503, 504];

/** Where the daemon tells of a window. */
export const windowPath = (window: string): string => `/api/windows/${encodeURIComponent(window)}`;

/** Every request carries the session's token, so that no other page can make one in its name. */
const send = async (
  path: string,
  init: RequestInit,
): Promise<{ ok: boolean; status: number; body: string }> => {
  const headers = new Headers(init.headers);
  const csrf = session.value?.csrf ?? '';
  if (csrf !== '') headers.set('x-tripwitness-csrf', csrf);
  try {
    const signal = AbortSignal.timeout(PATIENCE);
    const answer = await fetch(path, { signal, ...init, headers, credentials: 'same-origin' });
    return { ok: answer.ok, status: answer.status, body: await answer.text() };
  } catch (error) {
    throw new NoAnswer((error as Error).message, { cause: error });
  }
};

const troubleIn = (body: string): Trouble | undefined => {
  try {
    const told = JSON.parse(body) as Partial<Trouble>;
    return typeof told.code === 'string' && typeof told.message === 'string' ? (told as Trouble) : undefined;
  } catch {
    // What stands between the daemon and us answered.
    return undefined;
  }
};

/** Reads an answer of the API. Throws `NotDone` where the daemon says no, `NoAnswer` where there was none. */
export const ask = async <T>(path: string, init: RequestInit = {}): Promise<T> => {
  const { ok, status, body } = await send(path, init);
  if (ok) return JSON.parse(body) as T;
  if (BETWEEN.includes(status)) throw new NoAnswer(`HTTP ${status}`);
  const trouble = troubleIn(body);
  throw new NotDone(trouble?.message ?? `HTTP ${status}`, trouble);
};

/** `key`: the same for each attempt at the same thing, which is then done once only. */
export const tell = <T>(path: string, body: unknown, method = 'POST', key = ''): Promise<T> =>
  ask<T>(path, {
    method,
    headers: { 'content-type': 'application/json', ...(key !== '' && { 'idempotency-key': key }) },
    body: JSON.stringify(body),
  });
