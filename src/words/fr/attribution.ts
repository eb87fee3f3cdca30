import type { ATTRIBUTION as EN } from '../en/attribution.ts';
import type { Translation } from '../language.ts';

/** What else could have brought an effect about, and what is missing from the evidence. */
export const ATTRIBUTION: Translation<typeof EN> = {
  'attribution-clear': 'Rien d’autre de ce qui était observé n’a pu provoquer les effets.',
  'competing-cause':
    '{interlock} a peut-être agi au même moment. Répéter avec sa cause certainement absente.',
  'stop-by-hand': '{signal} a été enfoncé, ou a pu l’être, avant l’effet. Répéter sans toucher à l’arrêt.',
  'trip-bit-silent':
    'La machine s’est arrêtée, mais {signal} n’a jamais indiqué de déclenchement : quelqu’un ou autre chose l’a arrêtée. Répéter et regarder qui l’arrête.',
  'hand-stop-not-excluded':
    'Aucun bouton d’arrêt ni aucune indication de déclenchement[ de {machine}] n’est lisible : un arrêt à la main ne peut être exclu. Ajouter l’un des deux, ou faire attester que personne n’a appuyé sur arrêt.',
  'press-not-excluded':
    '{signal} est lu trop rarement pour exclure que quelqu’un l’ait enfoncé un instant. Le lire plus vite qu’un doigt, ou le faire maintenir.',
  'arming-lost': '{signal} a quitté son état armé avant l’effet. Répéter avec la machine à régime stable.',
  'bypass-during-trial':
    '{signal} a indiqué une inhibition, ou a pu le faire, pendant l’épreuve. La lever et répéter.',
  'forced-during-trial':
    '{signal} a été forcé, ou a pu l’être, pendant l’épreuve. Lever le forçage et répéter.',
  'attested-bypass': 'Une inhibition est attestée par {by}.',
  'evidence-gap':
    'Aucune lecture de {signal} pendant {seconds:seconds}, là où elle décide ({absence:absence}). Répéter avec une liaison ininterrompue.',
  'uncertain-value':
    'Le serveur de {signal} a déclaré sa valeur incertaine, ou a perdu des valeurs avant elle, là où elle décide. Y remédier et répéter.',
  'unlisted-change':
    '{signal} est passé à {state}, ce qu’aucun asservissement n’attend ici. Chercher pourquoi, puis répéter.',
  'other-machine-acted':
    '{signal} de {machine} est passé à {state}, ce que cet asservissement ne fait pas. Vérifier à quelle machine il est câblé.',
  'acted-before-cause':
    '{effect} est venu avant que la cause atteigne sa valeur de réglage. Autre chose a agi. Répéter.',
  'siblings-moved': '{signal} a bougé aussi. Ne faire bouger qu’un capteur, et vérifier que c’est le bon.',
  'signal-too-still':
    '{signal} fluctuait auparavant et montre à présent une seule et même valeur, comme si elle était écrite dans le programme. Faire bouger le capteur lui-même et répéter.',
  'raw-disagrees':
    '{shown} ne montre pas ce que montre son entrée brute {raw}. Lever le forçage, ou chercher pourquoi, puis répéter.',
  'setting-changed':
    '{signal} a été modifié pendant l’épreuve[ (à {to})]. Le corriger, inscrire la modification, et répéter.',
  'heartbeat-still':
    '{signal} est figé : l’automate n’exécute peut-être plus son programme. Répéter quand il compte.',
};
