import type { FastifyReply, FastifyRequest } from 'fastify';
import { Declined } from '../api/index.ts';
import { text } from '../words/index.ts';

export const refuse = (reply: FastifyReply, status: number, code: string, message: string): FastifyReply =>
  reply.code(status).send({ code, message });

/** A request is refused before its work begins. `code` is that of a sentence in the catalogue. */
export class Barred extends Error {
  readonly statusCode: number;
  readonly code: string;

  constructor(statusCode: number, code: string, params: Readonly<Record<string, string | number>> = {}) {
    super(text({ code, params }));
    this.name = 'Barred';
    this.statusCode = statusCode;
    this.code = code;
  }
}

/** What is wrong in shape, without a word of what was sent: it may hold a password, also in the wrong place. */
const faultsOf = (
  issues: readonly {
    readonly code?: string;
    readonly path: readonly PropertyKey[];
    readonly message: string;
  }[],
): string =>
  issues
    .map(({ code, path, message }) => {
      const where = path.map(String).join('.') || 'request';
      return `${where}: ${code === 'unrecognized_keys' ? 'holds a field that is not known' : message}`;
    })
    .join('; ');

/** Every error as an answer with a code for programs and a sentence for people. */
export const onError = (
  error: Error & { issues?: Parameters<typeof faultsOf>[0]; statusCode?: number },
  _request: FastifyRequest,
  reply: FastifyReply,
): FastifyReply => {
  if (error.issues) return refuse(reply, 400, 'bad-request', faultsOf(error.issues));
  if (error instanceof Barred) return refuse(reply, error.statusCode, error.code, error.message);
  if (error instanceof Declined) return refuse(reply, 409, error.reason.code, error.message);
  if (error instanceof RangeError) return refuse(reply, 409, 'not-now', error.message);
  const status = error.statusCode ?? 500;
  return refuse(reply, status, status === 400 ? 'bad-request' : 'trouble', error.message);
};
