import type { ACCOUNTS as EN } from '../en/accounts.ts';
import type { Translation } from '../language.ts';

/** Why an account or a password is not taken, and what to do instead. */
export const ACCOUNTS: Translation<typeof EN> = {
  'person-id':
    'Esto no es un identificador («{id}»): escribir de 2 a 60 letras minúsculas, cifras, puntos y guiones.',
  'person-id-used':
    'El identificador «{id}» ya se dio antes. Un identificador nunca se da dos veces; elegir otro.',
  'person-name': 'La cuenta «{id}» necesita el nombre completo de su persona.',
  'person-roles':
    'La cuenta «{id}» necesita al menos un papel: observador, ensayador, revisor o administrador.',
  'person-first': 'La primera cuenta debe ser de un administrador: dar también ese papel a «{id}».',
  'person-unknown': 'No hay ninguna cuenta «{id}».',
  'person-closed': 'La cuenta «{id}» está cerrada, y así queda. Añadir una nueva con otro identificador.',
  'person-not-locked': 'La cuenta «{id}» no está bloqueada.',
  'person-last': 'El último administrador que puede actuar es «{id}». Crear antes otro.',
  'person-not-administrator': 'Solo un administrador puede hacerlo, y «{id}» no lo es. Pedírselo a uno.',
  'person-needs-administrator': 'Solo un administrador cambia cuentas: nombrar uno con --as.',
  'password-short': 'La contraseña es demasiado corta: al menos {least} caracteres.',
  'password-long': 'La contraseña es demasiado larga: como máximo {most} caracteres.',
  'password-name': 'La contraseña no puede ser el identificador ni el nombre de su persona.',
  'password-wrong': 'El identificador o la contraseña no es correcto.',
  'password-locked':
    'La cuenta «{id}» está bloqueada tras demasiadas contraseñas erróneas. Un administrador la desbloquea.',
  'password-lost':
    'Ninguna contraseña de «{id}» corresponde al registro: people.json se cambió o se perdió. Restaurarlo de una copia, o un administrador pone una nueva. Si ningún administrador tiene ya una: terminar el servicio, y «people password LOG ID» pone una para un administrador.',
};
