import type { CAUSES as EN } from '../en/causes.ts';
import type { Translation } from '../language.ts';

/** How a cause is worded; it follows "acts when", and stands alone. */
export const CAUSES: Translation<typeof EN> = {
  'cause-below': '{signal} es menor que {level}',
  'cause-above': '{signal} es mayor que {level}',
  'cause-contact': '{signal} pasa a {state}',
  'cause-no-pulses': 'no llega ningún impulso de {signal} durante {after:seconds}',
  'cause-band':
    '{signal} se mantiene durante {hold:seconds} entre {near}, el borde más cercano al valor normal, y {far}, sin pasar ninguno',
  'cause-sensor-fault':
    'el sensor de {signal} está declarado en avería (hilo roto, cortocircuito, un código de fallo en lugar de un valor)',
  'cause-silent': 'no se sabe nada de {signal} durante {after:seconds}',
  'cause-stuck': '{signal}, que debería moverse, no se mueve más de {within:step} durante {after:seconds}',
  'cause-restart': 'la cuenta {signal} empieza de nuevo: el programa del controlador se volvió a arrancar',
  'cause-all-of': 'todas estas están presentes a la vez: {causes:group}',
  'cause-any-of': 'alguna de estas está presente: {causes:group}',
  'cause-some-of': '{need} de estas {count} están presentes a la vez: {causes:group}',
  'cause-allowed': '{cause}, permitido {allowed:band}',

  'level-normal': 'el valor normal',
  'level-nameplate': 'el valor de placa',
  'level-tag': 'el valor de {signal}',
  'level-tag-unknown': 'una variable no conocida',
  'level-share-of-normal': '{percent} % del valor normal',
  'level-share-of-nameplate': '{percent} % del valor de placa',
  'level-share': '{percent} % × {level}',

  'state-number': 'estado {state}',
  'signal-unknown': 'una señal no conocida',
};
