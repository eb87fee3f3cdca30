import type { CAUSES as EN } from '../en/causes.ts';
import type { Translation } from '../language.ts';

/** How a cause is worded; it follows "acts when", and stands alone. */
export const CAUSES: Translation<typeof EN> = {
  'cause-below': '{signal} est au-dessous de {level}',
  'cause-above': '{signal} est au-dessus de {level}',
  'cause-contact': '{signal} passe à {state}',
  'cause-no-pulses': 'aucune impulsion de {signal} ne vient pendant {after:seconds}',
  'cause-band':
    '{signal} est maintenu pendant {hold:seconds} entre {near}, le bord le plus proche de la valeur normale, et {far}, au-delà d’aucun',
  'cause-sensor-fault':
    'le capteur de {signal} est déclaré en défaut (rupture de fil, court-circuit, un code de défaut à la place d’une valeur)',
  'cause-silent': '{signal} ne donne aucun signe pendant {after:seconds}',
  'cause-stuck':
    '{signal}, qui devrait bouger, ne bouge pas de plus de {within:step} pendant {after:seconds}',
  'cause-restart': 'le compte {signal} recommence : le programme de l’automate a été redémarré',
  'cause-all-of': 'toutes celles-ci sont là à la fois : {causes:group}',
  'cause-any-of': 'l’une de celles-ci est là : {causes:group}',
  'cause-some-of': '{need} de ces {count} sont là à la fois : {causes:group}',
  'cause-allowed': '{cause}, permis {allowed:band}',

  'level-normal': 'la valeur normale',
  'level-nameplate': 'la valeur de plaque',
  'level-tag': 'la valeur de {signal}',
  'level-tag-unknown': 'une variable inconnue',
  'level-share-of-normal': '{percent} % de la valeur normale',
  'level-share-of-nameplate': '{percent} % de la valeur de plaque',
  'level-share': '{percent} % de {level}',

  'state-number': 'état {state}',
  'signal-unknown': 'un signal inconnu',
};
