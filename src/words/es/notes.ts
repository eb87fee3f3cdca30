import type { NOTES as EN } from '../en/notes.ts';
import type { Translation } from '../language.ts';

/** What people said and did in a window; and parts of why something is declined. */
export const NOTES: Translation<typeof EN> = {
  'note-now': 'ahora[: {text}]',
  'note-attested': 'atestiguado: {what:attestation}[ ({where})]',
  'note-adjusted': 'ajustado[: {text}]',
  'note-bypassed': 'anulado[: {text}]',
  'note-observed': 'leído en el sensor',
  'note-trial-aborted': 'prueba abortada[: {text}]',
  corrected: '{text} (corregido: asiento {entry})',
  'role-named': '{role:role}',

  'field-asked': '{field:field}',
  'field-or-field': '{field:field} o {other:field}',
  'field-unknown': '{where}: contiene un campo que no se conoce',
  'field-too-small': '{where}: demasiado pequeño o corto[, al menos {least}]',
  'field-too-big': '{where}: demasiado grande o largo[, como máximo {most}]',
  'field-not-of-list': '{where}: ninguno de {known}',
  'field-missing': '{where}: falta o no es del tipo debido',
  'field-wrong': '{where}: no es como debe ser',
  'not-passed': '{interlock} {outcome:outcome}',
};
