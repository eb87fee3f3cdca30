import type { LEVELS as EN } from '../en/levels.ts';
import type { Translation } from '../language.ts';

/** Set point, delay, limit and normal. An undecided one says what would decide it. */
export const LEVELS: Translation<typeof EN> = {
  'set-point-inside':
    'Le point de déclenchement {trip:unit} est [~probability|entièrement ]dans la bande de la valeur de réglage {allowed:band}[ ; temporisation {delay:s}][ ; selon la meilleure estimation, probabilité de conformité {probability:chance}].',
  'set-point-outside':
    'Le point de déclenchement {trip:unit} est [~probability|entièrement ]hors de la bande de la valeur de réglage {allowed:band}[ ; selon la meilleure estimation, probabilité de conformité {probability:chance}].',
  'set-point-undecided':
    'Le point de déclenchement {trip:unit} n’est ni [~probability|entièrement ]dans la bande {allowed:band} ni [~probability|entièrement ]hors d’elle[ ; selon la meilleure estimation, probabilité de conformité {probability:chance}]. Faire une épreuve à valeur maintenue : maintenir juste à l’intérieur, puis juste à l’extérieur[ ; ou une rampe d’au plus {advised:rate} à cette cadence de lecture].',
  'reaction-not-measured':
    'Le point de déclenchement {trip:unit} est dans la bande {allowed:band} si l’action est immédiate. Elle peut prendre jusqu’à {reaction:s} : il peut alors être à {within:unit}[ ; probabilité de conformité {probability:chance}]. Faire bouger la cause plus lentement, ou ajouter dans le même essai un échelon bien au-delà de la valeur de réglage, qui mesure le temps d’action.',
  'level-and-delay-not-separated':
    'Une seule rampe ne distingue pas une valeur de réglage basse d’une longue temporisation[ (point de déclenchement {trip:unit}, temporisation {delay:s})][ ; probabilité que le point de déclenchement soit conforme : {probability:chance}]. Ajouter dans le même essai un échelon bien au-delà de la valeur de réglage, ou une épreuve à valeur maintenue.',
  'level-or-delay-outside':
    'La valeur de réglage et la temporisation ne peuvent être justes toutes les deux : avec la temporisation déclarée[ ({delay:s})] le point de déclenchement serait {trip:unit}, hors de {allowed:band}.',
  'trials-disagree':
    'Aucune valeur de réglage avec aucune temporisation n’explique toutes les épreuves ensemble. L’asservissement ne se répète pas, ou autre chose a agi. Répéter les épreuves.',
  'limit-met':
    'Le point de déclenchement {trip:unit} respecte la limite {limit:band} ({basis})[ ; selon la meilleure estimation, probabilité de conformité {probability:chance}].',
  'limit-violated':
    'Le point de déclenchement {trip:unit} enfreint la limite {limit:band} ({basis})[ ; selon la meilleure estimation, probabilité de conformité {probability:chance}].',
  'limit-undecided':
    'Le point de déclenchement {trip:unit} peut être d’un côté ou de l’autre de la limite {limit:band} ({basis})[ ; selon la meilleure estimation, probabilité de conformité {probability:chance}]. Faire une rampe plus lente, ou une épreuve à valeur maintenue juste à l’intérieur de la limite.',
  'limit-without-action':
    'Maintenue au-delà de {value:unit} pendant {seconds:seconds}, la cause n’a rien fait agir, alors que la limite est {limit:band} ({basis}).',
  'limit-not-tested':
    'La limite ({basis}) n’a pas été essayée : aucun point de déclenchement n’a été mesuré.',
  'delay-inside':
    'La temporisation {delay:s} est [~probability|entièrement ]dans {allowed:band-s}[ ; selon la meilleure estimation, probabilité de conformité {probability:chance}].',
  'delay-outside':
    'La temporisation {delay:s} est [~probability|entièrement ]hors de {allowed:band-s}[ ; selon la meilleure estimation, probabilité de conformité {probability:chance}].',
  'delay-undecided':
    'On ne peut décider si la temporisation {delay:s} est dans {allowed:band-s}[ ; selon la meilleure estimation, probabilité de conformité {probability:chance}]. Lire plus souvent, ou faire un échelon plus franc.',
  'delay-not-measured':
    'La temporisation[ (déclarée {allowed:band-s})] n’a pas été mesurée. Faire dans cet essai un échelon bien au-delà de la valeur de réglage.',
  'normal-agrees':
    'La valeur normale {normal:unit} concorde avec la plaque signalétique {nameplate:unit} (± {allowance} %).',
  'normal-disagrees':
    'La valeur normale {normal:unit} s’écarte de la plaque signalétique {nameplate:unit} de plus de {allowance} %. Elle a peut-être été apprise avec une bande qui patinait. Vérifier la vitesse à la main.',
  'normal-agrees-with':
    'La valeur normale {normal:unit} concorde avec {signal}, qui donne {reference:unit} (± {allowance} %).',
  'normal-differs-from':
    'La valeur normale {normal:unit} s’écarte de {signal}, qui donne {reference:unit}, de plus de {allowance} %. La bande patine peut-être. Vérifier la vitesse à la main.',
  'normal-unsure-against':
    'On ne peut décider si la valeur normale {normal:unit} concorde avec {signal}, qui donne {reference:unit} (± {allowance} %). Lire les deux avec une résolution plus fine.',
  'normal-without-reference': 'La valeur normale ne peut être comparée à {signal} : il n’a pas de valeur.',
  'normal-as-before':
    'La valeur normale {normal:unit} est la même que dans {window} ({earlier:unit}, ± {allowance} %).',
  'normal-moved':
    'La valeur normale {normal:unit} a changé de plus de {allowance} % depuis {window} ({earlier:unit}). Chercher pourquoi et vérifier la vitesse à la main : elle a peut-être été apprise avec une bande qui patinait.',
  'normal-undecided':
    'On ne peut décider si la valeur normale {normal:unit} concorde avec la plaque signalétique {nameplate:unit} (± {allowance} %). Laisser tourner plus longtemps à régime stable, ou lire avec une résolution plus fine.',
  'no-nameplate':
    'Aucune valeur de plaque signalétique n’est indiquée[ pour {basis}] : la valeur normale ne peut lui être comparée.',
  'quiet-inside':
    'Maintenu à {value:unit} pendant {seconds:seconds}, juste à l’intérieur de sa valeur de réglage, il n’a pas agi.',
  'acted-inside':
    'Il a agi à {value:unit}, alors que la cause n’avait certainement pas atteint la bande de la valeur de réglage.',
  'on-return-as-declared':
    'Quand la cause est revenue un instant, la temporisation {found:return}, comme déclaré.',
  'on-return-otherwise':
    'Quand la cause est revenue un instant, la temporisation {found:return} ; il est déclaré qu’elle {declared:return}.',
  'acted-after-return':
    'Il a agi alors que la cause n’avait duré que {lasted:seconds} et était repartie ; la temporisation est {delay:s}. La temporisation ne recommence pas.',
  'observed-agrees':
    'Au capteur, l’instrument ({instrument}) indiquait {observed:unit} (lu par {by}), l’automate {trip:unit} : ils concordent dans la tolérance.',
  'observed-disagrees':
    'Au capteur, l’instrument ({instrument}) indiquait {observed:unit} (lu par {by}), mais l’automate avait {trip:unit}. Vérifier la mise à l’échelle et le capteur.',
  'observed-undecided':
    'Au capteur, l’instrument ({instrument}) indiquait {observed:unit} (lu par {by}), l’automate {trip:unit} : on ne peut décider s’ils concordent dans la tolérance. Faire bouger la cause plus lentement, ou prendre un instrument plus fin.',
  'observed-without-trip':
    'Au capteur, l’instrument ({instrument}) indiquait {observed:unit} (lu par {by}), mais il n’y a pas de déclenchement auquel le comparer.',
  repeats: '{trials} épreuves concordent à {apart:unit} près[ (permis {allowed:band})].',
  'does-not-repeat': '{trials} épreuves diffèrent de {apart:unit}, plus que le permis, {allowed:band}.',
  'repeat-undecided':
    'On ne peut décider si {trials} épreuves concordent : elles diffèrent de {apart:unit}, {allowed:band} permis. Faire bouger la cause plus lentement.',
  'repeat-more': '{wanted} épreuves sont demandées ; {trials} sont comparables. En faire d’autres.',
  'contact-has-no-trip-point': 'La cause est un contact ; elle n’a pas de point de déclenchement.',
  'response-reported': 'Le temps de réponse[ {response:s}] est communiqué, non jugé.',
};
