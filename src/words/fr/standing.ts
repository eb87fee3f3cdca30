import type { STANDING as EN } from '../en/standing.ts';
import type { Translation } from '../language.ts';

/** What happened to the window or the trial as a whole. */
export const STANDING: Translation<typeof EN> = {
  'normal-changed':
    'La valeur normale de {signal} a changé pendant l’essai. Répéter avec une seule valeur normale.',
  'revision-changed':
    'Le programme est passé de {from} à {to} pendant l’essai. Essayer de nouveau sur le programme qui reste.',
  'clock-stepped': 'L’horloge[ de {source}] a été décalée de {by:seconds} pendant l’épreuve. La répéter.',
  'not-reached': 'La cause n’a jamais atteint sa zone de déclenchement. Aller plus loin.',
  'no-trial': 'Aucune épreuve n’a eu lieu.',
  'adjusted-untested':
    'Il a été réglé après sa dernière épreuve : tel qu’il est laissé, il n’a pas été essayé. Faire une épreuve.',
  'trial-aborted': 'L’épreuve a été abandonnée par {by}[ : {text}].',
  interrupted: 'L’enregistrement a été interrompu[ pendant {seconds:seconds}]. Répéter l’épreuve.',
  unfinished:
    'L’épreuve n’a pas été terminée. Laisser disparaître la cause et attendre avant de fermer l’essai.',
  'cause-reached-tag-fault':
    'La cause n’a été vue que comme un défaut de son signal ({absence:absence}) : cela ne prouve aucun point de déclenchement.',
  'as-found-failed':
    'Tel que trouvé, l’asservissement était non conforme (épreuve {trial}). Une conformité ultérieure ne l’efface pas.',
};
