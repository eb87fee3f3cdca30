import type { COACHING as EN } from '../en/coaching.ts';
import type { Translation } from '../language.ts';

/** What whoever moves the cause is told while it moves. */
export const COACHING: Translation<typeof EN> = {
  'coach-no-reading': 'Aucune lecture de la cause pour se guider.',
  'coach-not-there': 'La cause n’est pas encore là.',
  'coach-approach': 'Pas encore dans la zone[ : à partir de {level:unit}, au plus {allowed:rate}].',
  'coach-slow-down': 'Ralentir : {rate:unit}/s, au plus {allowed:rate}.',
  'coach-in-range': 'Dans la zone : {rate:unit}/s, au plus {allowed:rate}.',
  'coach-unclear': 'Quelque part dans {rate:unit}/s, au plus {allowed:rate} : rester lent et régulier.',
  'coach-stand-still': 'Aucune rampe n’est assez lente ici : maintenir.',
  'coach-hold': 'Maintenir : encore {left:seconds}.',
  'coach-held': 'Maintenu assez longtemps.',
};
