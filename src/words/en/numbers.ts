import type { NumberWords } from '../language.ts';

export const NUMBERS: NumberWords = {
  decimal: '.',
  unknown: 'unknown',
  notKnown: 'not known',
  atLeast: 'at least',
  atMost: 'at most',
  and: 'and',
  singular: 'one',
  units: {},
};
