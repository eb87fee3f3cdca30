import type { GAPS as EN } from '../en/gaps.ts';
import type { Translation } from '../language.ts';

/** Parts of a chain that no test has proved, or none for long. */
export const GAPS: Translation<typeof EN> = {
  'gap-all': 'Ningún ensayo ha demostrado parte alguna de {interlock}.',
  'gap-sensor-never':
    'Nadie ha movido el sensor de {interlock}: se inyectó, se forzó o no se ensayó. Mover lo real una vez.',
  'gap-sensor-old': 'El sensor de {interlock} no se ha movido desde el {at:day} ({window}).',
  'gap-never': 'De {interlock} nadie ha demostrado: {segments:segment}.',
  'gap-old': 'De {interlock}, no demostrado desde el {at:day} ({window}): {segments:segment}.',
  'gap-stale':
    'De {interlock}, demostrado el {at:day} ({window}), sobre lo que ya no funciona: {segments:segment}.',
};
