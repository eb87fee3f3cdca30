import type { REGISTER as EN } from '../en/register.ts';
import type { Translation } from '../language.ts';

/** Why an item of the register is not opened or closed, and what to do instead. */
export const REGISTER: Translation<typeof EN> = {
  'register-unknown-on': 'Keine Verriegelung oder Maschine dieser Anlage heißt „{on}“.[ Es gibt: {known}.]',
  'register-text': 'In Worten sagen, worum es bei diesem Posten ({item:item}) geht.',
  'register-missing': 'Dieser Posten ({item:item}) kann nicht eröffnet werden ohne: {fields}.',
  'register-day':
    'Eine solche Zeit gibt es nicht ({field:field}): {day}. Ein Tag wird 2026-11-25 geschrieben, eine Zeit 2026-11-25T06:30:00Z.',
  'register-day-past': 'Dieser Tag ist vorbei ({field:field}): {day}.',
  'register-since-future': 'Diese Zeit kommt erst noch: {since}.',
  'register-unknown-id': 'Es gibt keinen Posten „{id}“.[ Es gibt: {known}.]',
  'register-closed': '{id} ist seit {at} geschlossen. Einen neuen eröffnen.',
  'register-needs-window': '{id} ist von Kategorie A: die Prüfung nennen, die {on} nachweist.',
  'register-no-window': 'Es gibt in diesem Protokoll keine Prüfung {window}, mit der {id} zu schließen wäre.',
  'register-window-standing':
    'Stand der Prüfung {window}: {standing:window}. {id} wird durch eine Prüfung geschlossen, die geschlossen wurde.',
  'register-window-before':
    'Die Prüfung {window} wurde eröffnet, bevor {id} es wurde: Sie beweist nicht, dass der Mangel weg ist.',
  'register-not-proved': 'Die Prüfung {window} sagt nichts über {on}: Sie schließt {id} nicht.',
  'register-not-passed': 'Die Prüfung {window} weist {on} nicht nach: {open}. {id} bleibt offen.',
  'log-other-daemon':
    'Der Dienst unter {url} schreibt ein anderes Protokoll. Mit --daemon den nennen, der {log} schreibt.',
};
