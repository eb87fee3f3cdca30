import { MILLISECOND, type Micros, SECOND } from '../measure/index.ts';
import type { Line, OpcUaAccess, Source } from '../signal/index.ts';
import { resolvePath } from './paths.ts';
import { micros } from './quantities.ts';
import type { SourceText } from './site-schema.ts';
import type { Loose } from './walk.ts';

/** A source and how long one of its values may stay without a newer one. */
export interface SourceRead {
  readonly source: Source;
  readonly agedAfter: Micros;
}

const poll = (text: string | undefined): Micros => micros(text, 100 * MILLISECOND);

type Units = Extract<SourceText, { protocol: 'modbus-tcp' | 'modbus-rtu-over-tcp' | 'modbus-rtu' }>;

const lineOf = (text: Loose<Units>): Line => {
  if (text.protocol === 'modbus-rtu') {
    return {
      kind: 'serial',
      path: text.path ?? '',
      baud: text.baud ?? 19_200,
      parity: text.parity ?? 'even',
      dataBits: text['data-bits'] ?? 8,
      stopBits: text['stop-bits'] ?? 1,
    };
  }
  const kind = text.protocol === 'modbus-rtu-over-tcp' ? 'rtu-over-tcp' : 'tcp';
  const at = text as Loose<Extract<Units, { host: string }>>;
  const serialBaud = at['serial-baud'];
  return {
    kind,
    host: at.host ?? '',
    port: at.port ?? 502,
    ...(serialBaud === undefined ? {} : { serialBaud }),
  };
};

const modbus = (name: string, text: Loose<Units>): SourceRead => {
  const every = poll(text.poll);
  const timeout = micros(text.timeout, SECOND);
  const releaseAfter = micros(text['release-after'], undefined);
  return {
    source: {
      protocol: 'modbus',
      name,
      line: lineOf(text),
      unit: text.unit ?? 1,
      poll: every,
      windowPoll: micros(text['window-poll'], every),
      slowPoll: micros(text['slow-poll'], Math.max(SECOND, every)),
      timeout,
      scan: micros(text.scan, 0),
      scanConsistent: text['scan-consistent'] ?? false,
      maxRegisters: text['max-registers'] ?? 125,
      maxBits: text['max-bits'] ?? 2_000,
      maxGap: text['max-gap'] ?? 0,
      inFlight: (text.protocol === 'modbus-tcp' ? text['in-flight'] : undefined) ?? 1,
      pause: micros(text.pause, 0),
      connection: text.connection ?? 'shared',
      ...(releaseAfter === undefined ? {} : { releaseAfter }),
    },
    agedAfter: micros(text['aged-after'], Math.max(3 * every, every + timeout)),
  };
};

const accessOf = (text: Loose<Extract<SourceText, { protocol: 'opc-ua' }>>, main: string): OpcUaAccess => {
  const access = { mode: text.security ?? 'none', policy: text.policy ?? 'Basic256Sha256' };
  const { user, 'user-certificate': certificate } = text;
  const seen = (path: string): string => resolvePath(main, path);
  if (user !== undefined)
    return { ...access, user: { kind: 'name', name: user, passwordFrom: text['password-from'] ?? '' } };
  if (certificate !== undefined)
    return {
      ...access,
      user: { kind: 'certificate', certificate: seen(certificate), key: seen(text['user-key'] ?? '') },
    };
  return { ...access, user: { kind: 'anonymous' } };
};

const opcUa = (
  name: string,
  text: Loose<Extract<SourceText, { protocol: 'opc-ua' }>>,
  main: string,
): SourceRead => {
  const publishing = poll(text.publishing);
  const clockBound = micros(text['clock-bound'], undefined);
  return {
    source: {
      protocol: 'opc-ua',
      name,
      endpoint: text.endpoint ?? '',
      access: accessOf(text, main),
      sampling: poll(text.sampling),
      publishing,
      queue: text.queue ?? 10,
      timeout: micros(text.timeout, 5 * SECOND),
      scan: micros(text.scan, 0),
      ...(clockBound === undefined ? {} : { clockBound }),
      ...(text['source-clock'] === undefined ? {} : { sourceClock: text['source-clock'] }),
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
export const sourceOf = (
  name: string,
  text: Loose<SourceText> | undefined,
  main: string,
): SourceRead | undefined => {
  switch (text?.protocol) {
    case undefined:
      return undefined;
    case 'opc-ua':
      return opcUa(name, text as Loose<Extract<SourceText, { protocol: 'opc-ua' }>>, main);
    case 'trace':
      return trace(name, text as Loose<Extract<SourceText, { protocol: 'trace' }>>);
    default:
      return modbus(name, text as Loose<Units>);
  }
};
