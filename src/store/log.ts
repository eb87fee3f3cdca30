import { Worker } from 'node:worker_threads';
import { type Appended, type Batch, LogError, type LogTrouble } from './types.ts';

/** The writing end of a log. `append` resolves once its entries are on the disk, and not before. */
export interface Log {
  append(batch: Batch): Promise<Appended>;
  head(): { readonly size: number; readonly root: string };
  close(): Promise<void>;
}

interface Told {
  readonly id: number;
  readonly appended?: Appended;
  readonly head?: { readonly size: number; readonly root: string };
  readonly error?: { readonly code: LogTrouble; readonly message: string };
}

interface Waiting {
  resolve(told: Told): void;
  reject(error: Error): void;
}

const start = async (path: string, fresh: boolean): Promise<Log> => {
  const worker = new Worker(new URL('./log.worker.js', import.meta.url), { workerData: { path, fresh } });
  const waiting = new Map<number, Waiting>();
  let ids = 0;
  worker.on('message', (told: Told) => {
    const one = waiting.get(told.id);
    waiting.delete(told.id);
    if (told.error) one?.reject(new LogError(told.error.message, { code: told.error.code }));
    else one?.resolve(told);
  });
  const fail = (cause: Error): void => {
    for (const one of waiting.values()) one.reject(cause);
    waiting.clear();
  };
  worker.on('error', fail);
  worker.on('exit', () => fail(new LogError(`the writer of ${path} has ended`, { code: 'closed' })));
  const ask = (message?: object): Promise<Told> =>
    new Promise((resolve, reject) => {
      const id = message === undefined ? 0 : ++ids;
      waiting.set(id, { resolve, reject });
      if (message !== undefined) worker.postMessage({ id, ...message });
    });
  let head = (await ask()).head ?? { size: 0, root: '' };
  return {
    async append(batch) {
      const { appended } = await ask({ batch });
      if (appended === undefined)
        throw new LogError(`the writer of ${path} gave no answer`, { code: 'write-failed' });
      head = { size: appended.size, root: appended.root };
      return appended;
    },
    head: () => head,
    async close() {
      await ask({ close: true });
      await worker.terminate();
    },
  };
};

/** A new log at a path where nothing is. */
export const createLog = (path: string): Promise<Log> => start(path, true);
/** A log that is there. */
export const openLog = (path: string): Promise<Log> => start(path, false);
