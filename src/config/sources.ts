import { MILLISECOND, type Micros, SECOND } from '../measure/index.ts';
import type { Source } from '../signal/index.ts';
import { micros } from './quantities.ts';
import type { SourceText } from './site-schema.ts';
import type { Loose } from './walk.ts';

/** A source and how long one of its values may stay without a newer one. */
export interface SourceRead {
  readonly source: Source;
  readonly agedAfter: Micros;
}

const poll = (text: string | undefined): Micros => micros(text, 100 * MILLISECOND);

const modbus = (name: string, text: Loose<Extract<SourceText, { protocol: 'modbus-tcp' }>>): SourceRead => {
  const every = poll(text.poll);
  const timeout = micros(text.timeout, SECOND);
  return {
    source: {
      protocol: 'modbus-tcp',
      name,
      host: text.host ?? '',
      port: text.port ?? 502,
      unit: text.unit ?? 1,
      poll: every,
      timeout,
      scan: micros(text.scan, 0),
      scanConsistent: text['scan-consistent'] ?? false,
      maxRegisters: text['max-registers'] ?? 125,
      maxBits: text['max-bits'] ?? 2_000,
      maxGap: text['max-gap'] ?? 0,
    },
    agedAfter: micros(text['aged-after'], Math.max(3 * every, every + timeout)),
  };
};

const opcUa = (name: string, text: Loose<Extract<SourceText, { protocol: 'opc-ua' }>>): SourceRead => {
  const publishing = poll(text.publishing);
  const clockBound = micros(text['clock-bound'], undefined);
  return {
    source: {
      protocol: 'opc-ua',
      name,
      endpoint: text.endpoint ?? '',
      sampling: poll(text.sampling),
      publishing,
      queue: text.queue ?? 10,
      timeout: micros(text.timeout, 5 * SECOND),
      scan: micros(text.scan, 0),
      ...(clockBound === undefined ? {} : { clockBound }),
    },
    agedAfter: micros(text['aged-after'], Math.max(2 * SECOND, 10 * publishing)),
  };
};

const trace = (name: string, text: Loose<Extract<SourceText, { protocol: 'trace' }>>): SourceRead => ({
  source: {
    protocol: 'trace',
    name,
    scan: micros(text.scan, 0),
    scanConsistent: text['scan-consistent'] ?? false,
  },
  agedAfter: micros(text['aged-after'], 2 * SECOND),
});

/** Defaults where nothing was said; a source whose protocol could not be read is undefined (and has been told). */
export const sourceOf = (name: string, text: Loose<SourceText> | undefined): SourceRead | undefined => {
  if (text?.protocol === 'modbus-tcp') return modbus(name, text);
  if (text?.protocol === 'opc-ua') return opcUa(name, text);
  return text?.protocol === 'trace' ? trace(name, text) : undefined;
};
