/**
 * Sequence numbers of notification messages (OPC 10000-4, 7.26): they begin at 1, grow by one with each message that
 * carries something, and go from the largest back to 1. A keep-alive carries the number of the next message and uses
 * none up; some servers send the last one instead.
 */
export interface Sequence {
  /** Numbers that were skipped before this message; undefined: it came before already. */
  take(number: number, keepAlive: boolean): readonly number[] | undefined;
}

const LARGEST = 0xffff_ffff;
const after = (number: number): number => (number >= LARGEST ? 1 : number + 1);

/** A gap of more than this is not asked for again: no server keeps so much. */
const LONGEST_GAP = 1_000;

const distance = (from: number, to: number): number => (to >= from ? to - from : to + LARGEST - from);

export const createSequence = (): Sequence => {
  let next = 1;
  const skippedUpTo = (number: number): number[] => {
    const skipped: number[] = [];
    for (let one = next; one !== number && skipped.length < LONGEST_GAP; one = after(one)) skipped.push(one);
    return skipped;
  };
  return {
    take(number, keepAlive) {
      const far = distance(next, number);
      // Half the numbers lie ahead, the other half behind.
      const behind = far > LARGEST / 2;
      if (keepAlive) {
        if (behind || far === 0) return [];
        const skipped = skippedUpTo(number);
        next = number;
        return skipped;
      }
      if (behind) return undefined;
      const skipped = skippedUpTo(number);
      next = after(number);
      return skipped;
    },
  };
};
