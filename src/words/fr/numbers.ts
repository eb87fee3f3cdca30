import type { NumberWords } from '../language.ts';

export const NUMBERS: NumberWords = {
  decimal: ',',
  unknown: 'inconnu',
  notKnown: 'non connu',
  atLeast: 'au moins',
  atMost: 'au plus',
  and: 'et',
  singular: 'below-two',
  units: {
    pulses: 'impulsions',
    'pulses/min': 'impulsions/min',
    'pulses/s': 'impulsions/s',
    count: 'coups',
  },
};
