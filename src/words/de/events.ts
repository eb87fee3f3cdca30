import type { EVENTS as EN } from '../en/events.ts';
import type { Translation } from '../language.ts';

/** What happens during a window. */
export const EVENTS: Translation<typeof EN> = {
  'trial-began': 'Versuch begonnen[ bei {value:unit}].',
  'trial-ended': 'Versuch beendet.',
  'effect-came': '{effect} kam.',
  'cause-reached': 'Die Ursache hat ihren Auslösebereich erreicht[ bei {value:unit}].',
  'effect-overdue': '{effect} ist nicht gekommen, obwohl die Zeit dafür vorbei ist.',
  'effect-released': '{effect} ging wieder weg.',
  'window-opened': 'Prüfung eröffnet.',
  'window-closed': 'Prüfung geschlossen.',
  contradiction: 'Zwei Signale widersprechen sich[: {signal}].',
};
