import type { Table } from './types.ts';

/** Read functions (Modbus Application Protocol 6.1–6.4). */
export const FUNCTION_CODES = { coil: 1, 'discrete-input': 2, holding: 3, input: 4 } as const;

/** A table of single bits. */
export const isBits = (table: Table): boolean => table === 'coil' || table === 'discrete-input';

/** In the place of a word that the device refuses (see `Answer.words`). */
export const REFUSED = -1;
/** In the place of a word that another answer to the same request carries. */
export const ELSEWHERE = -2;
