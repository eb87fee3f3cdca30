import { createThread } from '../thread.ts';
import type { AnswerTo, Question } from './look.ts';

/** Asks a log in a thread of its own. */
export interface Lookout {
  look<Q extends Question>(question: Q): Promise<AnswerTo<Q>>;
  stop(): Promise<void>;
}

/** Several questions make one answer of the desk; after that the thread may rest. */
const IDLE_MS = 60_000;

export const createLookout = (path: string): Lookout => {
  const script = new URL('./desk.worker.js', import.meta.url);
  const { ask, stop } = createThread<Question, AnswerTo<Question>>(script, path, IDLE_MS);
  return {
    look: <Q extends Question>(question: Q) => ask(question) as Promise<AnswerTo<Q>>,
    stop,
  };
};
