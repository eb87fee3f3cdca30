import { Worker } from 'node:worker_threads';
import type { AnswerTo, Question } from './look.ts';

/** Asks a log in a thread of its own, so that polling goes on meanwhile. Rejects with what the thread threw. */
export const lookBeside = <Q extends Question>(path: string, question: Q): Promise<AnswerTo<Q>> =>
  new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./desk.worker.js', import.meta.url), {
      workerData: { path, question },
    });
    worker.once('message', ({ answer }: { answer: AnswerTo<Q> }) => resolve(answer));
    worker.once('error', reject);
    worker.once('exit', () => reject(new Error('the thread that reads the log ended without an answer')));
  });
