import type { EFFECTS as EN } from '../en/effects.ts';
import type { Translation } from '../language.ts';

/** What the effects did. */
export const EFFECTS: Translation<typeof EN> = {
  'effect-in-time': '{effect} est venu en {response:s} (au plus {within:seconds}).',
  'effect-late': '{effect} est venu trop tard : {response:s}, au plus {within:seconds}.',
  'effect-early': '{effect} est venu trop tôt : {response:s}, pas avant {notBefore:seconds}.',
  'effect-time-undecided':
    'On ne peut décider si {effect} est venu en {within:seconds}[ : {response:s}]. Lire plus souvent[ que toutes les {poll:seconds}], ou faire un échelon franc.',
  'effect-time-reported':
    '{effect} est venu[ ; {response:s} après la valeur de réglage est communiqué, non jugé, car la cause a bougé en rampe].',
  'trip-or-stop':
    '{effect} n’est pas venu, mais quelqu’un a peut-être arrêté la machine sans qu’on le voie, et il n’y avait alors plus rien à déclencher. Lire le bouton d’arrêt plus vite qu’un doigt, ou faire attester que personne ne l’a enfoncé, et répéter.',
  'effect-missing':
    '{effect} n’est pas venu, alors que la cause a été certainement dans sa zone de déclenchement plus de {deadline:seconds}.',
  'effect-was-there':
    '{effect} était là avant que la cause bouge : non essayé ici. Le réarmer et répéter, ou l’essayer avec l’asservissement qui agit en premier.',
  'effect-awaited':
    '{effect} n’était pas venu à la fin de l’épreuve ({within:seconds} étaient permis). Faire durer la cause plus longtemps, et attendre avant de réarmer.',
  'effect-not-reached':
    '{effect} ne pouvait être attendu : la cause n’a jamais été certainement au-delà de sa valeur de réglage. Aller plus loin.',
  'effect-attested': '{effect} est attesté par {by} ; aucun signal ne le montre.',
  'effect-substituted':
    '{effect} ne peut être prouvé par {signal}, car ce capteur a été remplacé pendant l’essai. Le faire attester, ou prendre un autre signal.',
  'held-until-reset':
    '{effect} est resté {seconds:seconds} après la disparition de la cause, sans réarmement.',
  'released-on-recovery':
    '{effect} a disparu quand la cause a disparu, sans réarmement. Il doit être maintenu.',
  'released-while-cause': '{effect} a disparu alors que la cause était encore là.',
  'release-inside': '{effect} a disparu à {value:unit}, dans sa bande de retour {allowed:band}.',
  'release-outside': '{effect} a disparu à {value:unit}, hors de sa bande de retour {allowed:band}.',
  'release-undecided':
    'On ne peut décider si {effect} a disparu dans sa bande de retour {allowed:band} ({value:unit}). Faire revenir la cause plus lentement.',
  'not-released':
    '{effect} est resté alors que la cause était revenue au-delà de sa bande de retour {allowed:band}.',
  'release-not-seen':
    'Le retour de {effect} n’a pas été vu. Faire revenir la cause lentement, au-delà de {allowed:band}, et attendre.',
  'latch-not-tested':
    'Il n’a pas été essayé si {effect} est maintenu jusqu’au réarmement. Laisser disparaître la cause et attendre[ {seconds:seconds}] avant de réarmer et de remettre en marche.',
  'gone-without-reset':
    '{effect} a disparu après l’épreuve alors que personne n’a réarmé. Il doit être maintenu.',
  'effect-momentary':
    '{effect} est venu puis a disparu alors que sa cause était encore là : l’avoir vu tient de la chance. Le faire maintenir, ou le faire durer autant que sa cause.',
  'restarted-without-start': '{effect} est revenu alors que personne n’a appuyé sur marche.',
  'order-kept': '{effect} est venu après {after}, comme il le doit.',
  'order-broken':
    '{effect} est venu avant {after} : la machine s’est peut-être arrêtée pour une autre raison.',
  'order-undecided':
    'On ne peut décider si {effect} est venu après {after}. Lire plus souvent, ou lire les deux en une seule requête.',
  stayed: '{effect} est resté tel quel pendant {seconds:seconds}, comme il le doit.',
  'did-not-stay': '{effect} a changé, mais devait rester tel quel.',
  'stay-not-tested':
    'Il n’a pas été essayé si {effect} reste tel quel : la cause n’a jamais été certainement là.',
  'stay-not-seen':
    '{effect} n’a pas été vu sans interruption pendant {seconds:seconds} après la cause. Attendre plus longtemps avant de fermer l’essai.',
  'not-held-long-enough':
    'La valeur a été maintenue entre ses deux niveaux {seconds:seconds} au plus ; {wanted:seconds} sont demandées. La maintenir plus longtemps.',
  'band-overshot':
    '{effect} a changé, mais la valeur est peut-être allée plus loin que cette épreuve ne le permet. Répéter, et rester entre les deux niveaux.',
};
