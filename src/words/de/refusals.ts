import type { REFUSALS as EN } from '../en/refusals.ts';
import type { Translation } from '../language.ts';

/** Why the daemon does not do what was asked, where no rule of the record is against it. */
export const REFUSALS: Translation<typeof EN> = {
  'not-found': 'Hier ist nichts.',
  'no-window':
    'In diesem Lauf des Dienstes gibt es keine Prüfung {window}. Eine ältere steht im Protokoll: „tripwitness report LOG --window {window}“ zeigt sie.',
  'no-window-in-log': 'Im Protokoll gibt es keine Prüfung {window}.',
  'no-book': 'Das Protokoll enthält noch kein Regelbuch.',
  'window-open-already': 'Die Prüfung {window} läuft noch. Sie zuerst schließen.',
  'no-interlock': 'Es gibt keine Verriegelung „{name}“.[ Es gibt: {known}.]',
  'no-machine': 'Es gibt keine Maschine „{name}“.',
  'no-method': 'Es gibt kein Prüfverfahren „{name}“.[ Es gibt: {known}.]',
  'interlocks-unnamed': 'Mindestens eine Verriegelung nennen: interlocks=a,b.',
  'methods-not-fitting': 'Für jede Verriegelung ein Prüfverfahren nennen oder eines für alle.',
  'no-level-to-observe': '{interlock} wirkt auf keinen gemessenen Pegel: Es gibt keinen Wert abzulesen.',
  'other-unit':
    '{signal} wird in {own} gemessen, und „{said}“ ist kein Wert davon. Eine Zahl mit einer dieser Einheiten schreiben: {units}.',
  'no-signal': 'Es gibt kein Signal {signals}.',
  'signals-unnamed': 'Die Signale nennen: signals=a,b.',
  'signals-too-many': 'Höchstens {most} Signale lassen sich zugleich verfolgen.',
  'followers-too-many': '{most} Seiten sehen schon zu. Eine davon schließen.',
  'bad-request':
    'Was verlangt wurde, ist nicht zu verstehen.[ Nicht, wie es sein muss: {faults:semicolons}.]',
  'too-large': 'Was gesendet wurde, ist zu groß.',
  trouble: 'Im Dienst ist ein Fehler aufgetreten[: {detail}]. Nachsehen, was er ausgegeben hat.',
};
