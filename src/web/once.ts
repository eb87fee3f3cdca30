import type { FastifyRequest } from 'fastify';

/** So many answers are remembered; the oldest are forgotten first. */
const MOST = 1_000;
/** A key is a random text of 36 letters; what is far longer is none. */
const LONGEST_KEY = 200;

/** Does what a request asks, or gives the answer of the same request from before. */
export type Once = <T>(request: FastifyRequest, work: () => T | Promise<T>) => T | Promise<T>;

/**
 * A request that names itself by the header `idempotency-key` (a draft of the IETF, httpapi working group) is done once,
 * however often it is sent: whoever lost the answer on the way may ask again. What was refused may be tried again. Only
 * this run of the daemon remembers. What one account was answered no other gets, and signing in is done each time.
 */
export const createOnce = (): Once => {
  const told = new Map<string, Promise<unknown>>();
  return <T>(request: FastifyRequest, work: () => T | Promise<T>) => {
    const key = request.headers['idempotency-key'];
    const isKey = typeof key === 'string' && key !== '' && key.length <= LONGEST_KEY;
    if (request.method !== 'POST' || !isKey || request.url.startsWith('/api/session')) return work();
    const name = `${request.signedIn?.account.id ?? ''} ${key} ${request.url}`;
    const known = told.get(name);
    // What was answered by hand (a refusal) left nothing to give again.
    if (known !== undefined) return known.then((value) => (value === undefined ? work() : (value as T)));
    const answer = Promise.resolve().then(work);
    told.set(name, answer);
    answer.catch(() => told.delete(name));
    for (const [oldest] of told) {
      if (told.size <= MOST) break;
      told.delete(oldest);
    }
    return answer;
  };
};
