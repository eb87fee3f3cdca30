import type { DRIFT as EN } from '../en/drift.ts';
import type { Translation } from '../language.ts';

/** What years of tests say of an interlock. */
export const DRIFT: Translation<typeof EN> = {
  'drift-trip':
    'Ihr Auslösepunkt wandert um {slope:unit} im Jahr[; er kann ihre Toleranz ab {earliest:day} verlassen][ und hat sie bis {latest:day} verlassen]. Das sind die Schranken aller Geraden durch alle gemessenen Intervalle.',
  'drift-response':
    'Ihre Ansprechzeit wandert um {slope:unit} im Jahr[; sie kann ab {earliest:day} zu spät kommen][ und tut es bis {latest:day}]. Das sind die Schranken aller Geraden durch alle gemessenen Intervalle.',
  'too-constant':
    'Zu gleich, um wahr zu sein: Auslösepunkt und Ansprechzeit von {windows} stimmen bis zur letzten Stelle überein. Wirkliche Prüfungen streuen; die Aufzeichnungen vergleichen und mit einem Zeugen erneut prüfen.',
};
