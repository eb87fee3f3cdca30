import { Worker } from 'node:worker_threads';
import type { Reviewed } from '../../api/index.ts';
import type { Asked } from './answer.ts';

/** Looks into the log for whoever reviews, in threads of their own, so that polling goes on meanwhile. */
export interface Reviewer {
  /** Undefined: there is no such window, or no book yet. Rejects with what the thread could not do. */
  ask(question: Asked): Promise<Reviewed | undefined>;
  stop(): Promise<void>;
}

interface Waiting {
  readonly resolve: (answer: Reviewed | undefined) => void;
  readonly reject: (error: Error) => void;
}

/** A thread with the questions that it has not answered yet, by number. */
interface Running {
  readonly worker: Worker;
  readonly waiting: Map<number, Waiting>;
}

interface Told {
  readonly id: number;
  readonly answer?: Reviewed;
  readonly trouble?: string;
}

/** Begins with the first question; `idleMs`: ends after so long without one, with all that it has read. */
const createThread = (path: string, idleMs?: number): Reviewer => {
  let running: Running | undefined;
  let asked = 0;
  let idle: NodeJS.Timeout | undefined;

  const stop = async (): Promise<void> => {
    const own = running;
    running = undefined;
    clearTimeout(idle);
    await own?.worker.terminate();
  };

  const rest = ({ waiting }: Running): void => {
    clearTimeout(idle);
    if (idleMs !== undefined && waiting.size === 0) idle = setTimeout(() => void stop(), idleMs).unref();
  };

  const begin = (): Running => {
    const worker = new Worker(new URL('./review.worker.js', import.meta.url), { workerData: { path } });
    const own: Running = { worker, waiting: new Map() };
    worker.unref();
    worker.on('message', ({ id, answer, trouble }: Told) => {
      const one = own.waiting.get(id);
      own.waiting.delete(id);
      if (trouble === undefined) one?.resolve(answer);
      else one?.reject(new Error(trouble));
      rest(own);
    });
    /** What was asked of it is not answered any more; the next question begins another. */
    const ended = (error: Error): void => {
      if (running === own) running = undefined;
      for (const { reject } of own.waiting.values()) reject(error);
      own.waiting.clear();
    };
    worker.on('error', (error) => ended(error instanceof Error ? error : new Error(String(error))));
    worker.on('exit', () => ended(new Error('the thread that reads the log ended without an answer')));
    return own;
  };

  return {
    ask: (question) =>
      new Promise((resolve, reject) => {
        running ??= begin();
        asked += 1;
        running.waiting.set(asked, { resolve, reject });
        running.worker.postMessage({ id: asked, question });
      }),
    stop,
  };
};

/** A large PDF takes its time and memory: it must not hold up the lists, nor stay. */
const PAPERS_IDLE_MS = 30_000;

export const createReviewer = (path: string): Reviewer => {
  const lists = createThread(path);
  const papers = createThread(path, PAPERS_IDLE_MS);
  return {
    ask: (question) =>
      question.ask === 'pdf' || question.ask === 'page' ? papers.ask(question) : lists.ask(question),
    async stop() {
      await Promise.all([lists.stop(), papers.stop()]);
    },
  };
};
