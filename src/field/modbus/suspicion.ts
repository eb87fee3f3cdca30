/**
 * On a line without transaction ids a late answer looks like the answer to the next question, and from then on every
 * answer would be one too late. After a time-out or a bad frame a unit is therefore
 * 1. not asked for longer than its slowest answer takes;
 * 2. asked a sample, which is thrown away;
 * 3. listened to once more for as long: if an answer was late, one too many comes now;
 * 4. asked a shorter question, where there is one: only its own answer has its length. It is thrown away too.
 * A byte in one of the silences, or an answer that does not fit, and it begins again. Times in ms, on one clock.
 */
export interface Suspicion {
  suspect(unit: number, now: number, quiet: number): void;
  /** The unit may be asked. */
  free(unit: number, now: number): boolean;
  /** The question has to be shorter than the one before. */
  checks(unit: number): boolean;
  /** An answer has come: true where it may be believed. */
  answered(unit: number, now: number): boolean;
}

interface Doubt {
  readonly quiet: number;
  until: number;
  stage: 'sample' | 'check';
}

export const createSuspicion = (): Suspicion => {
  const doubts = new Map<number, Doubt>();
  return {
    suspect: (unit, now, quiet) => {
      doubts.set(unit, { quiet, until: now + quiet, stage: 'sample' });
    },
    free(unit, now) {
      const doubt = doubts.get(unit);
      return doubt === undefined || now >= doubt.until;
    },
    checks: (unit) => doubts.get(unit)?.stage === 'check',
    answered(unit, now) {
      const doubt = doubts.get(unit);
      if (doubt === undefined) return true;
      if (doubt.stage === 'check') doubts.delete(unit);
      else doubts.set(unit, { ...doubt, until: now + doubt.quiet, stage: 'check' });
      return false;
    },
  };
};
