import type { Send } from '../../api/index.ts';
import { session } from './session.ts';

/** Every request carries the session's token, so that no other page can make one in its name. */
const send: Send = (url, init) => {
  const csrf = session.value?.csrf ?? '';
  const headers = { ...init?.headers, ...(csrf !== '' && { 'x-tripwitness-csrf': csrf }) };
  return fetch(url, { ...init, headers, credentials: 'same-origin' });
};

/** Reads an answer of the API. Throws with the daemon's own words. */
export const ask = async <T>(path: string, init?: Parameters<Send>[1]): Promise<T> => {
  const answer = await send(path, init);
  const body = await answer.text();
  if (answer.ok) return JSON.parse(body) as T;
  let why = `HTTP ${answer.status}`;
  try {
    why = (JSON.parse(body) as { message: string }).message;
  } catch {
    // What stands between the daemon and us answered.
  }
  throw new Error(why);
};

export const tell = <T>(path: string, body: unknown, method = 'POST'): Promise<T> =>
  ask<T>(path, { method, headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
