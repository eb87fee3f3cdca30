import { expect, test } from 'vitest';
import { createClient, markSchema, openWindowSchema, Refused } from '../../../src/api/index.ts';

const answering = (status: number, body: string) => {
  const asked: { url: string; method: string; body: string | undefined }[] = [];
  const client = createClient('http://127.0.0.1:1', async (url, init) => {
    asked.push({ url, method: init?.method ?? 'GET', body: init?.body });
    return { ok: status < 400, status, text: async () => body };
  });
  return { asked, client };
};

test('asks with the path, the method and the body that the daemon expects', async () => {
  const { asked, client } = answering(201, '{"window":"w1"}');
  await client.open({ stimuli: [{ interlock: 'E1.x', method: 'real' }] });
  await client.show('a/b', 7);
  await client.close('w1', 'one');
  expect(asked).toEqual([
    {
      url: 'http://127.0.0.1:1/api/windows',
      method: 'POST',
      body: '{"stimuli":[{"interlock":"E1.x","method":"real"}]}',
    },
    { url: 'http://127.0.0.1:1/api/windows/a%2Fb?from=7', method: 'GET', body: undefined },
    { url: 'http://127.0.0.1:1/api/windows/w1/close', method: 'POST', body: '{"by":"one"}' },
  ]);
});

test('a refusal keeps its code and its words', async () => {
  const { client } = answering(409, '{"code":"not-now","message":"window w1 is open; close it first"}');
  const refused = await client.now().catch((error: unknown) => error);
  expect(refused).toBeInstanceOf(Refused);
  expect(refused).toMatchObject({
    code: 'not-now',
    status: 409,
    message: 'window w1 is open; close it first',
  });
});

test('something else on that port is called what it is', async () => {
  const { client } = answering(404, '<html>');
  await expect(client.now()).rejects.toMatchObject({ code: 'not-a-daemon' });
});

test('misspelt keys, unknown methods and empty windows are refused', () => {
  expect(openWindowSchema.safeParse({ stimuli: [] }).success).toBe(false);
  expect(openWindowSchema.safeParse({ stimuli: [{ interlock: 'x', method: 'guessed' }] }).success).toBe(
    false,
  );
  expect(
    openWindowSchema.safeParse({ stimuli: [{ interlock: 'x', method: 'real' }], peple: [] }).success,
  ).toBe(false);
  expect(markSchema.safeParse({ code: 'attested', by: 'a', machine: 'E1', what: 'smell' }).success).toBe(
    false,
  );
  expect(markSchema.safeParse({ code: 'window-closed', by: 'a' }).success).toBe(false);
});
