import { parentPort, workerData } from 'node:worker_threads';
import { lookAt, type Question } from './look.ts';

/** Reads a log beside the thread that polls; one question, one answer. */
const { path, question } = workerData as { path: string; question: Question };
parentPort?.postMessage({ answer: lookAt(path, question) });
