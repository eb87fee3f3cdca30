/** What happens during a window. */
export const EVENTS = {
  'trial-began': 'Trial began[ at {value:unit}].',
  'trial-ended': 'Trial ended.',
  'effect-came': '{effect} came.',
  'cause-reached': 'The cause reached its trip region[ at {value:unit}].',
  'effect-overdue': '{effect} has not come, although its time is over.',
  'effect-released': '{effect} went away again.',
  'window-opened': 'Test window opened.',
  'window-closed': 'Test window closed.',
  contradiction: 'Two signals contradict each other[: {signal}].',
} as const;
