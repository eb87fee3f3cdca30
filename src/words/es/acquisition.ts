import type { ACQUISITION as EN } from '../en/acquisition.ts';
import type { Translation } from '../language.ts';

/** What a source tells of itself while it is read. `field-…`: what happened; `next-…`: what a person can try. */
export const ACQUISITION: Translation<typeof EN> = {
  'event-asked': 'Se preguntó: función {function}, {table} {from} a {to}[, {elapsed} ms].',
  'event-tried': 'Intento {attempt}.',
  'event-affected': 'No se juzga sin ello: {affected}.',
  'field-back': 'Responde de nuevo.',
  'field-silent': 'Sin respuesta en {detail}.',
  'field-connect-timed-out': 'Sin conexión en {detail}.',
  'field-connect-failed': 'Sin conexión ({detail}).',
  'field-connection-error': 'La conexión se rompió ({detail}).',
  'field-connection-ended': 'El equipo cerró la conexión.',
  'field-connection-closed': 'La conexión ya no existe.',
  'field-connection-lost': 'La conexión se perdió.',
  'field-wrong-transaction':
    'Una respuesta a una pregunta que no se hizo. Se descarta, con todo lo que la sigue.',
  'field-wrong-protocol': 'Una respuesta que no es Modbus. Se descarta, con todo lo que la sigue.',
  'field-wrong-unit': 'Una respuesta de otra unidad. Se descarta, con todo lo que la sigue.',
  'field-wrong-function': 'Una respuesta a otra función. Se descarta, con todo lo que la sigue.',
  'field-wrong-length':
    'Una respuesta de otra longitud que la pedida. Se descarta, con todo lo que la sigue.',
  'field-wrong-byte-count':
    'Una respuesta cuyo número de bytes no cuadra. Se descarta, con todo lo que la sigue.',
  'field-wrong-checksum': 'Una respuesta con suma de control errónea. Se descarta, y también la siguiente.',
  'field-surplus-bytes': 'Más bytes de los que tiene la respuesta. Se descartan.',
  'field-unasked-bytes': 'Bytes que nadie pidió. Se descartan.',
  'field-quarantined': 'No se confía en la primera respuesta tras una perturbación.',
  'field-library': 'No se pudo leer la respuesta ({detail}).',
  'field-function-refused': 'No conoce esta función (excepción {exception}).',
  'field-address-refused': 'Rechaza esta dirección (excepción {exception}); las demás se siguen leyendo.',
  'field-block-unanswered': 'No responde a este bloque entero; se lee por partes.',
  'field-device-busy': 'Está ocupado (excepción {exception}); entretanto se le pregunta menos a menudo.',
  'field-gateway-without-answer':
    'La pasarela no recibe respuesta de la unidad (excepción {exception}); entretanto se le pregunta menos a menudo.',
  'field-device-refused': 'Rechaza (excepción {exception}).',
  'next-lower-max-registers': 'Poner «max-registers» de esta fuente en lo que el equipo responde de una vez.',
  'next-check-port': 'Nada escucha ahí: comprobar el puerto, y que el servicio del equipo esté activado.',
  'next-check-name':
    'Comprobar cómo está escrito el nombre del equipo; una dirección numérica no necesita servidor de nombres.',
  'next-check-path': 'No existe ese puerto serie: comprobar la ruta y el adaptador.',
  'next-check-permission': 'Este usuario no puede abrir el puerto serie: añadirlo a su grupo.',
  'next-check-unit':
    'Comprobar el número de unidad; detrás de una pasarela, también la alimentación, la línea y la velocidad del equipo.',
  'next-check-host': 'Comprobar la dirección, el cable y el cortafuegos.',
  'next-check-other-clients': 'Muchos equipos aceptan solo uno o dos clientes: ver quién más está conectado.',
  'next-check-gateway': 'Comprobar cómo asigna la pasarela los números de unidad.',
  'next-check-line':
    'Comprobar la terminación, la pantalla y la velocidad, y que no hable un segundo maestro en la línea.',
  'next-wait': 'Se vuelve a intentar solo.',
  'next-check-device': 'Mirar el equipo.',
  'next-check-table': 'Comprobar si el valor está en otra tabla (hr, ir, coil, di).',
  'next-check-address': 'Comprobar la dirección: «probe» muestra también sus vecinas.',
  'next-check-behind-gateway': 'Comprobar el equipo que está detrás de la pasarela y el camino hasta él.',
};
