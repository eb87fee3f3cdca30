import type { WAITS as EN } from '../en/waits.ts';
import type { Translation } from '../language.ts';

/** What an interlock waits for. */
export const WAITS: Translation<typeof EN> = {
  'not-armed':
    'Wartet: {signal} muss {state} sein und bleiben, bis die Anlaufzeit vorbei ist (noch {remaining:s}).',
  'baseline-settling': 'Wartet: Alles muss noch {remaining:s} ruhig bleiben.',
  'normal-unsteady':
    'Wartet: {signal} ist nicht ruhig genug, um den Normalwert zu lernen (Streuung {spread:share}, höchstens {allowed:share}). Ungestört laufen lassen.',
  'normal-unknown':
    'Wartet: Der Normalwert von {signal} ist nicht bekannt. Die Maschine laufen lassen oder einen Normalwert angeben.',
  'cause-not-clear': 'Wartet: {signal} muss in sein Ruheband zurückkehren[ (jetzt {value:unit})].',
  'effect-already-there':
    '{effect} ist schon da. Vor dem nächsten Versuch rückstellen, sonst wird es nicht geprüft.',
  'bypass-active': 'Wartet: {signal} meldet, dass der Schutz überbrückt ist. Die Überbrückung aufheben.',
  'force-active':
    'Wartet: {signal} meldet, dass ein Wert erzwungen ist (Force). Den erzwungenen Wert aufheben.',
  'trip-latched': 'Wartet: {signal} ist noch ausgelöst. Rückstellen.',
  'no-reading': 'Wartet: kein gelesener Wert von {signal} ({absence:absence}). Die Quelle prüfen.',
  'stop-active': 'Wartet: {signal} meldet, dass ein Stopptaster gedrückt ist. Ihn lösen.',
  'horn-silenced':
    '{signal} meldet, dass die Hupe stummgeschaltet ist: Ein neuer Alarm ist vielleicht nicht zu hören. Die Stummschaltung aufheben, bevor die Hupe geprüft wird.',
  'window-not-open': 'Wartet: Es läuft keine Prüfung.',
  'moved-unready': 'Die Ursache bewegte sich, bevor die Verriegelung bereit war. Diese Bewegung zählt nicht.',
};
