import type { SCOPE as EN } from '../en/scope.ts';
import type { Translation } from '../language.ts';

/** Why an interlock is to be proved again after a change. */
export const SCOPE: Translation<typeof EN> = {
  'scope-line': 'Se nombró su propia regla ({name}).',
  'scope-depends-on': 'Depende de {name}.',
  'scope-tag': 'Se apoya en la variable {name}.',
  'scope-rule': '{what}: antes {was}, ahora {becomes}.',
  'scope-shares': 'Comparte {name} con {other}.',
  'scope-same-sensor': 'Se apoya en el mismo sensor que {other} ({name}).',
  'scope-same-effect': 'Provoca el mismo efecto que {other} ({name}).',
  'scope-cascade': 'Su máquina se para con la de {other} ({machine}).',
  'scope-control': 'Nadie lo tocó; de esos, es el que se demostró hace más tiempo.',
  'scope-all': 'Nada del controlador antiguo se puede dar por hecho.',
};
