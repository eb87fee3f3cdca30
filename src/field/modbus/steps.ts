import type { Foul } from './wire.ts';

const OF_MACHINE: Readonly<Record<string, string>> = {
  ECONNREFUSED: 'check-port',
  ENOTFOUND: 'check-name',
  EAI_AGAIN: 'check-name',
  ENOENT: 'check-path',
  EACCES: 'check-permission',
};

const OF_FOUL: Readonly<Record<string, string>> = {
  silent: 'check-unit',
  'connect-timed-out': 'check-host',
  'connection-error': 'check-other-clients',
  'connection-ended': 'check-other-clients',
  'connection-closed': 'check-other-clients',
  'wrong-unit': 'check-gateway',
  'wrong-checksum': 'check-line',
  'unasked-bytes': 'check-line',
  'surplus-bytes': 'check-line',
  quarantined: 'wait',
};

/** Code of what a person can try next. */
export const stepAfter = ({ code, detail }: Foul): string => {
  if (code !== 'connect-failed') return OF_FOUL[code] ?? 'check-device';
  const known = Object.keys(OF_MACHINE).find((one) => detail.includes(one));
  return known === undefined ? 'check-host' : (OF_MACHINE[known] ?? 'check-host');
};

/** The device's exceptions (Application Protocol V1.1b3, 7): what they are to a poller, and what a person can try. */
export const exceptionOf = (code: number): { readonly code: string; readonly next: string } => {
  switch (code) {
    case 1:
      return { code: 'function-refused', next: 'check-table' };
    case 2:
    case 3:
      return { code: 'address-refused', next: 'check-address' };
    case 5:
    case 6:
      return { code: 'device-busy', next: 'wait' };
    case 10:
    case 11:
      return { code: 'gateway-without-answer', next: 'check-behind-gateway' };
    default:
      return { code: 'device-refused', next: 'check-device' };
  }
};

/** It passes by itself: the unit is asked more seldom meanwhile. */
export const passes = (exception: number): boolean => [5, 6, 10, 11].includes(exception);
