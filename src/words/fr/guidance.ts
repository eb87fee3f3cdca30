import type { GUIDANCE as EN } from '../en/guidance.ts';
import type { Translation } from '../language.ts';

/** What stands against closing a guided window, and why a step is not taken now. */
export const GUIDANCE: Translation<typeof EN> = {
  'guide-trial-runs': 'Une épreuve de {interlock} est en cours. La laisser finir, ou l’abandonner.',
  'guide-no-trial': '{interlock} n’a pas été essayé. L’essayer, ou le quitter et dire pourquoi.',
  'guide-undecided':
    '{interlock} n’est pas décidé après {trials} {trials|épreuve|épreuves}. Essayer encore, ou le quitter et dire pourquoi.',
  'guide-not-identified':
    '{interlock} a été essayé, et personne n’a bien nommé son capteur. Le nommer, ou dire dans une note pourquoi non.',
  'guide-not-alone':
    'Quand on a touché le capteur de {interlock}, son signal n’a pas bougé seul. Trouver le bon capteur et observer de nouveau.',
  'guide-not-attested': 'Personne n’a attesté pendant une épreuve de {interlock} : {what:attestation}.',
  'guide-not-restored': 'Pas encore remis en état : {item:restoration}.',
  'guide-permit': 'Dire sous quel permis l’essai est fait, ou « none needed » et pourquoi.',
  'guide-permit-why': 'Si aucun permis n’est nécessaire, dire pourquoi : « none needed: … ».',
  'guide-people': 'Nommer au moins une personne qui essaie.',
  'guide-precautions': 'Confirmer d’abord chaque précaution. Il manque : {missing}.',
  'guide-no-book':
    'L’essai ne peut pas continuer : le site a été changé pendant l’absence du service. Ce qui a été essayé avant figure dans le journal.',
  'guide-too-long':
    'L’essai ne peut pas continuer : personne n’est revenu pendant {minutes} minutes. Ce qui a été essayé avant figure dans le journal.',
  'guide-clock-back':
    'L’essai ne peut pas continuer : l’horloge de cette machine a été retardée pendant l’absence du service. Ce qui a été essayé avant figure dans le journal.',
  'guide-not-the-same':
    'L’essai ne peut pas continuer : cette version du programme juge autrement ce qui a été enregistré. Ce qui a été essayé avant figure dans le journal.',
  'guide-not-open': 'L’essai {window} n’est pas ouvert.',
  'guide-not-guided': 'L’essai {window} n’est pas guidé : des marques suffisent.',
  'guide-not-in-window': '{interlock} n’est pas essayé ici. Sont essayés : {known}.',
  'guide-is-left': '{interlock} a été quitté. Le reprendre d’abord.',
  'guide-not-left': '{interlock} n’est pas terminé : il n’y a rien à reprendre.',
  'guide-in-trial': 'Une épreuve de {interlock} est en cours. Attendre qu’elle soit finie.',
  'guide-identify-first':
    'Nommer d’abord le capteur de {interlock} : ce qui est écrit sur sa plaque, ou son signal.',
  'guide-wait-first': '{interlock} n’est pas prêt. Voir ce qu’il attend.',
  'guide-call-first': 'Annoncer d’abord le mouvement de {interlock}.',
  'guide-repeat-first': 'Attendre que l’autre personne ait répété l’annonce pour {interlock}.',
  'guide-counting': 'Le compte à rebours est déjà lancé, jusqu’à {at}.',
  'guide-not-counting': 'Aucun compte à rebours pour {interlock}.',
  'guide-watching': 'On observe déjà ce qui bouge pour {interlock}.',
  'guide-not-watching': 'On n’observe pas ce qui bouge pour {interlock}.',
  'guide-blind': 'Aucune lecture de {signal} dans les dernières secondes à laquelle comparer un mouvement.',
};
