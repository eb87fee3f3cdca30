import type { ADVICE as EN } from '../en/advice.ts';
import type { Translation } from '../language.ts';

/** How to make the test, from what the polling can decide. */
export const ADVICE: Translation<typeof EN> = {
  'plan-ramp':
    'Rampa de {rate:rate} como máximo[, sin salto desde {from:unit}]; después mantener en {level:unit} durante {seconds:seconds}.',
  'plan-hold':
    'Ninguna rampa es lo bastante lenta. Mantener en {inside:unit} durante {insideFor:seconds} o más: no debe actuar. Después en {acting:unit} durante {actingFor:seconds}: si actúa aquí, es apto. Después en {outside:unit} durante {outsideFor:seconds}: debe actuar.',
  'plan-or-hold':
    'O mantener en {inside:unit} durante {insideFor:seconds} o más: no debe actuar. Después en {acting:unit} durante {actingFor:seconds}: si actúa aquí, es apto. Después en {outside:unit} durante {outsideFor:seconds}: debe actuar.',
  'plan-step':
    'Para el retardo, un escalón desde el valor normal hasta[ {below:unit} o menos][ {above:unit} o más], durante {seconds:seconds}, en el mismo ensayo.',
  'plan-step-first':
    'O primero un escalón desde el valor normal hasta[ {below:unit} o menos][ {above:unit} o más], durante {seconds:seconds}, en el mismo ensayo: mide la reacción, y una rampa de {rate:rate} como máximo es lo bastante lenta.',
  'plan-stop-first':
    'O primero un escalón desde el valor normal hasta parado, durante {seconds:seconds}, en el mismo ensayo: mide la reacción, y una rampa de {rate:rate} como máximo es lo bastante lenta.',
  'plan-stop':
    'Para el retardo, un escalón desde el valor normal hasta parado, durante {seconds:seconds}, en el mismo ensayo.',
  'plan-band': 'Mantenerlo dentro de {within:band} durante {seconds:seconds} o más.',
  'plan-keep': 'Mantener la causa {seconds:seconds} como mínimo.',
};
