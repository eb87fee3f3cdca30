/** Why an account or a password is not taken, and what to do instead. */
export const ACCOUNTS = {
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
} as const;
