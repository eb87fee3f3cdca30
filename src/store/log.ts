import { Worker } from 'node:worker_threads';
import {
  type Appended,
  type Batch,
  type Draft,
  type Head,
  LogError,
  type LogTrouble,
  type Opening,
} from './types.ts';

/** The writing end of a log. `append` resolves once its entries are on the disk, and not before. */
export interface Log {
  append(batch: Batch): Promise<Appended>;
  /** The newest checkpoint, signed. */
  head(): Head;
  /** What was done when it was opened, beyond opening. */
  readonly opening: readonly Opening[];
  /** After all that was asked before. A second call does nothing. */
  close(): Promise<void>;
}

interface Told {
  readonly id: number;
  readonly appended?: Appended;
  /** The newest checkpoint: at the opening, and behind every append. */
  readonly head?: Head;
  readonly opening?: readonly Opening[];
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
  readonly keys?: string;
}

const start = async (workerData: Start): Promise<Log> => {
  const { path } = workerData;
  const worker = new Worker(new URL('./log.worker.js', import.meta.url), { workerData });
  const line = lineTo(worker, path);
  const { head: first, opening = [] } = await line.opened;
  if (first === undefined)
    throw new LogError(`the writer of ${path} gave no answer`, { code: 'write-failed' });
  let head = first;
  let closing: Promise<void> | undefined;
  const close = async (): Promise<void> => {
    if (!line.hasEnded()) await line.ask({ close: true });
    await worker.terminate();
  };
  return {
    async append(batch) {
      if (closing !== undefined) throw new LogError(`${path} is closed`, { code: 'closed' });
      const { appended, head: newest } = await line.ask({ batch });
      if (appended === undefined || newest === undefined)
        throw new LogError(`the writer of ${path} gave no answer`, { code: 'write-failed' });
      head = newest;
      return appended;
    },
    head: () => head,
    opening,
    close() {
      closing ??= close();
      return closing;
    },
  };
};

/** Where a log's keys are; `keys` beside the log where nothing else is named. */
export interface LogPlace {
  readonly keys?: string;
}

/** A new log at a path where nothing is; it begins with `genesis`. */
export const createLog = (path: string, genesis?: Draft, place: LogPlace = {}): Promise<Log> =>
  start({ path, fresh: true, ...(genesis && { genesis }), ...place });
/** A log that is there. */
export const openLog = (path: string, place: LogPlace = {}): Promise<Log> =>
  start({ path, fresh: false, ...place });
