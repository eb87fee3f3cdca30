import type { REFUSALS as EN } from '../en/refusals.ts';
import type { Translation } from '../language.ts';

/** Why the daemon does not do what was asked, where no rule of the record is against it. */
export const REFUSALS: Translation<typeof EN> = {
  'not-found': 'Aquí no hay nada.',
  'no-window':
    'En esta ejecución del servicio no hay ningún ensayo {window}. Uno anterior consta en el registro: «tripwitness report LOG --window {window}» lo muestra.',
  'no-window-in-log': 'En el registro no hay ningún ensayo {window}.',
  'no-book': 'El registro aún no contiene ningún libro de reglas.',
  'window-open-already': 'El ensayo {window} está abierto. Cerrarlo primero.',
  'no-interlock': 'No hay ningún enclavamiento «{name}».[ Existen: {known}.]',
  'no-machine': 'No hay ninguna máquina «{name}».',
  'no-method': 'No hay ningún método de ensayo «{name}».[ Existen: {known}.]',
  'interlocks-unnamed': 'Nombrar al menos un enclavamiento: interlocks=a,b.',
  'methods-not-fitting': 'Nombrar un método de ensayo para cada enclavamiento, o uno para todos.',
  'no-level-to-observe': '{interlock} no actúa sobre ningún nivel medido: no hay valor que leer.',
  'other-unit':
    '{signal} se mide en {own}, y «{said}» no es un valor suyo. Escribir un número con una de estas unidades: {units}.',
  'no-signal': 'No existe la señal {signals}.',
  'signals-unnamed': 'Nombrar las señales: signals=a,b.',
  'signals-too-many': 'Como máximo se pueden seguir {most} señales a la vez.',
  'followers-too-many': 'Ya hay {most} páginas siguiendo. Cerrar una de ellas.',
  'bad-request': 'No se entendió lo que se pidió.[ No es como debe ser: {faults:semicolons}.]',
  'too-large': 'Lo enviado es demasiado grande.',
  trouble: 'El servicio tuvo un fallo propio[: {detail}]. Mirar lo que escribió.',
};
