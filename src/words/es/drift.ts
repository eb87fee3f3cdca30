import type { DRIFT as EN } from '../en/drift.ts';
import type { Translation } from '../language.ts';

/** What years of tests say of an interlock. */
export const DRIFT: Translation<typeof EN> = {
  'drift-trip':
    'Su punto de disparo deriva {slope:unit} al año[; puede salir de su tolerancia desde el {earliest:day}][, y habrá salido de ella el {latest:day}]. Son las cotas de todas las rectas que pasan por todos los intervalos medidos.',
  'drift-response':
    'Su respuesta deriva {slope:unit} al año[; puede llegar demasiado tarde desde el {earliest:day}][, y así será el {latest:day}]. Son las cotas de todas las rectas que pasan por todos los intervalos medidos.',
  'too-constant':
    'Demasiado constante para ser cierto: el punto de disparo y la respuesta de {windows} son iguales hasta la última cifra. Los ensayos reales varían; comparar las trazas y ensayar de nuevo con un testigo.',
};
