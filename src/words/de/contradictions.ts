import type { CONTRADICTIONS as EN } from '../en/contradictions.ts';
import type { Translation } from '../language.ts';

/** Two things that cannot both be right. What is dangerous says what to do. */
export const CONTRADICTIONS: Translation<typeof EN> = {
  'cause-without-effect':
    '{interlock} löst nicht aus: {signal} ist sicher in seinem Auslösebereich, nichts ist überbrückt, und nichts ist gekommen. Die Maschine mit dem normalen Stopp oder dem Not-Halt anhalten, Personen fernhalten und sie außer Betrieb nehmen, bis das geklärt ist.',
  'effect-left-out':
    '{interlock} löst nur teilweise aus: {effect} ist nicht gekommen, obwohl {signal} sicher in seinem Auslösebereich ist. Die Maschine mit dem normalen Stopp oder dem Not-Halt anhalten, Personen fernhalten und den Grund suchen.',
  'acted-without-cause':
    '{signal} wurde {state}, und keine Ursache, die dazu führt, war da. Herausfinden, was gewirkt hat, bevor die Maschine wieder benutzt wird.',
  'acted-on-other-machine':
    '{signal} wurde {state}, während {interlock} ihre Ursache an einer anderen Maschine hat: Ausgänge sind vielleicht vertauscht. Beide Maschinen anhalten und Verdrahtung und Programm prüfen.',
  'trip-gone-without-reset':
    '{signal} ging auf „nicht ausgelöst“ zurück, obwohl niemand rückgestellt hat: Die Auslösung wird nicht gehalten. Die Maschine stehen lassen und den Grund suchen.',
  'ran-again-without-start':
    '{signal} ging nach einer Auslösung wieder auf Lauf, obwohl niemand auf Start gedrückt hat. Die Maschine anhalten, Personen fernhalten und den Grund suchen.',
  'runs-without-command':
    '{signal} zeigt, dass sie noch läuft, obwohl der Befehl weg ist. Den Not-Halt oder den Trennschalter betätigen, Personen fernhalten und Schütz oder Antrieb prüfen.',
  'bypass-too-long':
    '{signal} ist länger als {hours} h überbrückt. Die Überbrückung aufheben, oder die Maschine beaufsichtigen und eintragen, warum sie bleibt.',
  'setting-unrecorded':
    '{signal} hat sich geändert[ auf {to}], und niemand hat eingetragen, warum. Eintragen und erneut nachweisen, was davon abhängt.',
  'stop-without-alarm':
    '{signal} hat ausgelöst, ohne dass vorher der Alarm von {interlock} kam. Den Alarm prüfen.',
  'alarm-silenced-before':
    '{signal} sollte ertönen, während {silence} es stumm hielt: Vielleicht hat es niemand gehört.',
};
