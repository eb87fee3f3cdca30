import type { WAITS as EN } from '../en/waits.ts';
import type { Translation } from '../language.ts';

/** What an interlock waits for. */
export const WAITS: Translation<typeof EN> = {
  'not-armed':
    'Espera: {signal} debe estar en {state} y seguir así hasta que pase el tiempo de arranque (quedan {remaining:s}).',
  'baseline-settling': 'Espera: todo debe seguir quieto otros {remaining:s}.',
  'normal-unsteady':
    'Espera: {signal} no está lo bastante estable para aprender su valor normal (dispersión {spread:share}, como máximo {allowed:share}). Dejar que funcione sin perturbaciones.',
  'normal-unknown':
    'Espera: no se conoce el valor normal de {signal}. Dejar que la máquina funcione o dar un valor normal.',
  'cause-not-clear': 'Espera: {signal} debe volver a su banda de reposo[ (ahora {value:unit})].',
  'effect-already-there':
    '{effect} ya está presente. Rearmarlo antes de la próxima prueba, o no se ensayará.',
  'bypass-active': 'Espera: {signal} indica que la protección está anulada. Quitar la anulación.',
  'force-active': 'Espera: {signal} indica que hay un valor forzado. Quitar el forzado.',
  'trip-latched': 'Espera: {signal} sigue disparado. Rearmarlo.',
  'no-reading': 'Espera: no hay lectura de {signal} ({absence:absence}). Comprobar la fuente.',
  'stop-active': 'Espera: {signal} indica que hay un pulsador de paro accionado. Soltarlo.',
  'horn-silenced':
    '{signal} indica que la bocina está silenciada: puede que no se oiga una alarma nueva. Quitar el silencio antes de ensayar la bocina.',
  'window-not-open': 'Espera: no hay ningún ensayo abierto.',
  'moved-unready':
    'La causa se movió antes de que el enclavamiento estuviera listo. Este movimiento no cuenta.',
};
