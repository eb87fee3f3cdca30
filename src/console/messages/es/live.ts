import type { Messages } from '../../text/messages.ts';

export const LIVE: Messages['live'] = {
  title: 'Traza en vivo',
  choose: 'Qué seguir',
  'by-interlock': 'Enclavamiento',
  none: 'Señales a elegir',
  signals: 'Señales ({n} de {most})',
  machine: 'Señales de {machine}',
  other: 'Otras señales',
  span: 'Tiempo en pantalla',
  nothing: 'Elegir un enclavamiento o una señal.',
  skipped: 'Este aparato fue demasiado lento: se omitieron lecturas. Lo que se ve se ha leído de nuevo.',
  away: 'No llegan lecturas. La traza termina donde cesaron.',
  'mark-now': 'Marcar ahora',
  'mark-note': 'Nota de la marca',
  marked: 'La marca está anotada en el ensayo {window}.',
  'mark-title': 'Marcas del ensayo abierto',
  link: 'Esta vista tiene dirección propia: copiarla o guardarla.',
};
