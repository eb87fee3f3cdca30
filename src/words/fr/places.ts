import type { PLACES as EN } from '../en/places.ts';
import type { Translation } from '../language.ts';

/** What stands in a sum: where an interval lies, what it is held against, and what is held. */
export const PLACES: Translation<typeof EN> = {
  'wholly-inside': 'entièrement dedans',
  'wholly-outside': 'entièrement dehors',
  'across-an-edge': 'de part et d’autre d’un bord, non décidé',
  accepted: 'accepté',
  rejected: 'rejeté',
  'between-the-two': 'entre les deux, non décidé',
  'not-certainly-outside': 'pas certainement dehors',
  'not-by-this-alone': '{place}, mais cela seul ne décide pas',
  'limit-kept': 'respectée',
  'limit-broken': 'enfreinte',
  'limit-open': 'non décidé',
  'limit-untested': 'non essayée',

  'band-of-normal': '{percent} % de la valeur normale {value:band} = {allowed:band}',
  'band-of-nameplate': '{percent} % de la valeur de plaque {value:band} = {allowed:band}',
  'at-least': 'au moins {least:short-unit}',
  'at-most-seconds': '{within:seconds} au plus',

  'the-trip-point': 'Point de déclenchement',
  'the-delay': 'Temporisation',
  'the-delay-of-all': 'Temporisation qui explique toutes les épreuves ensemble',
  'the-spare': 'Marge jusqu’à la limite',
  'the-difference': 'Écart des deux',
  'the-trip-level': 'niveau de déclenchement',
  'the-value-at-effect': 'valeur à la venue de l’effet',
  'the-nameplate': 'plaque signalétique',
  'the-normal-in': 'valeur normale dans {window}',
  'the-trial': 'Épreuve {trial}',
  'the-demand': 'Déclenchement réel {trial}',
  'trial-alone': 'épreuve {trial} seule {delay:s}',
  'demand-alone': 'déclenchement réel {trial} seul {delay:s}',
  'no-lower-than': 'pas moins de',
  'no-higher-than': 'pas plus de',
  'beyond-above': 'plus de',
  'beyond-below': 'moins de',
  'held-inside': 'dedans',
  'held-inside-band': 'dedans, la bande commence à {edge:unit}',
  'held-unsure': 'pas certainement dedans',
  'longest-delay': '{longest:seconds}, le plus long que peut durer la temporisation déclarée',
  'longest-effect': '{longest:seconds}, le plus long que peut prendre son premier effet',
  'clear-and-seen':
    'absente avant {clear:fixed} s, à voir maintenu jusqu’à {clear:fixed} + {dwell} = {until:fixed} s, vu maintenu jusqu’à {held:fixed} s, {behind:fixed} s après la disparition de la cause',
  'clear-and-unseen':
    'absente avant {clear:fixed} s, à voir maintenu jusqu’à {clear:fixed} + {dwell} = {until:fixed} s, et jamais vu maintenu après la disparition de la cause',
};
