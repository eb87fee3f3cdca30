import type { WAITS as EN } from '../en/waits.ts';
import type { Translation } from '../language.ts';

/** What an interlock waits for. */
export const WAITS: Translation<typeof EN> = {
  'not-armed':
    'Attend : {signal} doit être à {state} et y rester jusqu’à la fin du temps de démarrage (encore {remaining:s}).',
  'baseline-settling': 'Attend : tout doit rester calme encore {remaining:s}.',
  'normal-unsteady':
    'Attend : {signal} n’est pas assez stable pour apprendre sa valeur normale (dispersion {spread:share}, au plus {allowed:share}). Laisser tourner sans perturbation.',
  'normal-unknown':
    'Attend : la valeur normale de {signal} n’est pas connue. Laisser tourner la machine, ou donner une valeur normale.',
  'cause-not-clear': 'Attend : {signal} doit revenir dans sa bande de repos[ (à présent {value:unit})].',
  'effect-already-there':
    '{effect} est déjà là. Le réarmer avant la prochaine épreuve, sinon il ne sera pas essayé.',
  'bypass-active': 'Attend : {signal} indique que la protection est inhibée. Lever l’inhibition.',
  'force-active': 'Attend : {signal} indique qu’une valeur est forcée. Lever le forçage.',
  'trip-latched': 'Attend : {signal} est encore déclenché. Le réarmer.',
  'no-reading': 'Attend : aucune lecture de {signal} ({absence:absence}). Vérifier la source.',
  'stop-active': 'Attend : {signal} indique qu’un bouton d’arrêt est enfoncé. Le relâcher.',
  'horn-silenced':
    '{signal} indique que l’avertisseur est mis en silence : une nouvelle alarme risque de ne pas être entendue. Lever le silence avant d’essayer l’avertisseur.',
  'window-not-open': 'Attend : aucun essai n’est ouvert.',
  'moved-unready': 'La cause a bougé avant que l’asservissement soit prêt. Ce mouvement ne compte pas.',
};
