/**
 * On a line without transaction ids a late answer looks like the answer to the next question, and from then on every
 * answer would be one too late. After a time-out or a bad frame a unit is therefore not asked for longer than its slowest
 * answer takes; its next answer is thrown away; then it is listened to once more for as long. If an answer was late, a
 * byte comes in one of the two silences, and it begins again. Times in ms, on one clock.
 */
export interface Suspicion {
  suspect(unit: number, now: number, quiet: number): void;
  /** Bytes came that name this unit, while it should have had nothing to say. */
  heard(unit: number, now: number): void;
  /** The unit may be asked. */
  free(unit: number, now: number): boolean;
  /** An answer has come: true where it may be believed. */
  answered(unit: number, now: number): boolean;
}

interface Doubt {
  readonly quiet: number;
  until: number;
  stage: 'quiet' | 'listening';
}

export const createSuspicion = (): Suspicion => {
  const doubts = new Map<number, Doubt>();
  return {
    suspect: (unit, now, quiet) => {
      doubts.set(unit, { quiet, until: now + quiet, stage: 'quiet' });
    },
    heard(unit, now) {
      const doubt = doubts.get(unit);
      if (doubt !== undefined) doubts.set(unit, { ...doubt, until: now + doubt.quiet, stage: 'quiet' });
    },
    free(unit, now) {
      const doubt = doubts.get(unit);
      return doubt === undefined || now >= doubt.until;
    },
    answered(unit, now) {
      const doubt = doubts.get(unit);
      if (doubt === undefined) return true;
      if (doubt.stage === 'listening') {
        doubts.delete(unit);
        return true;
      }
      doubt.stage = 'listening';
      doubt.until = now + doubt.quiet;
      return false;
    },
  };
};
