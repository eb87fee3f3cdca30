import type { Messages } from '../../text/messages.ts';

export const LIVE: Messages['live'] = {
  title: 'Laufender Verlauf',
  choose: 'Was verfolgt wird',
  'by-interlock': 'Verriegelung',
  none: 'Signale nach Wahl',
  signals: 'Signale ({n} von {most})',
  machine: 'Signale von {machine}',
  other: 'Weitere Signale',
  span: 'Zeit auf dem Schirm',
  nothing: 'Eine Verriegelung oder ein Signal wählen.',
  skipped:
    'Dieses Gerät war zu langsam: Einige gelesene Werte sind unterwegs ausgefallen. Was hier steht, wurde neu gelesen.',
  away: 'Es kommen keine gelesenen Werte. Der Verlauf endet, wo sie aufhörten.',
  'mark-now': 'Jetzt markieren',
  'mark-note': 'Notiz zur Marke',
  marked: 'Die Marke ist in der Prüfung {window} eingetragen.',
  'mark-title': 'Marken der laufenden Prüfung',
  link: 'Diese Ansicht hat eine eigene Adresse: kopieren oder merken.',
};
