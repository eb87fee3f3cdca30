import type { FastifyRequest } from 'fastify';

/** Where it listens, and how it is entered there. */
export interface Place {
  /** Address for other machines; undefined: the loopback one, for this machine alone. */
  readonly host?: string;
  /** 0: any free one. */
  readonly port: number;
  /** Names beside the address under which it may be asked. */
  readonly names?: readonly string[];
  /** PEM texts. Without: what is sent and answered can be read on the way. */
  readonly tls?: { readonly cert: string; readonly key: string };
  /** `open`: names as typed, for those who sit at this very machine. */
  readonly access: 'open' | 'accounts';
}

export const LOOPBACK = '127.0.0.1';

const LOCAL: readonly string[] = [LOOPBACK, 'localhost', '[::1]'];
const HOST = /^(?<name>\[[0-9a-f:.]+\]|[a-z0-9._-]+)(?::\d{1,5})?$/i;

/** An address as it stands in a URL. IPv4 that came by a socket of IPv6 is IPv4. */
const inUrl = (address: string): string => {
  const plain = address.replace(/^::ffff:(?=\d+\.)/, '');
  return plain.includes(':') ? `[${plain}]` : plain;
};

/**
 * Whether a request names this server: by the very address that it came to, or by a name that was given. A page from elsewhere
 * whose own name was made to lead here names itself, and is refused.
 */
export const isNamed = ({ host, names = [] }: Place, request: FastifyRequest): boolean => {
  const name = HOST.exec(request.headers.host ?? '')?.groups?.['name']?.toLowerCase();
  if (name === undefined) return false;
  if (host === undefined) return LOCAL.includes(name);
  const came = inUrl(request.socket.localAddress ?? '');
  return [came, inUrl(host), ...names].some((one) => one.toLowerCase() === name);
};

/** What a browser says of the page that asks: nothing, or that it is ours. */
export const isOwnPage = ({ tls }: Place, { headers }: FastifyRequest): boolean => {
  const own = `${tls === undefined ? 'http' : 'https'}://${headers.host ?? ''}`;
  return headers.origin === undefined || headers.origin === own;
};
