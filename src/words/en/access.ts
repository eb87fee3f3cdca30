/** Why a request to the daemon is refused before its work begins, and what to do. */
export const ACCESS = {
  'foreign-name':
    'This daemon does not answer to that name. Ask for it by its address, or start it with --name.',
  'foreign-page': 'A page from elsewhere asked for this. Only pages of this daemon may.',
  'session-needed':
    'Nobody is signed in here. Sign in first; on the command line, name your account with --as.',
  'session-open': 'Nobody signs in at this address: it is open to whoever sits at this machine.',
  'session-token': 'The request does not carry the token of its session. Load the page again.',
  'session-role':
    'This takes the role {role:account-role}, which "{id}" does not have. An administrator gives roles.',
  'session-other-name':
    '{name} is signed in: nothing is entered here as {other}. Let that person sign in, or leave the name out.',
  'session-needs-password':
    'A change of accounts takes the password of an administrator each time, though {name} is signed in.',
  'who-missing': 'Say who enters this: a name, or an account with its password.',
  'too-often': 'Too many requests came from here. Wait {seconds} s.',
} as const;
