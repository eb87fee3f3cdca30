import type { EVENTS as EN } from '../en/events.ts';
import type { Translation } from '../language.ts';

/** What happens during a window. */
export const EVENTS: Translation<typeof EN> = {
  'trial-began': 'Épreuve commencée[ à {value:unit}].',
  'trial-ended': 'Épreuve terminée.',
  'effect-came': '{effect} est venu.',
  'cause-reached': 'La cause a atteint sa zone de déclenchement[ à {value:unit}].',
  'effect-overdue': '{effect} n’est pas venu, alors que son délai est passé.',
  'effect-released': '{effect} a de nouveau disparu.',
  'window-opened': 'Essai ouvert.',
  'window-closed': 'Essai fermé.',
  contradiction: 'Deux signaux se contredisent[ : {signal}].',
};
