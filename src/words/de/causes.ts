import type { CAUSES as EN } from '../en/causes.ts';
import type { Translation } from '../language.ts';

/** How a cause is worded; it follows "acts when", and stands alone. */
export const CAUSES: Translation<typeof EN> = {
  'cause-below': '{signal} ist unter {level}',
  'cause-above': '{signal} ist über {level}',
  'cause-contact': '{signal} geht auf {state}',
  'cause-no-pulses': '{after:seconds} lang kommt kein Impuls von {signal}',
  'cause-band':
    '{signal} wird {hold:seconds} lang zwischen {near}, dem Rand näher am Normalwert, und {far} gehalten, jenseits von keinem',
  'cause-sensor-fault':
    'der Sensor von {signal} ist als gestört gemeldet (Drahtbruch, Kurzschluss, ein Fehlercode anstelle eines Werts)',
  'cause-silent': '{after:seconds} lang ist von {signal} nichts zu hören',
  'cause-stuck':
    '{signal}, das sich bewegen sollte, bewegt sich {after:seconds} lang um nicht mehr als {within:step}',
  'cause-restart': 'die Zählung {signal} beginnt von vorn: Das Programm der Steuerung wurde neu gestartet',
  'cause-all-of': 'alle diese sind zugleich da: {causes:group}',
  'cause-any-of': 'eine von diesen ist da: {causes:group}',
  'cause-some-of': '{need} von diesen {count} sind zugleich da: {causes:group}',
  'cause-allowed': '{cause}, erlaubt {allowed:band}',

  'level-normal': 'dem Normalwert',
  'level-nameplate': 'dem Wert des Typenschilds',
  'level-tag': 'dem Wert von {signal}',
  'level-tag-unknown': 'einer unbekannten Variablen',
  'level-share-of-normal': '{percent} % des Normalwerts',
  'level-share-of-nameplate': '{percent} % des Typenschildwerts',
  'level-share': '{percent} % von {level}',

  'state-number': 'Zustand {state}',
  'signal-unknown': 'ein unbekanntes Signal',
};
