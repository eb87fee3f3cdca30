import type { SIGNING as EN } from '../en/signing.ts';
import type { Translation } from '../language.ts';

/** Why a signature, a correction or a written sheet is not entered, and what to do instead. */
export const SIGNING: Translation<typeof EN> = {
  'transcribe-no-window': 'No hay ningún ensayo {window} en este registro; «new» empieza una hoja propia.',
  'sign-role':
    'Para firmar con el significado «{meaning:meaning}» hace falta el papel {role:account-role}, que «{id}» no tiene.',
  'sign-no-window': 'No hay ningún ensayo {window} en este registro.',
  'sign-open': 'El ensayo {window} está abierto. Cerrarlo primero; una firma abarca todo el ensayo.',
  'sign-differs':
    'Una firma anterior de {window} no corresponde a lo que abarca. Ejecutar audit; no se firma nada sobre eso.',
  'sign-twice':
    'Esta persona ya firmó el ensayo {window} con el significado «{meaning:meaning}», y desde entonces no se ha anotado nada.',
  'sign-not-independent':
    '{name} participó en el ensayo {window}. Esta instalación pide un revisor independiente.',
  'open-not-independent':
    'Esta instalación pide un revisor independiente, y {name} figura también para otra tarea ({role:role}). Nombrar otro revisor.',
  'signature-unreadable': 'Esto no es una firma como las que escribe este programa.',
  'signature-differs':
    'Lo que consta de {window} no es lo que {person} firmó con el significado «{meaning:meaning}».',
  'amend-no-entry': 'El ensayo {window} no tiene el asiento {entry}[: {known}].',
  'amend-evidence':
    'El asiento {entry} es de tipo «{kind}»: lo leído, lo hallado y lo juzgado nunca se corrige. Ensayar de nuevo.',
  'amend-not-text':
    'En el asiento {entry} («{kind}»), «{field}» no es algo escrito por personas, o un veredicto se apoya en ello.[ Se puede corregir: {may}.]',
  'comment-no-window': 'En este registro no hay ningún ensayo {window} que comentar.',
  'comment-no-interlock': 'El ensayo {window} no conoce ningún enclavamiento «{interlock}».',
  'comment-trial-of-none': 'Prueba {trial}: indicar de qué enclavamiento es.',
  'amend-same': 'El texto de «{field}» ya dice eso.',
  'amendment-misquotes':
    'Esta corrección de {field} en el asiento {of} muestra un texto anterior que no estaba ahí.',
};
