import { Worker } from 'node:worker_threads';
import { type Appended, type Batch, type Draft, LogError, type LogTrouble } from './types.ts';

/** The writing end of a log. `append` resolves once its entries are on the disk, and not before. */
export interface Log {
  append(batch: Batch): Promise<Appended>;
  head(): { readonly size: number; readonly root: string };
  /** After all that was asked before. A second call does nothing. */
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

/** Questions to the writer and their answers. The first answer comes unasked, once the log is open. */
interface Line {
  readonly opened: Promise<Told>;
  ask(message: object): Promise<Told>;
  hasEnded(): boolean;
}

const lineTo = (worker: Worker, path: string): Line => {
  const waiting = new Map<number, Waiting>();
  let ids = 0;
  let ended: Error | undefined;
  worker.on('message', (told: Told) => {
    const one = waiting.get(told.id);
    waiting.delete(told.id);
    if (told.error) one?.reject(new LogError(told.error.message, { code: told.error.code }));
    else one?.resolve(told);
  });
  const end = (cause: Error): void => {
    ended ??= cause;
    for (const one of waiting.values()) one.reject(ended);
    waiting.clear();
  };
  worker.on('error', (cause) =>
    end(new LogError(`the writer of ${path} failed: ${String(cause)}`, { code: 'closed', cause })),
  );
  worker.on('exit', () => end(new LogError(`the writer of ${path} has ended`, { code: 'closed' })));
  const wait = (id: number): Promise<Told> =>
    new Promise((resolve, reject) => {
      waiting.set(id, { resolve, reject });
    });
  return {
    opened: wait(0),
    ask(message) {
      if (ended !== undefined) return Promise.reject(ended);
      ids += 1;
      const answer = wait(ids);
      worker.postMessage({ id: ids, ...message });
      return answer;
    },
    hasEnded: () => ended !== undefined,
  };
};

interface Start {
  readonly path: string;
  readonly fresh: boolean;
  readonly genesis?: Draft;
}

const start = async (workerData: Start): Promise<Log> => {
  const { path } = workerData;
  const worker = new Worker(new URL('./log.worker.js', import.meta.url), { workerData });
  const line = lineTo(worker, path);
  let head = (await line.opened).head ?? { size: 0, root: '' };
  let closing: Promise<void> | undefined;
  const close = async (): Promise<void> => {
    if (!line.hasEnded()) await line.ask({ close: true });
    await worker.terminate();
  };
  return {
    async append(batch) {
      if (closing !== undefined) throw new LogError(`${path} is closed`, { code: 'closed' });
      const { appended } = await line.ask({ batch });
      if (appended === undefined)
        throw new LogError(`the writer of ${path} gave no answer`, { code: 'write-failed' });
      head = { size: appended.size, root: appended.root };
      return appended;
    },
    head: () => head,
    close() {
      closing ??= close();
      return closing;
    },
  };
};

/** A new log at a path where nothing is; it begins with `genesis`. */
export const createLog = (path: string, genesis?: Draft): Promise<Log> =>
  start({ path, fresh: true, ...(genesis && { genesis }) });
/** A log that is there. */
export const openLog = (path: string): Promise<Log> => start({ path, fresh: false });
