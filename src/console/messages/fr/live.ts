import type { Messages } from '../../text/messages.ts';

export const LIVE: Messages['live'] = {
  title: 'Tracé en direct',
  choose: 'Que suivre',
  'by-interlock': 'Asservissement',
  none: 'Signaux au choix',
  signals: 'Signaux ({n} sur {most})',
  machine: 'Signaux de {machine}',
  other: 'Autres signaux',
  span: 'Temps à l’écran',
  nothing: 'Choisir un asservissement ou un signal.',
  skipped: 'Cet appareil était trop lent : des lectures ont été omises. Ce qui est affiché a été relu.',
  away: 'Aucune lecture n’arrive. Le tracé s’arrête là où elles ont cessé.',
  'mark-now': 'Marquer maintenant',
  'mark-note': 'Note de la marque',
  marked: 'La marque est inscrite dans l’essai {window}.',
  'mark-title': 'Marques de l’essai en cours',
  link: 'Cette vue a sa propre adresse : à copier ou à garder.',
};
