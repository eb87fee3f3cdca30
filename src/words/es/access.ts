import type { ACCESS as EN } from '../en/access.ts';
import type { Translation } from '../language.ts';

/** Why a request to the daemon is refused before its work begins, and what to do. */
export const ACCESS: Translation<typeof EN> = {
  'foreign-name':
    'Este servicio no responde a ese nombre. Llamarlo por su dirección, o arrancarlo con --name.',
  'foreign-page': 'Una página ajena lo pidió. Solo pueden hacerlo las páginas de este servicio.',
  'session-needed':
    'Aquí no hay nadie con sesión iniciada. Iniciarla primero; en la línea de órdenes, nombrar la cuenta con --as.',
  'session-open': 'En esta dirección nadie inicia sesión: está abierta a quien esté ante este equipo.',
  'session-token': 'La petición no lleva la clave de su sesión. Cargar la página de nuevo.',
  'session-role':
    'Hace falta el papel {role:account-role}, que «{id}» no tiene. Los papeles los da un administrador.',
  'session-other-name':
    '{name} tiene la sesión iniciada: aquí no se anota nada en nombre de {other}. Dejar que esa persona inicie sesión, o quitar el nombre.',
  'session-needs-password':
    'Un cambio de cuentas pide cada vez la contraseña de un administrador, aunque {name} tenga la sesión iniciada.',
  'who-missing': 'Decir quién lo anota: un nombre, o una cuenta con su contraseña.',
  'too-often': 'Llegaron demasiadas peticiones desde aquí. Esperar {seconds} s.',
};
