/** Why a signature, a correction or a written sheet is not entered, and what to do instead. */
export const SIGNING = {
  'transcribe-no-window': 'There is no window {window} in this log; "new" begins a sheet of its own.',
  'sign-role': 'To sign as {meaning:meaning} takes the role {role:account-role}, which "{id}" does not have.',
  'sign-no-window': 'There is no window {window} in this log.',
  'sign-open': 'Window {window} is open. Close it first; a signature covers all of a window.',
  'sign-differs':
    'An earlier signature of {window} does not match what it covers. Run audit; nothing is signed over that.',
  'sign-twice':
    'Window {window} is signed as {meaning:meaning} by this person already, and nothing was entered since.',
  'sign-not-independent':
    '{name} took part in the test of {window}. This site asks for an independent reviewer.',
  'open-not-independent':
    'This site asks for an independent reviewer, and {name} is also named for another part ({role:role}). Name another reviewer.',
  'signature-unreadable': 'This is no signature as this program writes it.',
  'signature-differs': 'What stands of {window} is not what {person} signed as {meaning:meaning}.',
  'amend-no-entry': 'Window {window} has no entry {entry}[: {known}].',
  'amend-evidence':
    'Entry {entry} is a {kind}: what was read, found or judged is never corrected. Test again.',
  'amend-not-text':
    'In entry {entry} ({kind}), "{field}" is nothing that people wrote, or a verdict rests on it.[ There may be corrected: {may}.]',
  'comment-no-window': 'There is no window {window} in this log to comment on.',
  'comment-no-interlock': 'Window {window} knows no interlock "{interlock}".',
  'comment-trial-of-none': 'Trial {trial}: name the interlock that it is of.',
  'amend-same': 'The text of "{field}" says so already.',
  'amendment-misquotes':
    'This correction of {field} in entry {of} shows an old text that did not stand there.',
} as const;
