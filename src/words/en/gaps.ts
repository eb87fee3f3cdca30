/** Parts of a chain that no test has proved, or none for long. */
export const GAPS = {
  'gap-all': 'No test has proved any part of {interlock}.',
  'gap-sensor-never':
    'Nobody has moved the sensor of {interlock}: it was injected, forced or not tested. Move the real thing once.',
  'gap-sensor-old': 'The sensor of {interlock} has not been moved since {at:day} ({window}).',
  'gap-never': 'Nobody has proved of {interlock}: {segments:segment}.',
  'gap-old': 'Of {interlock} not proved since {at:day} ({window}): {segments:segment}.',
  'gap-stale':
    'Of {interlock} proved on {at:day} ({window}), on what does not run any more: {segments:segment}.',
} as const;
