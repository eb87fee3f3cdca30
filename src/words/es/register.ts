import type { REGISTER as EN } from '../en/register.ts';
import type { Translation } from '../language.ts';

/** Why an item of the register is not opened or closed, and what to do instead. */
export const REGISTER: Translation<typeof EN> = {
  'register-unknown-on':
    'Ningún enclavamiento ni máquina de esta instalación se llama «{on}».[ Existen: {known}.]',
  'register-text': 'Decir con palabras de qué trata este punto ({item:item}).',
  'register-missing': 'Este punto ({item:item}) no se puede abrir sin: {fields}.',
  'register-day':
    'No existe tal momento ({field:field}): {day}. Un día se escribe 2026-11-25, una hora 2026-11-25T06:30:00Z.',
  'register-day-past': 'Ese día ya pasó ({field:field}): {day}.',
  'register-since-future': 'Ese momento aún no ha llegado: {since}.',
  'register-unknown-id': 'No hay ningún punto «{id}».[ Existen: {known}.]',
  'register-closed': '{id} está cerrado desde {at}. Abrir uno nuevo.',
  'register-needs-window': '{id} es de categoría A: nombrar el ensayo que demuestra {on}.',
  'register-no-window': 'No hay en este registro ningún ensayo {window} con el que cerrar {id}.',
  'register-window-standing':
    'Situación del ensayo {window}: {standing:window}. {id} se cierra con un ensayo que se haya cerrado.',
  'register-window-before':
    'El ensayo {window} se abrió antes que {id}: no demuestra que el defecto haya desaparecido.',
  'register-not-proved': 'El ensayo {window} no dice nada de {on}: no cierra {id}.',
  'register-not-passed': 'El ensayo {window} no demuestra {on}: {open}. {id} sigue abierto.',
  'log-other-daemon':
    'El servicio en {url} escribe otro registro. Nombrar con --daemon el que escribe {log}.',
};
