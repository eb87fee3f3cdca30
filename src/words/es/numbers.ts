import type { NumberWords } from '../language.ts';

export const NUMBERS: NumberWords = {
  decimal: ',',
  unknown: 'desconocido',
  notKnown: 'no se conoce',
  atLeast: 'al menos',
  atMost: 'como máximo',
  and: 'y',
  singular: 'one',
  units: {
    pulses: 'impulsos',
    'pulses/min': 'impulsos/min',
    'pulses/s': 'impulsos/s',
    count: 'cuentas',
  },
};
