/** Why an item of the register is not opened or closed, and what to do instead. */
export const REGISTER = {
  'register-unknown-on': 'No interlock or machine of this site is called "{on}".[ There are: {known}.]',
  'register-text': 'Say in words what this item ({item:item}) is about.',
  'register-missing': 'This item ({item:item}) cannot be opened without: {fields}.',
  'register-day':
    'Such a time is not known ({field:field}): {day}. A day is written 2026-11-25, a time 2026-11-25T06:30:00Z.',
  'register-day-past': 'That day is over ({field:field}): {day}.',
  'register-since-future': 'That time is still to come: {since}.',
  'register-unknown-id': 'There is no item "{id}".[ There are: {known}.]',
  'register-closed': '{id} is closed since {at}. Open a new one.',
  'register-needs-window': '{id} is of category A: name the window that proves {on}.',
  'register-no-window': 'There is no window {window} in this log to close {id} with.',
  'register-window-standing':
    'Window {window} is {standing:window}. {id} is closed by a window that was closed.',
  'register-window-before':
    'Window {window} was opened before {id} was: it does not prove that the fault is gone.',
  'register-not-proved': 'Window {window} says nothing about {on}: it does not close {id}.',
  'register-not-passed': 'Window {window} does not prove {on}: {open}. {id} stays open.',
  'log-other-daemon':
    'The daemon at {url} writes another log. Name the one that writes {log}, with --daemon.',
} as const;
