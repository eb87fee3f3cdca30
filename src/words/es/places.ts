import type { PLACES as EN } from '../en/places.ts';
import type { Translation } from '../language.ts';

/** What stands in a sum: where an interval lies, what it is held against, and what is held. */
export const PLACES: Translation<typeof EN> = {
  'wholly-inside': 'del todo dentro',
  'wholly-outside': 'del todo fuera',
  'across-an-edge': 'a ambos lados de un borde, no decidido',
  accepted: 'aceptado',
  rejected: 'rechazado',
  'between-the-two': 'entre los dos, no decidido',
  'not-certainly-outside': 'no fuera con certeza',
  'not-by-this-alone': '{place}, pero no decidido solo por esto',
  'limit-kept': 'respetado',
  'limit-broken': 'incumplido',
  'limit-open': 'no decidido',
  'limit-untested': 'no ensayado',

  'band-of-normal': '{percent} % del valor normal {value:band} = {allowed:band}',
  'band-of-nameplate': '{percent} % del valor de placa {value:band} = {allowed:band}',
  'at-least': 'al menos {least:short-unit}',
  'at-most-seconds': '{within:seconds} como máximo',

  'the-trip-point': 'Punto de disparo',
  'the-delay': 'Retardo',
  'the-delay-of-all': 'Retardo que explica juntas todas las pruebas',
  'the-spare': 'Margen hasta el límite',
  'the-difference': 'Diferencia entre los dos',
  'the-trip-level': 'nivel de disparo',
  'the-value-at-effect': 'valor cuando llegó el efecto',
  'the-nameplate': 'placa de características',
  'the-normal-in': 'valor normal en {window}',
  'the-trial': 'Prueba {trial}',
  'the-demand': 'Disparo real {trial}',
  'trial-alone': 'prueba {trial} sola {delay:s}',
  'demand-alone': 'disparo real {trial} solo {delay:s}',
  'no-lower-than': 'no inferior a',
  'no-higher-than': 'no superior a',
  'beyond-above': 'superior a',
  'beyond-below': 'inferior a',
  'held-inside': 'dentro',
  'held-inside-band': 'dentro, la banda empieza en {edge:unit}',
  'held-unsure': 'no dentro con certeza',
  'longest-delay': '{longest:seconds}, lo máximo que puede durar el retardo declarado',
  'longest-effect': '{longest:seconds}, lo máximo que puede tardar su primer efecto',
  'clear-and-seen':
    'ausente antes de {clear:fixed} s, debe verse retenido hasta {clear:fixed} + {dwell} = {until:fixed} s, visto retenido hasta {held:fixed} s, {behind:fixed} s después de desaparecer la causa',
  'clear-and-unseen':
    'ausente antes de {clear:fixed} s, debe verse retenido hasta {clear:fixed} + {dwell} = {until:fixed} s, y no se vio retenido después de desaparecer la causa',
};
