/** Why an account, a signature, a correction or a register item is not entered, and what to do instead. */
export const PAPERWORK: Readonly<Record<string, string>> = {
  'person-id': 'This is no id ("{id}"): write 2 to 60 small letters, digits, dots and dashes.',
  'person-id-used': 'The id "{id}" was given before. An id is never given twice; choose another one.',
  'person-name': 'The account "{id}" needs the printed name of its person.',
  'person-roles': 'The account "{id}" needs at least one role: viewer, tester, reviewer or administrator.',
  'person-first': 'The first account must be an administrator: give "{id}" that role too.',
  'person-unknown': 'There is no account "{id}".',
  'person-closed': 'The account "{id}" is closed, and stays so. Add a new one under another id.',
  'person-not-locked': 'The account "{id}" is not locked.',
  'person-last': 'The last administrator who can act is "{id}". Make another one first.',
  'person-not-administrator': 'Only an administrator may do that, and "{id}" is none. Ask one.',
  'person-needs-administrator': 'Only an administrator changes accounts: name one with --as.',
  'password-short': 'The password is too short: at least {least} characters.',
  'password-long': 'The password is too long: at most {most} characters.',
  'password-name': 'The password must not be the id or the name of its person.',
  'password-wrong': 'Id or password is not right.',
  'password-locked':
    'The account "{id}" is locked after too many wrong passwords. An administrator unlocks it.',
  'password-lost':
    'No password of "{id}" fits the log: people.json was changed or lost. Restore it from a copy, or an administrator sets a new one. If no administrator has one any more: end the daemon, and "people password LOG ID" sets one for an administrator.',
  'transcribe-no-window': 'There is no window {window} in this log; "new" begins a sheet of its own.',
  'sign-role': 'To sign as {meaning} takes the role {role}, which "{id}" does not have.',
  'sign-no-window': 'There is no window {window} in this log.',
  'sign-open': 'Window {window} is open. Close it first; a signature covers all of a window.',
  'sign-differs':
    'An earlier signature of {window} does not match what it covers. Run audit; nothing is signed over that.',
  'sign-twice':
    'Window {window} is signed as {meaning} by this person already, and nothing was entered since.',
  'sign-not-independent':
    '{name} took part in the test of {window}. This site asks for an independent reviewer.',
  'open-not-independent':
    'This site asks for an independent reviewer, and {name} is also named as {role}. Name another reviewer.',
  'signature-unreadable': 'This is no signature as this program writes it.',
  'signature-differs': 'What stands of {window} is not what {person} signed as {meaning}.',
  'amend-no-entry': 'Window {window} has no entry {entry}[: {known}].',
  'amend-evidence':
    'Entry {entry} is a {kind}: what was read, found or judged is never corrected. Test again.',
  'amend-not-text':
    'In entry {entry} ({kind}), "{field}" is nothing that people wrote, or a verdict rests on it.[ There may be corrected: {may}.]',
  'amend-same': 'The text of "{field}" says so already.',
  'amendment-misquotes':
    'This correction of {field} in entry {of} shows an old text that did not stand there.',
  'register-unknown-on': 'No interlock or machine of this site is called "{on}".[ There are: {known}.]',
  'register-text': 'Say in words what {item} is about: --text.',
  'register-missing': 'A {item} cannot be opened without: {fields}.',
  'register-day':
    'Such a time is not known: --{field} {day}. A day is written 2026-11-25, a time 2026-11-25T06:30:00Z.',
  'register-day-past': 'That day is over: --{field} {day}.',
  'register-since-future': 'That time is still to come: --since {since}.',
  'register-unknown-id': 'There is no item "{id}".[ There are: {known}.]',
  'register-closed': '{id} is closed since {at}. Open a new one.',
  'register-needs-window': '{id} is of category A: name the window that proves {on}, with --window.',
  'register-no-window': 'There is no window {window} in this log to close {id} with.',
  'register-window-standing': 'Window {window} is {standing}. {id} is closed by a window that was closed.',
  'register-window-before':
    'Window {window} was opened before {id} was: it does not prove that the fault is gone.',
  'register-not-proved': 'Window {window} says nothing about {on}: it does not close {id}.',
  'register-not-passed': 'Window {window} does not prove {on}: {open}. {id} stays open.',
  'log-other-daemon':
    'The daemon at {url} writes another log. Name the one that writes {log}, with --daemon.',
};
