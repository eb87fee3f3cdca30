import type { STANDING as EN } from '../en/standing.ts';
import type { Translation } from '../language.ts';

/** What happened to the window or the trial as a whole. */
export const STANDING: Translation<typeof EN> = {
  'normal-changed':
    'Der Normalwert von {signal} änderte sich während der Prüfung. Mit einem einzigen Normalwert wiederholen.',
  'revision-changed':
    'Das Programm änderte sich während der Prüfung von {from} zu {to}. Mit dem Programm, das bleibt, erneut prüfen.',
  'clock-stepped':
    'Die Uhr[ von {source}] wurde während des Versuchs um {by:seconds} verstellt. Wiederholen.',
  'not-reached': 'Die Ursache hat ihren Auslösebereich nie erreicht. Weiter gehen.',
  'no-trial': 'Es gab keinen Versuch.',
  'adjusted-untested':
    'Nach dem letzten Versuch wurde justiert: So, wie sie hinterlassen wird, ist sie nicht geprüft. Einen Versuch machen.',
  'trial-aborted': 'Der Versuch wurde von {by} abgebrochen[: {text}].',
  interrupted: 'Die Aufzeichnung war unterbrochen[, für {seconds:seconds}]. Den Versuch wiederholen.',
  unfinished:
    'Der Versuch wurde nicht beendet. Die Ursache wegnehmen und warten, bevor die Prüfung geschlossen wird.',
  'cause-reached-tag-fault':
    'Die Ursache war nur als Störung ihres Signals zu sehen ({absence:absence}): Das beweist keinen Auslösepunkt.',
  'as-found-failed':
    'Wie vorgefunden, hat die Verriegelung nicht bestanden (Versuch {trial}). Ein späteres Bestehen hebt das nicht auf.',
};
