/** What whoever moves the cause is told while it moves. */
export const COACHING = {
  'coach-no-reading': 'No reading of the cause to go by.',
  'coach-not-there': 'The cause is not there yet.',
  'coach-approach': 'Not yet in range[: from {level:unit} on, at most {allowed:rate}].',
  'coach-slow-down': 'Slow down: {rate:unit}/s, at most {allowed:rate}.',
  'coach-in-range': 'In range: {rate:unit}/s, at most {allowed:rate}.',
  'coach-unclear': 'Somewhere in {rate:unit}/s, at most {allowed:rate}: keep it slow and steady.',
  'coach-stand-still': 'No ramp is slow enough here: hold.',
  'coach-hold': 'Hold: {left:seconds} more.',
  'coach-held': 'Held long enough.',
} as const;
