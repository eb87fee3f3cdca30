import type { CONTRADICTIONS as EN } from '../en/contradictions.ts';
import type { Translation } from '../language.ts';

/** Two things that cannot both be right. What is dangerous says what to do. */
export const CONTRADICTIONS: Translation<typeof EN> = {
  'cause-without-effect':
    '{interlock} n’agit pas : {signal} est certainement dans sa zone de déclenchement, rien n’est inhibé, et rien n’est venu. Arrêter la machine par son arrêt normal ou l’arrêt d’urgence, tenir les personnes à l’écart, et la mettre hors service jusqu’à ce que ce soit expliqué.',
  'effect-left-out':
    '{interlock} n’agit qu’en partie : {effect} n’est pas venu alors que {signal} est certainement dans sa zone de déclenchement. Arrêter la machine par son arrêt normal ou l’arrêt d’urgence, tenir les personnes à l’écart, et chercher pourquoi.',
  'acted-without-cause':
    '{signal} est passé à {state}, et aucune cause qui y mène n’était là. Chercher ce qui a agi avant de réutiliser la machine.',
  'acted-on-other-machine':
    '{signal} est passé à {state} alors que {interlock} a sa cause sur une autre machine : des sorties sont peut-être croisées. Arrêter les deux machines et vérifier le câblage et le programme.',
  'trip-gone-without-reset':
    '{signal} est revenu à « non déclenché » alors que personne n’a réarmé : le déclenchement n’est pas maintenu. Garder la machine à l’arrêt et chercher pourquoi.',
  'ran-again-without-start':
    '{signal} est repassé en marche après un déclenchement alors que personne n’a appuyé sur marche. Arrêter la machine, tenir les personnes à l’écart, et chercher pourquoi.',
  'runs-without-command':
    '{signal} montre qu’elle tourne encore alors que l’ordre est coupé. Utiliser l’arrêt d’urgence ou le sectionneur, tenir les personnes à l’écart, et vérifier le contacteur ou le variateur.',
  'bypass-too-long':
    '{signal} est inhibé depuis plus de {hours} h. Lever l’inhibition, ou surveiller la machine sur place et inscrire pourquoi l’inhibition reste.',
  'setting-unrecorded':
    '{signal} a changé[ à {to}], et personne n’a inscrit pourquoi. L’inscrire au journal, et prouver de nouveau ce qui en dépend.',
  'stop-without-alarm':
    '{signal} s’est déclenché sans que l’alarme de {interlock} soit venue avant. Vérifier l’alarme.',
  'alarm-silenced-before':
    '{signal} a reçu l’ordre de sonner alors que {silence} le tenait silencieux : personne ne l’a peut-être entendu.',
};
