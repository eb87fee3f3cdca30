import type { NOTES as EN } from '../en/notes.ts';
import type { Translation } from '../language.ts';

/** What people said and did in a window; and parts of why something is declined. */
export const NOTES: Translation<typeof EN> = {
  'note-now': 'jetzt[: {text}]',
  'note-attested': 'bezeugt: {what:attestation}[ ({where})]',
  'note-adjusted': 'justiert[: {text}]',
  'note-bypassed': 'überbrückt[: {text}]',
  'note-observed': 'am Sensor abgelesen',
  'note-trial-aborted': 'Versuch abgebrochen[: {text}]',
  corrected: '{text} (berichtigt: Eintrag {entry})',
  'role-named': '{role:role}',

  'field-asked': '{field:field}',
  'field-or-field': '{field:field} oder {other:field}',
  'field-unknown': '{where}: enthält ein Feld, das nicht bekannt ist',
  'field-too-small': '{where}: zu klein oder zu kurz[, mindestens {least}]',
  'field-too-big': '{where}: zu groß oder zu lang[, höchstens {most}]',
  'field-not-of-list': '{where}: nichts von {known}',
  'field-missing': '{where}: fehlt oder ist nicht von seiner Art',
  'field-wrong': '{where}: nicht, wie es sein muss',
  'not-passed': '{interlock} {outcome:outcome}',
};
