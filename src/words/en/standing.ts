/** What happened to the window or the trial as a whole. */
export const STANDING = {
  'normal-changed': 'The normal of {signal} changed during the window. Repeat with one normal.',
  'revision-changed':
    'The program changed from {from} to {to} during the window. Test again on the program that stays.',
  'clock-stepped': 'The clock[ of {source}] was set by {by:seconds} during the trial. Repeat it.',
  'not-reached': 'The cause never reached its trip region. Go further.',
  'no-trial': 'No trial took place.',
  'adjusted-untested':
    'It was adjusted after its last trial: as it is left, it has not been tested. Make a trial.',
  'trial-aborted': 'The trial was aborted by {by}[: {text}].',
  interrupted: 'Recording was interrupted[ for {seconds:seconds}]. Repeat the trial.',
  unfinished: 'The trial was not finished. Let the cause clear and wait before the window is closed.',
  'cause-reached-tag-fault':
    'The cause was seen only as a fault of its signal ({absence:absence}): that proves no trip point.',
  'as-found-failed': 'As found, the interlock failed (trial {trial}). A later pass does not take that away.',
} as const;
