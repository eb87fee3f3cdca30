import type { NumberWords } from '../language.ts';

export const NUMBERS: NumberWords = {
  decimal: ',',
  unknown: 'unbekannt',
  notKnown: 'nicht bekannt',
  atLeast: 'mindestens',
  atMost: 'höchstens',
  and: 'und',
  singular: 'one',
  units: {
    pulses: 'Impulse',
    'pulses/min': 'Impulse/min',
    'pulses/s': 'Impulse/s',
    count: 'Zählschritte',
  },
};
