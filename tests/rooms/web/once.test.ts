/** The same request, sent again because its answer was lost, is done once. */
import type { FastifyRequest } from 'fastify';
import { expect, test } from 'vitest';
import { createOnce } from '../../../src/web/once.ts';

const asked = (
  key: string | undefined,
  url = '/api/windows/w/steps',
  method = 'POST',
  id?: string,
): FastifyRequest =>
  ({
    ...(id !== undefined && { signedIn: { secret: '', account: { id } } }),
    method,
    url,
    headers: key === undefined ? {} : { 'idempotency-key': key },
  }) as unknown as FastifyRequest;

test('a key is done once, for each address; without a key everything is done', async () => {
  const once = createOnce();
  let done = 0;
  const work = (): number => {
    done += 1;
    return done;
  };
  expect(await once(asked('a'), work)).toBe(1);
  expect(await once(asked('a'), work)).toBe(1);
  expect(await Promise.all([once(asked('b'), work), once(asked('b'), work)])).toEqual([2, 2]);
  expect(await once(asked('a', '/api/windows/v/steps'), work)).toBe(3);
  expect(await once(asked(undefined), work)).toBe(4);
  expect(await once(asked('a', '/api/windows/w/steps', 'GET'), work)).toBe(5);
});

test('another account gets nothing of it, and nobody signs in by a key', async () => {
  const once = createOnce();
  let done = 0;
  const work = (): number => {
    done += 1;
    return done;
  };
  const by = (id: string) => once(asked('a', '/api/entries', 'POST', id), work);
  expect([await by('ada'), await by('ben'), await by('ada')]).toEqual([1, 2, 1]);
  const signIn = () => once(asked('a', '/api/session'), work);
  expect([await signIn(), await signIn()]).toEqual([3, 4]);
  const long = () => once(asked('a'.repeat(201)), work);
  expect([await long(), await long()]).toEqual([5, 6]);
});

test('what was refused may be tried again', async () => {
  const once = createOnce();
  await expect(
    once(asked('a'), () => {
      throw new Error('not now');
    }),
  ).rejects.toThrow('not now');
  expect(await once(asked('a'), () => 'now')).toBe('now');
});

test('the oldest is forgotten first', async () => {
  const once = createOnce();
  let done = 0;
  const work = (): number => {
    done += 1;
    return done;
  };
  for (let key = 0; key < 1_001; key += 1) await once(asked(String(key)), work);
  expect(await once(asked('1000'), work)).toBe(1_001);
  expect(await once(asked('0'), work)).toBe(1_002);
});
