import type { EFFECTS as EN } from '../en/effects.ts';
import type { Translation } from '../language.ts';

/** What the effects did. */
export const EFFECTS: Translation<typeof EN> = {
  'effect-in-time': '{effect} llegó en {response:s} (como máximo {within:seconds}).',
  'effect-late': '{effect} llegó demasiado tarde: {response:s}, como máximo {within:seconds}.',
  'effect-early': '{effect} llegó demasiado pronto: {response:s}, no antes de {notBefore:seconds}.',
  'effect-time-undecided':
    'No se puede decidir si {effect} llegó dentro de {within:seconds}[: {response:s}]. Leer más a menudo[ que cada {poll:seconds}], o hacer un escalón brusco.',
  'effect-time-reported':
    '{effect} llegó[; {response:s} después del valor de ajuste se comunica, no se juzga, porque la causa se movió en rampa].',
  'trip-or-stop':
    '{effect} no llegó, pero puede que alguien parara la máquina sin que se viera, y entonces no quedaba nada que disparar. Leer el pulsador de paro más rápido que un dedo, o hacer atestiguar que nadie lo pulsó, y repetir.',
  'effect-missing':
    '{effect} no llegó, aunque la causa estuvo con certeza en su zona de disparo más de {deadline:seconds}.',
  'effect-was-there':
    '{effect} ya estaba presente antes de que la causa se moviera: no ensayado aquí. Rearmarlo y repetir, o ensayarlo con el enclavamiento que actúa primero.',
  'effect-awaited':
    '{effect} no había llegado cuando terminó la prueba (se permitían {within:seconds}). Dejar que la causa dure más, y esperar antes de rearmar.',
  'effect-not-reached':
    '{effect} no se podía esperar: la causa nunca pasó con certeza de su valor de ajuste. Ir más allá.',
  'effect-attested': '{effect} está atestiguado por {by}; ninguna señal lo muestra.',
  'effect-substituted':
    '{effect} no se puede demostrar con {signal}, porque ese sensor estuvo sustituido durante el ensayo. Hacerlo atestiguar, o usar otra señal.',
  'held-until-reset':
    '{effect} permaneció {seconds:seconds} después de que la causa desapareciera, sin rearme.',
  'released-on-recovery':
    '{effect} desapareció cuando desapareció la causa, sin rearme. Debe quedar retenido.',
  'released-while-cause': '{effect} desapareció mientras la causa seguía presente.',
  'release-inside': '{effect} desapareció en {value:unit}, dentro de su banda de retorno {allowed:band}.',
  'release-outside': '{effect} desapareció en {value:unit}, fuera de su banda de retorno {allowed:band}.',
  'release-undecided':
    'No se puede decidir si {effect} desapareció dentro de su banda de retorno {allowed:band} ({value:unit}). Hacer retroceder la causa más despacio.',
  'not-released':
    '{effect} permaneció aunque la causa había retrocedido más allá de su banda de retorno {allowed:band}.',
  'release-not-seen':
    'No se vio el retorno de {effect}. Hacer retroceder la causa despacio, más allá de {allowed:band}, y esperar.',
  'latch-not-tested':
    'No se ensayó si {effect} queda retenido hasta el rearme. Dejar que la causa desaparezca y esperar[ {seconds:seconds}] antes de rearmar y poner en marcha.',
  'gone-without-reset':
    '{effect} desapareció después de la prueba aunque nadie pulsó el rearme. Debe quedar retenido.',
  'effect-momentary':
    '{effect} llegó y desapareció mientras su causa seguía presente: haberlo visto es cuestión de suerte. Hacer que quede retenido, o que dure tanto como su causa.',
  'restarted-without-start': '{effect} volvió aunque nadie pulsó marcha.',
  'order-kept': '{effect} llegó después de {after}, como debe ser.',
  'order-broken': '{effect} llegó antes de {after}: la máquina puede haber parado por otra razón.',
  'order-undecided':
    'No se puede decidir si {effect} llegó después de {after}. Leer más a menudo, o leer ambos en una sola petición.',
  stayed: '{effect} siguió como estaba durante {seconds:seconds}, como debe ser.',
  'did-not-stay': '{effect} cambió, pero debía seguir como estaba.',
  'stay-not-tested': 'No se ensayó si {effect} sigue como está: la causa nunca estuvo presente con certeza.',
  'stay-not-seen':
    '{effect} no se vio sin interrupción durante {seconds:seconds} después de la causa. Esperar más antes de cerrar el ensayo.',
  'not-held-long-enough':
    'El valor se mantuvo entre sus dos niveles {seconds:seconds} como máximo; se piden {wanted:seconds}. Mantenerlo más tiempo.',
  'band-overshot':
    '{effect} cambió, pero el valor puede haber ido más lejos de lo que esta prueba permite. Repetir, y permanecer entre los dos niveles.',
};
