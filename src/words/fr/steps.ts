import type { STEPS as EN } from '../en/steps.ts';
import type { Translation } from '../language.ts';

/** What people did on the way through a guided window. */
export const STEPS: Translation<typeof EN> = {
  'step-identified': 'Capteur de {interlock} nommé, {how:naming} : « {typed} ».',
  'step-not-identified': 'Capteur de {interlock} mal nommé, {how:naming} : « {typed} ».',
  'step-watch-alone': 'Capteur de {interlock} touché : seul son signal a bougé.',
  'step-watch-others': 'Capteur de {interlock} touché : ce qui a bougé est {moved}.',
  'step-watch-nothing': 'Capteur de {interlock} touché : rien n’a bougé.',
  'step-watch-open': 'Capteur de {interlock} touché : on n’a pas vu s’il a bougé seul.',
  'step-left': '{interlock} quitté : {why}.',
  'step-taken-up': '{interlock} repris.',
  'step-restored': 'Remis en état : {item:restoration}[ ({note})].',
  'step-away': 'Le service a été absent {seconds:seconds} ; on ne sait rien de ce temps.',
  'step-open': 'Fermé avec ceci encore ouvert : {open:unended}.',
};
