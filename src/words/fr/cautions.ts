import type { CAUTIONS as EN } from '../en/cautions.ts';
import type { Translation } from '../language.ts';

/** What to do where a protection did not act. */
const ABSENT =
  'arrêter la machine par son arrêt normal ou l’arrêt d’urgence, tenir les personnes à l’écart, la mettre hors service, signaler la défaillance';

/** What is printed on every report, and confirmed before a guided window is opened. */
export const CAUTIONS: Translation<typeof EN> = {
  'precaution-observes-only':
    'Cet outil observe. Il ne protège pas, ne déclenche pas, ne réarme pas et ne consigne rien. Un résultat conforme montre le comportement pendant un essai, avec une révision du programme.',
  'precaution-lock-out':
    'Consigner et étiqueter avant d’y mettre la main, de régler ou de nettoyer. Si un essai demande de l’énergie : écarter les outils, écarter les personnes, ôter les cadenas, mettre sous tension, essayer, mettre hors tension, consigner de nouveau.',
  'precaution-run-empty':
    'Tourner à vide. Arrêter d’abord l’alimentation en produit. Ne jamais débourrer un élévateur par à-coups.',
  'precaution-guards-on':
    'Protecteurs en place. Ne jamais neutraliser un protecteur pour atteindre un capteur : points rentrants, tension accumulée.',
  'precaution-ignition':
    'Les décapeurs thermiques, les flammes, les testeurs et les tablettes non certifiés sont des sources d’inflammation dans la poussière. D’abord le nettoyage, puis un permis de feu ; plutôt un four d’étalonnage à sec ou une substitution.',
  'caution-hot': 'Les paliers et les patins de frottement chauds brûlent.',
  'precaution-warn-before-start':
    'Avertir et contrôler la ligne avant tout démarrage ; avertir de nouveau si le démarrage tarde.',
  'precaution-no-bypass':
    'Ne jamais inhiber en production pour un essai. Si c’est inévitable : autorisé, limité dans le temps, surveillé, annoncé, noté, levé, essayé de nouveau.',
  'caution-no-isolation': 'Un arrêt d’urgence n’est pas une consignation. Un poste d’arrêt n’isole pas.',
  'caution-forcing':
    'Forcer une valeur peut mettre des machines en mouvement. Écarter les personnes. Le forçage reste quand le portable s’en va.',
  'caution-electrical':
    'Travaux électriques par des personnes qualifiées seulement. Attention aux chutes et aux espaces confinés : tête d’élévateur, fosses, silos.',
  'precaution-stop-at-hand': `Si un arrêt exigé ne se produit pas : ${ABSENT}.`,
  'caution-after':
    'Après l’essai : cibles et capots remis, inhibitions levées, rien de forcé, valeurs de réglage comme prévu, avertisseur de nouveau audible, opérateurs avertis.',
  'precaution-local-rules':
    'Les règles locales, les notices des constructeurs et l’étude de sécurité du site prévalent. Personnes qualifiées seulement.',
  'stop-failed-at-once': `Cet arrêt a échoué. Aussitôt : ${ABSENT}.`,
};
