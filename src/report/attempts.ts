import type { Attempt } from '../record/index.ts';
import type { AttemptsReport } from './people-types.ts';

/** The attempts at each interlock that was tried in a window, over the log up to and with that window. */
export const attemptsUpTo = (
  all: ReadonlyMap<string, readonly Attempt[]>,
  window: string,
): readonly AttemptsReport[] =>
  [...all].flatMap(([interlock, attempts]): AttemptsReport[] => {
    const last = attempts.findLastIndex((one) => one.window === window);
    return last < 0 ? [] : [{ interlock, attempts: attempts.slice(0, last + 1) }];
  });
