import type { STANDING as EN } from '../en/standing.ts';
import type { Translation } from '../language.ts';

/** What happened to the window or the trial as a whole. */
export const STANDING: Translation<typeof EN> = {
  'normal-changed': 'El valor normal de {signal} cambió durante el ensayo. Repetir con un solo valor normal.',
  'revision-changed':
    'El programa cambió de {from} a {to} durante el ensayo. Ensayar de nuevo con el programa que queda.',
  'clock-stepped': 'El reloj[ de {source}] se ajustó en {by:seconds} durante la prueba. Repetirla.',
  'not-reached': 'La causa nunca alcanzó su zona de disparo. Ir más allá.',
  'no-trial': 'No hubo ninguna prueba.',
  'adjusted-untested':
    'Se ajustó después de su última prueba: tal como se deja, no está ensayado. Hacer una prueba.',
  'trial-aborted': 'La prueba fue abortada por {by}[: {text}].',
  interrupted: 'El registro se interrumpió[ durante {seconds:seconds}]. Repetir la prueba.',
  unfinished: 'La prueba no se terminó. Dejar que la causa desaparezca y esperar antes de cerrar el ensayo.',
  'cause-reached-tag-fault':
    'La causa solo se vio como un fallo de su señal ({absence:absence}): eso no demuestra ningún punto de disparo.',
  'as-found-failed':
    'Tal como se encontró, el enclavamiento resultó no apto (prueba {trial}). Que después resulte apto no lo borra.',
};
