import type { PLACES as EN } from '../en/places.ts';
import type { Translation } from '../language.ts';

/** What stands in a sum: where an interval lies, what it is held against, and what is held. */
export const PLACES: Translation<typeof EN> = {
  'wholly-inside': 'ganz innerhalb',
  'wholly-outside': 'ganz außerhalb',
  'across-an-edge': 'über einen Rand hinweg, nicht entschieden',
  accepted: 'angenommen',
  rejected: 'abgelehnt',
  'between-the-two': 'dazwischen, nicht entschieden',
  'not-certainly-outside': 'nicht sicher außerhalb',
  'not-by-this-alone': '{place}, aber dadurch allein nicht entschieden',
  'limit-kept': 'eingehalten',
  'limit-broken': 'verletzt',
  'limit-open': 'nicht entschieden',
  'limit-untested': 'nicht geprüft',

  'band-of-normal': '{percent} % des Normalwerts {value:band} = {allowed:band}',
  'band-of-nameplate': '{percent} % des Typenschildwerts {value:band} = {allowed:band}',
  'at-least': 'mindestens {least:short-unit}',
  'at-most-seconds': 'höchstens {within:seconds}',

  'the-trip-point': 'Auslösepunkt',
  'the-delay': 'Verzögerung',
  'the-delay-of-all': 'Verzögerung aller Versuche zusammen',
  'the-spare': 'Abstand zum Grenzwert',
  'the-difference': 'Abweichung der beiden',
  'the-trip-level': 'Auslösewert',
  'the-value-at-effect': 'Wert beim Eintreten der Wirkung',
  'the-nameplate': 'Typenschild',
  'the-normal-in': 'Normalwert in {window}',
  'the-trial': 'Versuch {trial}',
  'the-demand': 'Wirkliche Auslösung {trial}',
  'trial-alone': 'Versuch {trial} allein {delay:s}',
  'demand-alone': 'wirkliche Auslösung {trial} allein {delay:s}',
  'no-lower-than': 'nicht tiefer als',
  'no-higher-than': 'nicht höher als',
  'beyond-above': 'höher als',
  'beyond-below': 'tiefer als',
  'held-inside': 'innerhalb',
  'held-inside-band': 'innerhalb, das Band beginnt bei {edge:unit}',
  'held-unsure': 'nicht sicher innerhalb',
  'longest-delay': '{longest:seconds}, das Längste, was die angegebene Verzögerung dauern darf',
  'longest-effect': '{longest:seconds}, das Längste, was die erste Wirkung dauern darf',
  'clear-and-seen':
    'weg bis {clear:fixed} s, gehalten zu sehen bis {clear:fixed} + {dwell} = {until:fixed} s, gehalten gesehen bis {held:fixed} s, {behind:fixed} s, nachdem sie weg war',
  'clear-and-unseen':
    'weg bis {clear:fixed} s, gehalten zu sehen bis {clear:fixed} + {dwell} = {until:fixed} s, und danach gar nicht gehalten gesehen',
};
