import type { EVENTS as EN } from '../en/events.ts';
import type { Translation } from '../language.ts';

/** What happens during a window. */
export const EVENTS: Translation<typeof EN> = {
  'trial-began': 'Prueba iniciada[ en {value:unit}].',
  'trial-ended': 'Prueba terminada.',
  'effect-came': '{effect} llegó.',
  'cause-reached': 'La causa alcanzó su zona de disparo[ en {value:unit}].',
  'effect-overdue': '{effect} no ha llegado, aunque su tiempo ha pasado.',
  'effect-released': '{effect} desapareció.',
  'window-opened': 'Ensayo abierto.',
  'window-closed': 'Ensayo cerrado.',
  contradiction: 'Dos señales se contradicen[: {signal}].',
};
