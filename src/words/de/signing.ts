import type { SIGNING as EN } from '../en/signing.ts';
import type { Translation } from '../language.ts';

/** Why a signature, a correction or a written sheet is not entered, and what to do instead. */
export const SIGNING: Translation<typeof EN> = {
  'transcribe-no-window':
    'Es gibt in diesem Protokoll keine Prüfung {window}; mit „new“ beginnt ein eigenes Blatt.',
  'sign-role':
    'Um mit der Bedeutung „{meaning:meaning}“ zu unterschreiben, braucht es die Rolle {role:account-role}, die „{id}“ nicht hat.',
  'sign-no-window': 'Es gibt in diesem Protokoll keine Prüfung {window}.',
  'sign-open':
    'Die Prüfung {window} läuft noch. Zuerst schließen; eine Unterschrift gilt für die ganze Prüfung.',
  'sign-differs':
    'Eine frühere Unterschrift von {window} stimmt nicht mit dem überein, wofür sie gilt. „audit“ ausführen; darüber wird nichts unterschrieben.',
  'sign-twice':
    'Die Prüfung {window} ist von dieser Person schon mit der Bedeutung „{meaning:meaning}“ unterschrieben, und seither wurde nichts eingetragen.',
  'sign-not-independent':
    '{name} hat an der Prüfung {window} mitgewirkt. Diese Anlage verlangt einen unabhängigen Gegenprüfer.',
  'open-not-independent':
    'Diese Anlage verlangt einen unabhängigen Gegenprüfer, und {name} ist auch für eine andere Aufgabe genannt ({role:role}). Einen anderen Gegenprüfer nennen.',
  'signature-unreadable': 'Das ist keine Unterschrift, wie dieses Programm sie schreibt.',
  'signature-differs':
    'Was von {window} dasteht, ist nicht, was {person} mit der Bedeutung „{meaning:meaning}“ unterschrieben hat.',
  'amend-no-entry': 'Die Prüfung {window} hat keinen Eintrag {entry}[: {known}].',
  'amend-evidence':
    'Eintrag {entry} ist von der Art „{kind}“: Was gelesen, gefunden oder beurteilt wurde, wird nie berichtigt. Erneut prüfen.',
  'amend-not-text':
    'In Eintrag {entry} („{kind}“) ist „{field}“ nichts, was Menschen geschrieben haben, oder ein Urteil stützt sich darauf.[ Berichtigt werden darf: {may}.]',
  'comment-no-window': 'In diesem Protokoll gibt es keine Prüfung {window}, zu der etwas zu bemerken wäre.',
  'comment-no-interlock': 'In der Prüfung {window} gibt es keine Verriegelung „{interlock}“.',
  'comment-trial-of-none': 'Versuch {trial}: die Verriegelung nennen, zu der er gehört.',
  'amend-same': 'Der Text von „{field}“ lautet schon so.',
  'amendment-misquotes':
    'Diese Berichtigung von {field} in Eintrag {of} zeigt einen alten Text, der dort nicht stand.',
};
