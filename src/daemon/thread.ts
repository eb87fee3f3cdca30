import { parentPort, Worker } from 'node:worker_threads';

/** Answers questions beside the thread that polls, so that polling goes on meanwhile. */
export interface Thread<Question, Answer> {
  /** Rejects with what the thread could not do. */
  ask(question: Question): Promise<Answer>;
  stop(): Promise<void>;
}

/** What the thread at the other end says. */
interface Told<Answer> {
  readonly id: number;
  readonly answer?: Answer;
  readonly trouble?: string;
}

interface Waiting<Answer> {
  readonly resolve: (answer: Answer) => void;
  readonly reject: (error: Error) => void;
}

/** A thread with the questions that it has not answered yet, by number. */
interface Running<Answer> {
  readonly worker: Worker;
  readonly waiting: Map<number, Waiting<Answer>>;
}

/**
 * A thread that runs `script` on the log at `path`. It begins with the first question and stays, since a fresh one takes up to a
 * second on a busy machine; `idleMs`: it ends after so long without a question, with all that it has read.
 */
export const createThread = <Question, Answer>(
  script: URL,
  path: string,
  idleMs?: number,
): Thread<Question, Answer> => {
  let running: Running<Answer> | undefined;
  let asked = 0;
  let idle: NodeJS.Timeout | undefined;

  const stop = async (): Promise<void> => {
    const own = running;
    running = undefined;
    clearTimeout(idle);
    await own?.worker.terminate();
  };

  const rest = ({ waiting }: Running<Answer>): void => {
    clearTimeout(idle);
    if (idleMs !== undefined && waiting.size === 0) idle = setTimeout(() => void stop(), idleMs).unref();
  };

  const begin = (): Running<Answer> => {
    const worker = new Worker(script, { workerData: { path } });
    const own: Running<Answer> = { worker, waiting: new Map() };
    worker.unref();
    worker.on('message', ({ id, answer, trouble }: Told<Answer>) => {
      const one = own.waiting.get(id);
      own.waiting.delete(id);
      if (trouble === undefined) one?.resolve(answer as Answer);
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
        clearTimeout(idle);
        running ??= begin();
        asked += 1;
        running.waiting.set(asked, { resolve, reject });
        running.worker.postMessage({ id: asked, question });
      }),
    stop,
  };
};

/** The other end, in the script: answers one question after the other. What `work` throws or rejects with is told. */
export const answerQuestions = <Question>(work: (question: Question) => unknown): void => {
  const told = async (id: number, question: Question): Promise<Told<unknown>> => {
    try {
      return { id, answer: await work(question) };
    } catch (error) {
      return { id, trouble: error instanceof Error ? error.message : String(error) };
    }
  };
  let turn: Promise<unknown> = Promise.resolve();
  parentPort?.on('message', ({ id, question }: { id: number; question: Question }) => {
    turn = turn.then(async () => parentPort?.postMessage(await told(id, question)));
  });
};
