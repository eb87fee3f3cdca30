import { say } from './say.ts';

/** As the record holds it where no permit is needed; why stands behind it. */
const NONE = 'none needed: ';

/** What is entered: a permit's number, or why none is needed. */
export const permitEntry = (isNone: boolean, permit: string): string =>
  isNone ? `${NONE}${permit.trim()}` : permit.trim();

/** What was entered, as it is told. */
export const permitText = (entered: string): string =>
  entered.startsWith(NONE) ? `${say('begin', 'permit-none')}: ${entered.slice(NONE.length)}` : entered;
