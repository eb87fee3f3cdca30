import type { Reviewed } from '../../api/index.ts';
import { createThread, type Thread } from '../thread.ts';
import type { Asked } from './answer.ts';

const SCRIPT = new URL('./review.worker.js', import.meta.url);

/** A large PDF takes its time and memory: it must not hold up the lists, nor stay. */
const PAPERS_IDLE_MS = 30_000;

/** Looks into the log for whoever reviews; undefined: there is no such window, or no book yet. */
export const createReviewer = (path: string): Thread<Asked, Reviewed | undefined> => {
  const lists = createThread<Asked, Reviewed | undefined>(SCRIPT, path);
  const papers = createThread<Asked, Reviewed | undefined>(SCRIPT, path, PAPERS_IDLE_MS);
  return {
    ask: (question) =>
      question.ask === 'pdf' || question.ask === 'page' ? papers.ask(question) : lists.ask(question),
    async stop() {
      await Promise.all([lists.stop(), papers.stop()]);
    },
  };
};
