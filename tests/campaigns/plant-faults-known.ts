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

const UNSEEN_MOTION =
  'the pack asks for the feedback alone; only the underspeed stop asks whether the shaft rests';
const FEED_NOT_HELD = 'the pack does not ask that the feeder stays stopped until a reset';
const START_WAS_HELD = 'a start that is pressed since before the reset counts as a new start';

export const KNOWN: readonly KnownPass[] = [
  {
    fault: 'motor-runs-on',
    interlocks: ['pulse-loss-stop', 'bearing-stop', 'misalignment-stop'],
    why: UNSEEN_MOTION,
  },
  {
    fault: 'feedback-from-command',
    interlocks: ['pulse-loss-stop', 'bearing-stop', 'misalignment-stop'],
    why: UNSEEN_MOTION,
  },
  {
    fault: 'feeder-restarts',
    interlocks: ['underspeed-stop', 'pulse-loss-stop', 'bearing-stop', 'misalignment-stop'],
    why: FEED_NOT_HELD,
  },
  {
    fault: 'stops-neighbour-too',
    interlocks: ['pulse-loss-stop'],
    why: 'the second trial finds the neighbour stopped by the first, and its pass outweighs the doubt of the first',
  },
  { fault: 'starts-on-held-button', interlocks: ['misalignment-stop'], way: 'hands', why: START_WAS_HELD },
  { fault: 'auto-restart', interlocks: ['misalignment-stop'], way: 'hands', why: START_WAS_HELD },
  {
    fault: 'latch-lost-on-restart',
    interlocks: ['misalignment-stop'],
    way: 'hands',
    why: 'a latch that held for the dwell is proved, though it is lost without a reset later in the same window',
  },
  {
    fault: 'alarm-pulse',
    interlocks: ['underspeed-alarm'],
    byChance: true,
    why: 'a poll that happens to see an alarm of a single scan takes it for an alarm; the pack does not ask that it stays',
  },
];
