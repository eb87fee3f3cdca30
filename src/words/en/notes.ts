/** What people said and did in a window, as a line of its record; and parts of why something is declined. */
export const NOTES = {
  'note-now': 'now[: {text}]',
  'note-attested': 'attested: {what:attestation}[ ({where})]',
  'note-adjusted': 'adjusted[: {text}]',
  'note-bypassed': 'bypassed[: {text}]',
  'note-observed': 'observed',
  'note-trial-aborted': 'trial aborted[: {text}]',
  corrected: '{text} (corrected: entry {entry})',
  'role-named': '{role:role}',

  'field-asked': '{field:field}',
  'field-or-field': '{field:field} or {other:field}',
  'field-unknown': '{where}: holds a field that is not known',
  'field-too-small': '{where}: too small or too short[, at least {least}]',
  'field-too-big': '{where}: too large or too long[, at most {most}]',
  'field-not-of-list': '{where}: none of {known}',
  'field-missing': '{where}: missing, or not of its kind',
  'field-wrong': '{where}: not as it must be',
  'not-passed': '{interlock} {outcome:outcome}',
} as const;
