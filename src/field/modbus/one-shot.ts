import type { Line } from '../../signal/index.ts';
import type { Clock } from '../types.ts';
import { linkModbus } from './link.ts';
import type { Asking, Question } from './link-types.ts';
import type { Foul } from './wire.ts';

/** A connection for a few questions, asked by hand. */
export interface OneShot {
  /**
   * One at a time, in the order of asking. Never throws. After a foul on TCP the connection is gone; without transaction
   * ids the next question waits until no late answer is to be feared.
   */
  ask(question: Question): Promise<Asking>;
  /** Why the connection has ended by itself; undefined while it stands. */
  ended(): Foul | undefined;
  destroy(): Promise<void>;
}

/** Milliseconds after which it is looked again whether the line is quiet. */
const LOOK_AGAIN = 20;

/** Connects within `deadline` ms, or says why not. */
export const connectModbus = async (line: Line, deadline: number, clock: Clock): Promise<OneShot | Foul> => {
  let wake = (): void => undefined;
  const options = { line, deadline, inFlight: 1, pause: 0 };
  let gone: Foul | undefined;
  const ended = (foul: Foul): void => {
    gone = foul;
    wake();
  };
  const ears = { room: () => wake(), doubted: () => undefined, ended };
  const link = await linkModbus(options, clock, ears).link;
  if ('code' in link) return link;
  let last: Promise<unknown> = Promise.resolve();
  const ready = (unit: number): Promise<void> =>
    new Promise((resolve) => {
      wake = () => {
        if (link.foul()) resolve();
        else if (link.room() && link.free(unit)) resolve();
        else setTimeout(() => wake(), LOOK_AGAIN);
      };
      wake();
    });
  const ask = async (question: Question): Promise<Asking> => {
    await ready(question.unit);
    const got = await new Promise<Asking>((resolve) => link.ask(question, resolve));
    return 'foul' in got && got.foul.code === 'quarantined' ? ask(question) : got;
  };
  return {
    ask(question) {
      const next = last.then(() => ask(question));
      last = next;
      return next;
    },
    ended: () => gone,
    destroy: () => link.destroy(),
  };
};
