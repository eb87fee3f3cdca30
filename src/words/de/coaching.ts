import type { COACHING as EN } from '../en/coaching.ts';
import type { Translation } from '../language.ts';

/** What whoever moves the cause is told while it moves. */
export const COACHING: Translation<typeof EN> = {
  'coach-no-reading': 'Kein gelesener Wert der Ursache, nach dem man sich richten könnte.',
  'coach-not-there': 'Die Ursache ist noch nicht da.',
  'coach-approach': 'Noch nicht im Bereich[: ab {level:unit} höchstens {allowed:rate}].',
  'coach-slow-down': 'Langsamer: {rate:unit}/s, höchstens {allowed:rate}.',
  'coach-in-range': 'Im Bereich: {rate:unit}/s, höchstens {allowed:rate}.',
  'coach-unclear': 'Irgendwo in {rate:unit}/s, höchstens {allowed:rate}: langsam und gleichmäßig bleiben.',
  'coach-stand-still': 'Keine Rampe ist hier langsam genug: halten.',
  'coach-hold': 'Halten: noch {left:seconds}.',
  'coach-held': 'Lange genug gehalten.',
};
