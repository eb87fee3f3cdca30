import type { PROOFS as EN } from '../en/proofs.ts';
import type { Translation } from '../language.ts';

/** Why the proof of an interlock holds, or does not hold any longer. */
export const PROOFS: Translation<typeof EN> = {
  'stale-revision':
    'El controlador de {machine} pasó de la revisión {from} a la {to} (visto el {at:day}): lo que se demostró con la antigua no es lo que funciona[; se puso en el alcance: {why}]. Demostrarlo de nuevo, o registrar el alcance del cambio.',
  'stale-scope':
    'Tras un cambio ({change}), {by} lo puso en el alcance el {at:day}: {why}. Demostrarlo de nuevo.',
  'stale-rule':
    'La regla cambió ({what}): cuando se demostró, {was}; ahora, {becomes}. Demostrarlo de nuevo.',
  'stale-no-book':
    'El libro de reglas con el que se juzgó el ensayo {window} no está en el registro: nadie puede decir si sigue siendo el mismo. Demostrarlo de nuevo.',
  'failed-in-test':
    'Resultó no apto en el ensayo {window} el {at:day}, y desde entonces no ha resultado apto. Corregirlo y demostrarlo.',
  'failed-on-demand':
    'No actuó como debía cuando hizo falta ({window}, {at:day}), y desde entonces no ha resultado apto en ningún ensayo. Corregirlo y demostrarlo.',
  'danger-seen':
    'El {at:day} se vio que no protege (asiento {entry}), y desde entonces no ha resultado apto en ningún ensayo. Averiguar por qué, corregirlo y demostrarlo.',
  'proof-bypassed':
    'Está anulado desde el {at:day} ({id}). No protege a nadie hasta que se quite la anulación.',
  'proof-overdue': 'Vencía el {due:day}. Demostrarlo, o aplazarlo con un motivo.',
  'proof-in-grace': 'Vencía el {due:day}, con plazo de gracia hasta el {grace:day}.',
  'proof-deferred': 'Vencía el {due:day}, y está aplazado hasta el {until:day} ({id}).',
  'proof-inconclusive': 'El último ensayo resultó no concluyente ({window}, {at:day}).',
  'proof-method-does-not-count':
    'Resultó apto en el ensayo {window} con este modo de ensayar: {method:method}. Para su plazo solo cuentan: {methods:method}.',
  'proof-demand-only':
    'Actuó como debe en un disparo real ({window}, {at:day}). Es una evidencia parcial y no sustituye ningún ensayo.',
  'proof-failed-as-found':
    'Tal como se encontró, resultó no apto en el ensayo {window}; se corrigió y resultó apto tal como se dejó. Averiguar desde cuándo.',
  'proof-no-revision':
    'Nadie indicó qué revisión funcionaba en el ensayo {window}: no se puede excluir un cambio del programa entre entonces y ahora.',
};
