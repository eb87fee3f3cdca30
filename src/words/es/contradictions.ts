import type { CONTRADICTIONS as EN } from '../en/contradictions.ts';
import type { Translation } from '../language.ts';

/** Two things that cannot both be right. What is dangerous says what to do. */
export const CONTRADICTIONS: Translation<typeof EN> = {
  'cause-without-effect':
    '{interlock} no actúa: {signal} está con certeza en su zona de disparo, nada está anulado y nada ha llegado. Parar la máquina con su paro normal o la parada de emergencia, mantener alejadas a las personas y dejarla fuera de servicio hasta que se aclare.',
  'effect-left-out':
    '{interlock} actúa solo en parte: {effect} no ha llegado aunque {signal} está con certeza en su zona de disparo. Parar la máquina con su paro normal o la parada de emergencia, mantener alejadas a las personas y averiguar por qué.',
  'acted-without-cause':
    '{signal} pasó a {state}, y no había ninguna causa que lleve a ello. Averiguar qué actuó antes de volver a usar la máquina.',
  'acted-on-other-machine':
    '{signal} pasó a {state} mientras {interlock} tiene su causa en otra máquina: puede haber salidas cruzadas. Parar las dos máquinas y comprobar el cableado y el programa.',
  'trip-gone-without-reset':
    '{signal} volvió a «no disparado» aunque nadie pulsó el rearme: el disparo no queda retenido. Mantener la máquina parada y averiguar por qué.',
  'ran-again-without-start':
    '{signal} volvió a marcha después de un disparo aunque nadie pulsó marcha. Parar la máquina, mantener alejadas a las personas y averiguar por qué.',
  'runs-without-command':
    '{signal} muestra que sigue en marcha aunque la orden está quitada. Usar la parada de emergencia o el seccionador, mantener alejadas a las personas y comprobar el contactor o el variador.',
  'bypass-too-long':
    '{signal} lleva anulado más de {hours} h. Quitar la anulación, o vigilar la máquina y registrar por qué sigue.',
  'setting-unrecorded':
    '{signal} cambió[ a {to}], y nadie ha registrado por qué. Registrarlo, y demostrar de nuevo lo que depende de ello.',
  'stop-without-alarm':
    '{signal} se disparó sin que antes llegara la alarma de {interlock}. Comprobar la alarma.',
  'alarm-silenced-before':
    'Se ordenó sonar a {signal} mientras {silence} lo mantenía en silencio: puede que nadie lo haya oído.',
};
