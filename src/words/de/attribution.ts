import type { ATTRIBUTION as EN } from '../en/attribution.ts';
import type { Translation } from '../language.ts';

/** What else could have brought an effect about, and what is missing from the evidence. */
export const ATTRIBUTION: Translation<typeof EN> = {
  'attribution-clear': 'Nichts anderes, was beobachtet wurde, kann die Wirkungen herbeigeführt haben.',
  'competing-cause':
    '{interlock} hat vielleicht zur selben Zeit gewirkt. Wiederholen, wenn deren Ursache sicher weg ist.',
  'stop-by-hand':
    '{signal} wurde vor der Wirkung gedrückt oder kann gedrückt worden sein. Wiederholen, ohne den Stopp zu berühren.',
  'trip-bit-silent':
    'Die Maschine blieb stehen, aber {signal} hat nie eine Auslösung gemeldet: Jemand oder etwas anderes hat sie gestoppt. Wiederholen und darauf achten, wer sie stoppt.',
  'hand-stop-not-excluded':
    'Kein Stopptaster und keine Auslösemeldung[ von {machine}] ist lesbar: Ein Stopp von Hand ist nicht auszuschließen. Eines von beiden hinzufügen oder bezeugen lassen, dass niemand auf Stopp gedrückt hat.',
  'press-not-excluded':
    '{signal} wird zu selten gelesen, um auszuschließen, dass jemand kurz gedrückt hat. Schneller abfragen, als ein Finger drückt, oder das Signal halten lassen.',
  'arming-lost':
    '{signal} verließ vor der Wirkung seinen scharfen Zustand. Wiederholen, wenn die Maschine gleichmäßig läuft.',
  'bypass-during-trial':
    '{signal} meldete während des Versuchs eine Überbrückung oder kann es getan haben. Aufheben und wiederholen.',
  'forced-during-trial':
    '{signal} war während des Versuchs erzwungen (Force) oder kann es gewesen sein. Den erzwungenen Wert aufheben und wiederholen.',
  'attested-bypass': 'Eine Überbrückung ist von {by} bezeugt.',
  'evidence-gap':
    'Von {signal} fehlt für {seconds:seconds} jeder Wert, wo es entscheidet ({absence:absence}). Mit ununterbrochener Verbindung wiederholen.',
  'uncertain-value':
    'Der Server von {signal} nannte den Wert unsicher oder verlor vorher Werte, wo es entscheidet. Das beheben und wiederholen.',
  'unlisted-change':
    '{signal} wurde {state}, was hier keine Verriegelung vorsieht. Den Grund suchen, dann wiederholen.',
  'other-machine-acted':
    '{signal} von {machine} wurde {state}, was diese Verriegelung nicht tut. Prüfen, mit welcher Maschine sie verdrahtet ist.',
  'acted-before-cause':
    '{effect} kam, bevor die Ursache ihren Einstellwert erreichte. Etwas anderes hat gewirkt. Wiederholen.',
  'siblings-moved':
    '{signal} hat sich auch bewegt. Nur einen Sensor bewegen und prüfen, ob es der richtige ist.',
  'signal-too-still':
    '{signal} streute vorher und zeigt jetzt immer denselben Wert, als wäre er im Programm geschrieben. Den Sensor selbst bewegen und wiederholen.',
  'raw-disagrees':
    '{shown} zeigt nicht, was sein roher Eingang {raw} zeigt. Den erzwungenen Wert (Force) aufheben oder den Grund suchen, dann wiederholen.',
  'setting-changed':
    '{signal} wurde während des Versuchs geändert[ (auf {to})]. Richtigstellen, die Änderung eintragen und wiederholen.',
  'heartbeat-still':
    '{signal} steht still: Die Steuerung arbeitet ihr Programm vielleicht nicht ab. Wiederholen, wenn es zählt.',
};
