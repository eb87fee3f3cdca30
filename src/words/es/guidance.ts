import type { GUIDANCE as EN } from '../en/guidance.ts';
import type { Translation } from '../language.ts';

/** What stands against closing a guided window, and why a step is not taken now. */
export const GUIDANCE: Translation<typeof EN> = {
  'guide-trial-runs': 'Una prueba de {interlock} está en curso. Dejar que termine, o abortarla.',
  'guide-no-trial': '{interlock} no se ha probado. Probarlo, o dejarlo y decir por qué.',
  'guide-undecided':
    '{interlock} no está decidido después de {trials} {trials|prueba|pruebas}. Probar otra vez, o dejarlo y decir por qué.',
  'guide-not-identified':
    '{interlock} se probó, y nadie ha nombrado bien su sensor. Nombrarlo, o decir en una nota por qué no.',
  'guide-not-alone':
    'Al tocar el sensor de {interlock} no se movió solo su señal. Buscar el sensor correcto y observar otra vez.',
  'guide-not-attested': 'Nadie ha atestiguado durante una prueba de {interlock}: {what:attestation}.',
  'guide-not-restored': 'Todavía sin restablecer: {item:restoration}.',
  'guide-permit': 'Decir con qué permiso se hace el ensayo, o «none needed» y por qué.',
  'guide-permit-why': 'Donde no hace falta permiso, decir por qué: «none needed: …».',
  'guide-people': 'Nombrar al menos a una persona que ensaye.',
  'guide-precautions': 'Confirmar primero cada precaución. Faltan: {missing}.',
  'guide-no-book':
    'El ensayo no puede seguir: la planta se cambió mientras el servicio estaba ausente. Lo ensayado antes consta en el registro.',
  'guide-too-long':
    'El ensayo no puede seguir: nadie volvió durante {minutes} minutos. Lo ensayado antes consta en el registro.',
  'guide-clock-back':
    'El ensayo no puede seguir: el reloj de esta máquina se atrasó mientras el servicio estaba ausente. Lo ensayado antes consta en el registro.',
  'guide-not-the-same':
    'El ensayo no puede seguir: esta versión del programa juzga de otra manera lo registrado. Lo ensayado antes consta en el registro.',
  'guide-not-open': 'El ensayo {window} no está abierto.',
  'guide-not-guided': 'El ensayo {window} no es guiado: bastan las marcas.',
  'guide-not-in-window': '{interlock} no se ensaya en este ensayo. Se ensayan: {known}.',
  'guide-is-left': '{interlock} se dejó. Retomarlo primero.',
  'guide-not-left': '{interlock} no ha terminado: no hay nada que retomar.',
  'guide-in-trial': 'Una prueba de {interlock} está en curso. Esperar a que termine.',
  'guide-identify-first': 'Nombrar primero el sensor de {interlock}: lo que pone en su placa, o su señal.',
  'guide-wait-first': '{interlock} no está listo. Ver qué espera.',
  'guide-call-first': 'Anunciar primero el movimiento de {interlock}.',
  'guide-repeat-first': 'Esperar a que la otra persona haya repetido el anuncio para {interlock}.',
  'guide-counting': 'Ya hay una cuenta atrás, hasta {at}.',
  'guide-not-counting': 'No hay cuenta atrás para {interlock}.',
  'guide-watching': 'Ya se observa qué se mueve para {interlock}.',
  'guide-not-watching': 'No se observa qué se mueve para {interlock}.',
  'guide-blind': 'No hay lecturas de {signal} de los últimos segundos con las que comparar un movimiento.',
};
