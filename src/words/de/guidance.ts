import type { GUIDANCE as EN } from '../en/guidance.ts';
import type { Translation } from '../language.ts';

/** What stands against closing a guided window, and why a step is not taken now. */
export const GUIDANCE: Translation<typeof EN> = {
  'guide-trial-runs': 'Ein Versuch von {interlock} läuft. Enden lassen oder abbrechen.',
  'guide-no-trial': '{interlock} wurde nicht versucht. Versuchen, oder verlassen und sagen, warum.',
  'guide-undecided':
    '{interlock} ist nach {trials} {trials|Versuch|Versuchen} nicht entschieden. Noch einmal versuchen, oder verlassen und sagen, warum.',
  'guide-not-identified':
    '{interlock} wurde versucht, und niemand hat ihren Sensor richtig genannt. Ihn nennen, oder in einer Notiz sagen, warum nicht.',
  'guide-not-alone':
    'Als der Sensor von {interlock} berührt wurde, hat sich nicht allein ihr Signal bewegt. Den richtigen Sensor suchen und noch einmal beobachten.',
  'guide-not-attested': 'Niemand hat während eines Versuchs von {interlock} bezeugt: {what:attestation}.',
  'guide-not-restored': 'Noch nicht in Ordnung gebracht: {item:restoration}.',
  'guide-permit': 'Sagen, unter welcher Freigabe geprüft wird, oder „none needed“ und warum.',
  'guide-permit-why': 'Wo keine Freigabe nötig ist, sagen, warum: „none needed: …“.',
  'guide-people': 'Mindestens eine Person nennen, die prüft.',
  'guide-precautions': 'Zuerst jede Vorsichtsmaßnahme bestätigen. Es fehlen: {missing}.',
  'guide-no-book':
    'Die Prüfung kann nicht weitergehen: Die Anlage wurde geändert, während der Dienst fort war. Was vorher geprüft wurde, steht im Protokoll.',
  'guide-too-long':
    'Die Prüfung kann nicht weitergehen: {minutes} Minuten lang kam niemand zurück. Was vorher geprüft wurde, steht im Protokoll.',
  'guide-clock-back':
    'Die Prüfung kann nicht weitergehen: Die Uhr dieses Rechners wurde zurückgestellt, während der Dienst fort war. Was vorher geprüft wurde, steht im Protokoll.',
  'guide-not-the-same':
    'Die Prüfung kann nicht weitergehen: Dieser Stand des Programms urteilt anders über das Aufgezeichnete. Was vorher geprüft wurde, steht im Protokoll.',
  'guide-not-open': 'Die Prüfung {window} ist nicht offen.',
  'guide-not-guided': 'Die Prüfung {window} ist nicht geführt: Vermerke genügen.',
  'guide-not-in-window': '{interlock} wird in dieser Prüfung nicht geprüft. Geprüft werden: {known}.',
  'guide-is-left': '{interlock} wurde verlassen. Zuerst wieder aufnehmen.',
  'guide-not-left': '{interlock} ist nicht beendet: Es gibt nichts wieder aufzunehmen.',
  'guide-in-trial': 'Ein Versuch von {interlock} läuft. Warten, bis er vorbei ist.',
  'guide-identify-first':
    'Zuerst den Sensor von {interlock} nennen: was auf seinem Schild steht, oder ihr Signal.',
  'guide-wait-first': '{interlock} ist nicht bereit. Nachsehen, worauf sie wartet.',
  'guide-call-first': 'Zuerst die Bewegung von {interlock} ansagen.',
  'guide-repeat-first': 'Warten, bis die andere Person die Ansage für {interlock} wiederholt hat.',
  'guide-counting': 'Es wird schon heruntergezählt, bis {at}.',
  'guide-not-counting': 'Für {interlock} wird nicht heruntergezählt.',
  'guide-watching': 'Es wird schon beobachtet, was sich für {interlock} bewegt.',
  'guide-not-watching': 'Es wird nicht beobachtet, was sich für {interlock} bewegt.',
  'guide-blind':
    'Von {signal} gibt es aus den letzten Sekunden keine gelesenen Werte, an denen eine Bewegung zu erkennen wäre.',
};
