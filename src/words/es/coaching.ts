import type { COACHING as EN } from '../en/coaching.ts';
import type { Translation } from '../language.ts';

/** What whoever moves the cause is told while it moves. */
export const COACHING: Translation<typeof EN> = {
  'coach-no-reading': 'No hay lectura de la causa por la que guiarse.',
  'coach-not-there': 'La causa aún no está presente.',
  'coach-approach': 'Aún fuera de la zona[: desde {level:unit}, {allowed:rate} como máximo].',
  'coach-slow-down': 'Más despacio: {rate:unit}/s, como máximo {allowed:rate}.',
  'coach-in-range': 'En la zona: {rate:unit}/s, como máximo {allowed:rate}.',
  'coach-unclear':
    'En algún lugar de {rate:unit}/s, como máximo {allowed:rate}: seguir despacio y de modo uniforme.',
  'coach-stand-still': 'Ninguna rampa es lo bastante lenta aquí: mantener.',
  'coach-hold': 'Mantener: {left:seconds} más.',
  'coach-held': 'Mantenido el tiempo suficiente.',
};
