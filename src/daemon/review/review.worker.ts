import { workerData } from 'node:worker_threads';
import { answerQuestions } from '../thread.ts';
import { createReview } from './answer.ts';

/** Answers questions to a log beside the thread that polls, and keeps what it has read. */
const review = createReview((workerData as { path: string }).path);
answerQuestions(review.answer);
