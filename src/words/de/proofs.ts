import type { PROOFS as EN } from '../en/proofs.ts';
import type { Translation } from '../language.ts';

/** Why the proof of an interlock holds, or does not hold any longer. */
export const PROOFS: Translation<typeof EN> = {
  'stale-revision':
    'Die Steuerung von {machine} ging von Revision {from} auf {to} (gesehen {at:day}): Was an der alten nachgewiesen wurde, ist nicht, was läuft[; sie wurde in den Umfang aufgenommen: {why}]. Erneut nachweisen oder den Umfang der Änderung eintragen.',
  'stale-scope':
    'Nach einer Änderung ({change}) hat {by} sie am {at:day} in den Umfang aufgenommen: {why}. Erneut nachweisen.',
  'stale-rule': 'Die Regel wurde geändert ({what}): beim Nachweis {was}, jetzt {becomes}. Erneut nachweisen.',
  'stale-no-book':
    'Das Regelbuch, nach dem die Prüfung {window} beurteilt wurde, ist nicht im Protokoll: Niemand kann sagen, ob es noch dasselbe ist. Erneut nachweisen.',
  'failed-in-test':
    'Sie hat in der Prüfung {window} am {at:day} nicht bestanden und seither keine Prüfung bestanden. Richtigstellen und nachweisen.',
  'failed-on-demand':
    'Sie hat versagt, als sie gebraucht wurde ({window}, {at:day}), und seither keine Prüfung bestanden. Richtigstellen und nachweisen.',
  'danger-seen':
    'Am {at:day} wurde gesehen, dass sie nicht schützt (Eintrag {entry}), und seither hat sie keine Prüfung bestanden. Den Grund suchen, richtigstellen und nachweisen.',
  'proof-bypassed':
    'Sie ist seit {at:day} überbrückt ({id}). Sie schützt niemanden, bis die Überbrückung aufgehoben ist.',
  'proof-overdue': 'Sie war am {due:day} fällig. Nachweisen oder mit Begründung aufschieben.',
  'proof-in-grace': 'Sie war am {due:day} fällig, mit Nachfrist bis {grace:day}.',
  'proof-deferred': 'Sie war am {due:day} fällig und ist bis {until:day} aufgeschoben ({id}).',
  'proof-inconclusive': 'Die letzte Prüfung war nicht entscheidbar ({window}, {at:day}).',
  'proof-method-does-not-count':
    'Sie hat in der Prüfung {window} auf diese Art bestanden: {method:method}. Für ihre Prüffrist zählen nur: {methods:method}.',
  'proof-demand-only':
    'Sie hat bei einer wirklichen Auslösung gewirkt, wie sie soll ({window}, {at:day}). Das ist ein Teilnachweis und ersetzt keine Prüfung.',
  'proof-failed-as-found':
    'Wie vorgefunden, hat sie in der Prüfung {window} nicht bestanden; sie wurde richtiggestellt und bestand, wie hinterlassen. Herausfinden, seit wann.',
  'proof-no-revision':
    'Niemand hat angegeben, welche Revision in der Prüfung {window} lief: Eine Änderung des Programms zwischen damals und jetzt ist nicht auszuschließen.',
};
