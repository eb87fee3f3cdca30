import { parentPort, workerData } from 'node:worker_threads';
import type { Told } from '../thread.ts';
import { lookAt, type Question } from './look.ts';

/** Reads a log beside the thread that polls; each question is answered from the file as it is then. */
const { path } = workerData as { path: string };

const told = (id: number, question: Question): Told<unknown> => {
  try {
    return { id, answer: lookAt(path, question) };
  } catch (error) {
    return { id, trouble: error instanceof Error ? error.message : String(error) };
  }
};

parentPort?.on('message', ({ id, question }: { id: number; question: Question }) =>
  parentPort?.postMessage(told(id, question)),
);
