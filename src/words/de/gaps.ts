import type { GAPS as EN } from '../en/gaps.ts';
import type { Translation } from '../language.ts';

/** Parts of a chain that no test has proved, or none for long. */
export const GAPS: Translation<typeof EN> = {
  'gap-all': 'Keine Prüfung hat irgendeinen Teil von {interlock} nachgewiesen.',
  'gap-sensor-never':
    'Niemand hat den Sensor von {interlock} bewegt: Es wurde eingespeist, erzwungen oder nicht geprüft. Einmal das Wirkliche bewegen.',
  'gap-sensor-old': 'Der Sensor von {interlock} wurde seit {at:day} nicht bewegt ({window}).',
  'gap-never': 'Von {interlock} hat niemand nachgewiesen: {segments:segment}.',
  'gap-old': 'Von {interlock} seit {at:day} nicht nachgewiesen ({window}): {segments:segment}.',
  'gap-stale':
    'Von {interlock} am {at:day} nachgewiesen ({window}), an dem, was nicht mehr läuft: {segments:segment}.',
};
