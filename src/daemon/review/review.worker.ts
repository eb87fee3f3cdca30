import { parentPort, workerData } from 'node:worker_threads';
import { type Asked, createReview } from './answer.ts';

/** Answers questions to a log beside the thread that polls, one after the other, and keeps what it has read. */
const review = createReview((workerData as { path: string }).path);
let turn: Promise<unknown> = Promise.resolve();

const answer = async (id: number, question: Asked): Promise<void> => {
  try {
    parentPort?.postMessage({ id, answer: await review.answer(question) });
  } catch (error) {
    parentPort?.postMessage({ id, trouble: error instanceof Error ? error.message : String(error) });
  }
};

parentPort?.on('message', ({ id, question }: { id: number; question: Asked }) => {
  turn = turn.then(() => answer(id, question));
});
