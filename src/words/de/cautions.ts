import type { CAUTIONS as EN } from '../en/cautions.ts';
import type { Translation } from '../language.ts';

/** What to do where a protection did not act. */
const ABSENT =
  'die Maschine mit dem normalen Stopp oder dem Not-Halt anhalten, Personen fernhalten, außer Betrieb nehmen, den Ausfall melden';

/** What is printed on every report, and confirmed before a guided window is opened. */
export const CAUTIONS: Translation<typeof EN> = {
  'precaution-observes-only':
    'Dieses Werkzeug beobachtet. Es schützt nicht, löst nichts aus, stellt nichts zurück und sperrt nichts. Ein Bestanden zeigt das Verhalten in einer Prüfung, mit einem Stand des Programms.',
  'precaution-lock-out':
    'Freischalten und gegen Wiedereinschalten sichern, bevor jemand hineingreift, einstellt oder reinigt. Wo eine Prüfung Energie braucht: Werkzeug weg, Personen weg, Schlösser ab, einschalten, prüfen, ausschalten, wieder sichern.',
  'precaution-run-empty':
    'Leer laufen lassen. Zuerst die Aufgabe anhalten. Ein verstopftes Becherwerk nie durch Tippen freifahren.',
  'precaution-guards-on':
    'Schutzhauben bleiben dran. Nie eine Schutzeinrichtung umgehen, um an einen Sensor zu kommen: Einzugsstellen, gespannte Teile.',
  'precaution-ignition':
    'Heißluftgebläse, Flammen sowie Prüfgeräte und Tablets ohne Zulassung sind Zündquellen im Staub. Zuerst säubern, dann Feuererlaubnisschein; besser ein Trockenblock-Kalibrator oder ein Ersatzsignal.',
  'caution-hot': 'Heiße Lager und Reibklötze verbrennen die Haut.',
  'precaution-warn-before-start':
    'Vor jedem Anlauf warnen und die Strecke ansehen; noch einmal warnen, wenn er sich verspätet.',
  'precaution-no-bypass':
    'Für eine Prüfung nie im Betrieb überbrücken. Wo es nicht zu vermeiden ist: genehmigt, befristet, beaufsichtigt, angekündigt, aufgeschrieben, aufgehoben, wieder geprüft.',
  'caution-no-isolation': 'Ein Not-Halt ist kein Freischalten. Ein Stoppschalter trennt nicht vom Netz.',
  'caution-forcing':
    'Ein erzwungener Wert kann Maschinen bewegen. Personen fernhalten. Er bleibt, wenn der Laptop geht.',
  'caution-electrical':
    'Arbeit an der Elektrik nur durch Fachkräfte. Auf Absturz und enge Räume achten: Kopf des Becherwerks, Gruben, Silos.',
  'precaution-stop-at-hand': `Wenn eine verlangte Abschaltung ausbleibt: ${ABSENT}.`,
  'caution-after':
    'Nach der Prüfung: Schaltfahnen und Hauben zurück, Überbrückungen weg, nichts erzwungen, Einstellwerte wie vorgesehen, Hupe wieder hörbar, Bediener unterrichtet.',
  'precaution-local-rules':
    'Örtliche Vorschriften, Anleitungen der Hersteller und das Sicherheitskonzept der Anlage gehen vor. Nur Fachleute.',
  'stop-failed-at-once': `Diese Abschaltung hat versagt. Sofort: ${ABSENT}.`,
};
