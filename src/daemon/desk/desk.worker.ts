import { workerData } from 'node:worker_threads';
import { answerQuestions } from '../thread.ts';
import { lookAt, type Question } from './look.ts';

/** Reads a log beside the thread that polls; each question is answered from the file as it is then. */
const { path } = workerData as { path: string };
answerQuestions((question: Question) => lookAt(path, question));
