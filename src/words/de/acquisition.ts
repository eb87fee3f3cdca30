import type { ACQUISITION as EN } from '../en/acquisition.ts';
import type { Translation } from '../language.ts';

/** What a source tells of itself while it is read. `field-…`: what happened; `next-…`: what a person can try. */
export const ACQUISITION: Translation<typeof EN> = {
  'event-asked': 'Gefragt: Funktion {function}, {table} {from} bis {to}[, {elapsed} ms].',
  'event-tried': 'Anlauf {attempt}.',
  'event-affected': 'Ohne das nicht beurteilt: {affected}.',
  'field-back': 'Antwortet wieder.',
  'field-silent': 'Keine Antwort innerhalb von {detail}.',
  'field-connect-timed-out': 'Keine Verbindung innerhalb von {detail}.',
  'field-connect-failed': 'Keine Verbindung ({detail}).',
  'field-connection-error': 'Die Verbindung brach ab ({detail}).',
  'field-connection-ended': 'Das Gerät hat die Verbindung geschlossen.',
  'field-connection-closed': 'Die Verbindung ist weg.',
  'field-connection-lost': 'Die Verbindung ist verloren.',
  'field-wrong-transaction':
    'Eine Antwort auf eine Frage, die nicht gestellt wurde. Sie wird verworfen, mit allem, was ihr folgt.',
  'field-wrong-protocol': 'Eine Antwort, die nicht Modbus ist. Sie wird verworfen, mit allem, was ihr folgt.',
  'field-wrong-unit': 'Eine Antwort eines anderen Teilnehmers. Sie wird verworfen, mit allem, was ihr folgt.',
  'field-wrong-function':
    'Eine Antwort auf eine andere Funktion. Sie wird verworfen, mit allem, was ihr folgt.',
  'field-wrong-length':
    'Eine Antwort von anderer Länge als verlangt. Sie wird verworfen, mit allem, was ihr folgt.',
  'field-wrong-byte-count':
    'Eine Antwort, deren Bytezahl nicht passt. Sie wird verworfen, mit allem, was ihr folgt.',
  'field-wrong-checksum': 'Eine Antwort mit falscher Prüfsumme. Sie wird verworfen, und die nächste auch.',
  'field-surplus-bytes': 'Mehr Bytes, als die Antwort hat. Sie werden verworfen.',
  'field-unasked-bytes': 'Bytes, die niemand verlangt hat. Sie werden verworfen.',
  'field-quarantined': 'Der ersten Antwort nach einer Störung wird nicht getraut.',
  'field-library': 'Die Antwort war nicht zu lesen ({detail}).',
  'field-function-refused': 'Es kennt diese Funktion nicht (Ausnahme {exception}).',
  'field-address-refused':
    'Es verweigert diese Adresse (Ausnahme {exception}); die anderen werden weiter gelesen.',
  'field-block-unanswered': 'Es beantwortet diesen Block nicht als Ganzes; er wird in Teilen gelesen.',
  'field-device-busy': 'Es ist beschäftigt (Ausnahme {exception}); es wird so lange seltener gefragt.',
  'field-gateway-without-answer':
    'Das Gateway hat keine Antwort vom Teilnehmer (Ausnahme {exception}); er wird so lange seltener gefragt.',
  'field-device-refused': 'Es verweigert (Ausnahme {exception}).',
  'next-lower-max-registers':
    '„max-registers“ dieser Quelle auf das setzen, was das Gerät auf einmal beantwortet.',
  'next-check-port': 'Dort hört nichts zu: den Port prüfen, und ob der Dienst des Geräts eingeschaltet ist.',
  'next-check-name':
    'Prüfen, wie der Rechnername geschrieben ist; eine Adresse in Zahlen braucht keinen Namensdienst.',
  'next-check-path': 'Diese serielle Schnittstelle gibt es nicht: Pfad und Adapter prüfen.',
  'next-check-permission':
    'Dieser Benutzer darf die serielle Schnittstelle nicht öffnen: ihn in ihre Gruppe aufnehmen.',
  'next-check-unit':
    'Die Teilnehmernummer prüfen; hinter einem Gateway auch Versorgung, Leitung und Baudrate des Geräts.',
  'next-check-host': 'Adresse, Kabel und Firewall prüfen.',
  'next-check-other-clients':
    'Viele Geräte nehmen nur ein oder zwei Clients an: nachsehen, wer sonst verbunden ist.',
  'next-check-gateway': 'Prüfen, wie das Gateway die Teilnehmernummern zuordnet.',
  'next-check-line':
    'Abschluss, Schirm und Baudrate prüfen, und dass kein zweiter Master auf der Leitung spricht.',
  'next-wait': 'Es wird von selbst wieder versucht.',
  'next-check-device': 'Das Gerät ansehen.',
  'next-check-table': 'Prüfen, ob der Wert in einer anderen Tabelle liegt (hr, ir, coil, di).',
  'next-check-address': 'Die Adresse prüfen: „probe“ zeigt auch ihre Nachbarn.',
  'next-check-behind-gateway': 'Das Gerät hinter dem Gateway und den Weg dorthin prüfen.',
};
