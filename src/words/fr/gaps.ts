import type { GAPS as EN } from '../en/gaps.ts';
import type { Translation } from '../language.ts';

/** Parts of a chain that no test has proved, or none for long. */
export const GAPS: Translation<typeof EN> = {
  'gap-all': 'Aucun essai n’a prouvé la moindre partie de {interlock}.',
  'gap-sensor-never':
    'Personne n’a fait bouger le capteur de {interlock} : il a été simulé par injection, forcé ou non essayé. Faire bouger le vrai une fois.',
  'gap-sensor-old': 'Le capteur de {interlock} n’a pas bougé depuis le {at:day} ({window}).',
  'gap-never': 'De {interlock}, personne n’a prouvé : {segments:segment}.',
  'gap-old': 'De {interlock}, non prouvé depuis le {at:day} ({window}) : {segments:segment}.',
  'gap-stale':
    'De {interlock}, prouvé le {at:day} ({window}), sur ce qui ne tourne plus : {segments:segment}.',
};
