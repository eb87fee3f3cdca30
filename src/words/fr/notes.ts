import type { NOTES as EN } from '../en/notes.ts';
import type { Translation } from '../language.ts';

/** What people said and did in a window; and parts of why something is declined. */
export const NOTES: Translation<typeof EN> = {
  'note-now': 'maintenant[ : {text}]',
  'note-attested': 'attesté : {what:attestation}[ ({where})]',
  'note-adjusted': 'réglé[ : {text}]',
  'note-bypassed': 'inhibé[ : {text}]',
  'note-observed': 'lu au capteur',
  'note-trial-aborted': 'épreuve abandonnée[ : {text}]',
  corrected: '{text} (corrigé : écriture {entry})',
  'role-named': '{role:role}',

  'field-asked': '{field:field}',
  'field-or-field': '{field:field} ou {other:field}',
  'field-unknown': '{where} : contient un champ inconnu',
  'field-too-small': '{where} : trop petit ou trop court[, au moins {least}]',
  'field-too-big': '{where} : trop grand ou trop long[, au plus {most}]',
  'field-not-of-list': '{where} : aucun de {known}',
  'field-missing': '{where} : manque, ou n’est pas du bon type',
  'field-wrong': '{where} : pas comme il doit être',
  'not-passed': '{interlock} {outcome:outcome}',
};
