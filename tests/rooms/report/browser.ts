/** A headless Chromium without a network, asked over its debugging pipe (Chrome DevTools Protocol). */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Readable, Writable } from 'node:stream';
import { pathToFileURL } from 'node:url';

/** Undefined where there is none. */
export const CHROMIUM = ['chromium', 'chromium-browser'].find(
  (name) => spawnSync(name, ['--version'], { stdio: 'ignore' }).status === 0,
);

type Params = Readonly<Record<string, unknown>>;
type Answer = Record<string, unknown>;

export interface Page {
  /** Opens a file and waits until it has been read. */
  open(path: string): Promise<void>;
  /** Value of an expression; a promise is waited for. */
  ask<T>(expression: string): Promise<T>;
  /** Resolves when the expression is true; it is asked by the page itself, at every change. */
  until(expression: string): Promise<void>;
  send(method: string, params?: Params): Promise<Answer>;
}

export interface Browser {
  page(): Promise<Page>;
  close(): Promise<void>;
}

export const startBrowser = async (): Promise<Browser> => {
  const profile = mkdtempSync(join(tmpdir(), 'tripwitness-chromium-'));
  const child: ChildProcess = spawn(
    CHROMIUM ?? '',
    [
      '--headless=new',
      '--no-sandbox',
      '--disable-gpu',
      '--disable-dev-shm-usage',
      '--remote-debugging-pipe',
      // No name leads anywhere, and nothing is asked for by the browser itself.
      '--host-resolver-rules=MAP * ~NOTFOUND',
      '--disable-background-networking',
      '--no-first-run',
      `--user-data-dir=${profile}`,
    ],
    { stdio: ['ignore', 'ignore', 'ignore', 'pipe', 'pipe'] },
  );
  const [to, from] = [child.stdio[3] as Writable, child.stdio[4] as Readable];
  const waiting = new Map<number, { resolve(answer: Answer): void; reject(error: Error): void }>();
  const ears: ((method: string, params: Answer) => void)[] = [];
  let number = 0;
  let rest = '';
  from.setEncoding('utf8').on('data', (data: string) => {
    const messages = (rest + data).split('\0');
    rest = messages.pop() ?? '';
    for (const text of messages) {
      const message = JSON.parse(text) as Answer & { id?: number; error?: { message: string } };
      const one = message.id === undefined ? undefined : waiting.get(message.id);
      if (one === undefined) {
        for (const ear of ears) ear(String(message['method']), (message['params'] ?? {}) as Answer);
        continue;
      }
      waiting.delete(message.id ?? 0);
      if (message.error) one.reject(new Error(message.error.message));
      else one.resolve((message['result'] ?? {}) as Answer);
    }
  });
  const gone = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const send = (method: string, params: Params = {}, sessionId?: string): Promise<Answer> =>
    new Promise((resolve, reject) => {
      number += 1;
      waiting.set(number, { resolve, reject });
      to.write(`${JSON.stringify({ id: number, method, params, ...(sessionId && { sessionId }) })}\0`);
    });

  return {
    async page() {
      const { targetId } = await send('Target.createTarget', { url: 'about:blank' });
      const { sessionId } = await send('Target.attachToTarget', { targetId, flatten: true });
      const own = (method: string, params?: Params): Promise<Answer> =>
        send(method, params, String(sessionId));
      await own('Page.enable');
      await own('Network.enable');
      await own('Network.emulateNetworkConditions', {
        offline: true,
        latency: 0,
        downloadThroughput: 0,
        uploadThroughput: 0,
      });
      const ask = async <T>(expression: string): Promise<T> => {
        const { result, exceptionDetails } = (await own('Runtime.evaluate', {
          expression,
          awaitPromise: true,
          returnByValue: true,
        })) as { result: { value: T }; exceptionDetails?: { exception?: { description?: string } } };
        if (exceptionDetails) throw new Error(exceptionDetails.exception?.description ?? expression);
        return result.value;
      };
      return {
        send: own,
        ask,
        async open(path) {
          const loaded = new Promise<void>((resolve) => {
            const ear = (method: string): void => {
              if (method !== 'Page.loadEventFired') return;
              ears.splice(ears.indexOf(ear), 1);
              resolve();
            };
            ears.push(ear);
          });
          await own('Page.navigate', { url: pathToFileURL(path).href });
          await loaded;
        },
        until: (expression) =>
          ask(
            `new Promise((resolve) => { const look = () => (${expression}) ? resolve() : requestAnimationFrame(look); look(); })`,
          ),
      };
    },
    async close() {
      await send('Browser.close').catch(() => undefined);
      await gone;
      rmSync(profile, { recursive: true, force: true });
    },
  };
};
