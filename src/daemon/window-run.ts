import type { FindingTold, WindowNow } from '../api/index.ts';
import type { Finding, Mark, Stimulus } from '../judge/index.ts';
import { formatUtc, type Instant } from '../measure/index.ts';
import type { Book } from '../rulebook/index.ts';
import type { Answer } from '../signal/index.ts';
import type { Logbook } from './logbook.ts';
import { createPipeline, type Pipeline } from './pipeline.ts';
import { findingText } from './told.ts';

/** A test window on the running daemon: it judges what it is given, and enters all of it. */
export interface WindowRun {
  readonly id: string;
  readonly opened: Instant;
  readonly stimuli: readonly Stimulus[];
  answer(answer: Answer): void;
  mark(mark: Mark, actor: string): void;
  /** Enters what has not been entered yet. */
  enter(): void;
  close(at: Instant, actor: string): void;
  waits(): ReturnType<Pipeline['waits']>;
  show(from: number): WindowNow;
  /** Trials that run now. */
  trials(): number;
  /** It was begun by a demand, not by a person. */
  readonly demand: boolean;
  closed(): boolean;
}

export interface WindowOpening {
  readonly id: string;
  readonly at: Instant;
  readonly stimuli: readonly Stimulus[];
  readonly actor: string;
  /** What the entry carries beside the mark. */
  readonly about: Readonly<Record<string, unknown>>;
  /** What the sources had answered before: armed states and baselines reach back. */
  readonly before: readonly Answer[];
}

export const openWindow = (
  book: Book,
  logbook: Logbook,
  opening: WindowOpening,
  onTold: (told: FindingTold) => void,
): WindowRun => {
  const { id, stimuli } = opening;
  const pipeline = createPipeline(book);
  const told: FindingTold[] = [];
  let pending: Answer[] = [];
  let fed = 0;
  let done = false;

  const take = (findings: readonly Finding[]): void => {
    for (const finding of findings) {
      const interlock = book.interlocks[finding.interlock]?.name ?? '';
      const one = { index: told.length, interlock, finding, text: findingText(book, finding) };
      told.push(one);
      logbook.enter(finding.kind === 'window' ? 'verdict' : 'finding', id, 'daemon', { finding });
      onTold(one);
    }
  };

  const feed = (answer: Answer): void => {
    pending.push(answer);
    fed += 1;
    take(pipeline.answer(answer));
  };

  const enter = (): void => {
    logbook.trace(id, pending, fed - pending.length);
    pending = [];
  };

  const mark = (one: Mark, actor: string): void => {
    // The answers that the mark follows are entered before it.
    enter();
    logbook.enter('mark', id, actor, { mark: one, position: fed });
    take(pipeline.mark(one));
  };

  logbook.enter('window-opened', id, opening.actor, {
    ...opening.about,
    stimuli,
    before: opening.before.length,
  });
  const demand = stimuli.length === 0;
  const opened: Mark = { code: 'window-opened', at: opening.at, window: id, stimuli };
  // A demand had begun before anybody knew: it is watched from the first answer that was kept.
  if (demand) mark(opened, opening.actor);
  for (const answer of opening.before) feed(answer);
  if (!demand) mark(opened, opening.actor);

  return {
    id,
    opened: opening.at,
    stimuli,
    answer: (answer) => {
      if (!done) feed(answer);
    },
    mark,
    enter,
    close(at, actor) {
      mark({ code: 'window-closed', at }, actor);
      logbook.enter('window-closed', id, actor, { answers: fed, findings: told.length });
      done = true;
    },
    waits: () => pipeline.waits(),
    show: (from) => ({
      window: id,
      standing: done ? 'closed' : 'open',
      opened: formatUtc(opening.at),
      findings: told.slice(from),
    }),
    trials: () => pipeline.trials(),
    demand,
    closed: () => done,
  };
};
