/** A sink that keeps what comes, and wakes whoever waits for something of it. */
import type { FieldEvent, Sink } from '../../../src/field/index.ts';
import type { Answer } from '../../../src/signal/index.ts';

export interface Recorder {
  readonly answers: Answer[];
  readonly events: FieldEvent[];
  readonly sink: Sink;
  /** Resolves once what came satisfies the test. */
  until(test: (answers: readonly Answer[], events: readonly FieldEvent[]) => boolean): Promise<void>;
}

export const recorder = (): Recorder => {
  const answers: Answer[] = [];
  const events: FieldEvent[] = [];
  let check = (): void => undefined;
  return {
    answers,
    events,
    sink: {
      answer: (answer) => {
        answers.push(answer);
        check();
      },
      event: (event) => {
        events.push(event);
        check();
      },
    },
    until: (test) =>
      new Promise((resolve) => {
        check = () => {
          if (test(answers, events)) resolve();
        };
        check();
      }),
  };
};
