import type { Fault } from '../../src/plant/index.ts';
import type { Tried, Way } from './plant-faults-concern.ts';

/** A wrong pass that is known: it is told here, and stays a defect until it can be struck from this list. */
export interface KnownPass {
  readonly fault: Fault;
  readonly interlocks: readonly Tried[];
  /** Only by this way; else by any. */
  readonly way?: Way;
  /** Only where the poll falls so; not every seed shows it. */
  readonly byChance?: true;
  readonly why: string;
}

const POWER_CUT =
  'the power that is cut to try the latch stops the shaft too, within the time that it may take to come to rest';

export const KNOWN: readonly KnownPass[] = [
  { fault: 'motor-runs-on', interlocks: ['misalignment-stop'], way: 'hands', why: POWER_CUT },
  { fault: 'feedback-from-command', interlocks: ['misalignment-stop'], way: 'hands', why: POWER_CUT },
];
