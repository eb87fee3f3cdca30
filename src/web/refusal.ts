import type { FastifyReply, FastifyRequest } from 'fastify';
import { Declined } from '../api/index.ts';
import type { Phrase } from '../measure/index.ts';
import { type Code, type PhraseCode, text } from '../words/index.ts';

/** Answers with code, parameters and the English sentence. */
export const refuse = (
  reply: FastifyReply,
  status: number,
  code: Code,
  params: Phrase['params'] = {},
): FastifyReply => told(reply, status, { code, params });

const told = (reply: FastifyReply, status: number, { code, params }: Phrase): FastifyReply =>
  reply.code(status).send({ code, message: text({ code, params }), params });

/** A request is refused before its work begins, or does not fit this site. */
export class Barred extends Error {
  readonly statusCode: number;
  readonly reason: Phrase;

  constructor(statusCode: number, code: Code | Phrase, params: Phrase['params'] = {}) {
    const reason = typeof code === 'string' ? { code, params } : code;
    super(text(reason));
    this.name = 'Barred';
    this.statusCode = statusCode;
    this.reason = reason;
  }
}

/** What a check of shape found; never a word of what was sent. */
interface Issue {
  readonly code?: string;
  readonly path: readonly PropertyKey[];
  readonly minimum?: number | bigint;
  readonly maximum?: number | bigint;
  readonly values?: readonly unknown[];
}

/** What is wrong in shape, without a word of what was sent: it may hold a password, also in the wrong place. */
const faultOf = ({ code, path, minimum, maximum, values = [] }: Issue): Phrase => {
  const where = path.map(String).join('.') || 'request';
  const as = (name: PhraseCode, params: Phrase['params'] = {}): Phrase => ({
    code: name,
    params: { where, ...params },
  });
  switch (code) {
    case 'unrecognized_keys':
      return as('field-unknown');
    case 'too_small':
      return as('field-too-small', { least: Number(minimum) });
    case 'too_big':
      return as('field-too-big', { most: Number(maximum) });
    case 'invalid_value':
      return as('field-not-of-list', { known: values.map(String) });
    case 'invalid_type':
      return as('field-missing');
    default:
      return as('field-wrong');
  }
};

const TOO_LARGE = 413;

/** Every error as an answer with a code for programs and a sentence for people. */
export const onError = (
  error: Error & { issues?: readonly Issue[]; statusCode?: number },
  _request: FastifyRequest,
  reply: FastifyReply,
): FastifyReply => {
  if (error.issues) return refuse(reply, 400, 'bad-request', { faults: error.issues.map(faultOf) });
  if (error instanceof Barred) return told(reply, error.statusCode, error.reason);
  if (error instanceof Declined) return told(reply, 409, error.reason);
  const status = error.statusCode ?? 500;
  if (status === TOO_LARGE) return refuse(reply, status, 'too-large');
  return status < 500
    ? refuse(reply, status, 'bad-request')
    : refuse(reply, status, 'trouble', { detail: error.message });
};
