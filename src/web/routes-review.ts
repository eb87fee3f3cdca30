import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Reviewed, ReviewQuestion } from '../api/index.ts';
import type { On } from './answering.ts';
import { refuse } from './refusal.ts';

/** What the daemon answers from its log; undefined: there is no such window, or no rulebook yet. */
export interface ReviewBehind {
  review(question: ReviewQuestion): Promise<Reviewed | undefined>;
}

/** The page narrows this to its own style and script by their hashes. */
const PAGE_CSP =
  "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; frame-ancestors 'none'";

const JSON_TYPE = 'application/json; charset=utf-8';

/** Whoever has the newest answer already is told so and gets nothing. */
const send = (
  request: FastifyRequest,
  reply: FastifyReply,
  { tag, body }: Reviewed,
  type: string,
): FastifyReply => {
  const etag = `"${tag}"`;
  reply.header('cache-control', 'private, no-cache').header('etag', etag);
  if (request.headers['if-none-match'] === etag) return reply.code(304).send();
  return reply.type(type).send(Buffer.from(body.buffer, body.byteOffset, body.byteLength));
};

/** Everything that is read from the log: windows, traces, proofs, papers. */
export const reviewRoutes = (on: On, behind: ReviewBehind): void => {
  const answer = async (
    request: FastifyRequest,
    reply: FastifyReply,
    question: ReviewQuestion,
    type = JSON_TYPE,
  ): Promise<FastifyReply> => {
    const found = await behind.review(question);
    if (found !== undefined) return send(request, reply, found, type);
    return 'window' in question
      ? refuse(reply, 404, 'no-window-in-log', { window: question.window })
      : refuse(reply, 404, 'no-book');
  };
  on('GET /api/windows', ({ request }, reply) => answer(request, reply, { ask: 'windows' }));
  on('GET /api/matrix', ({ request }, reply) => answer(request, reply, { ask: 'matrix' }));
  on('GET /api/due', ({ request }, reply) => answer(request, reply, { ask: 'due' }));
  on('GET /api/windows/:id/record', ({ request, places }, reply) =>
    answer(request, reply, { ask: 'record', window: places.id }),
  );
  on('GET /api/windows/:id/trace', ({ request, places, query }, reply) => {
    const { signals, ...wish } = query;
    const names = signals.split(',').filter((name) => name !== '');
    return answer(request, reply, { ask: 'trace', window: places.id, signals: names, ...wish });
  });
  on('GET /api/windows/:id/report.html', ({ request, places }, reply) => {
    reply.header('content-security-policy', PAGE_CSP);
    return answer(request, reply, { ask: 'page', window: places.id }, 'text/html; charset=utf-8');
  });
  on('GET /api/windows/:id/report.pdf', ({ request, places }, reply) =>
    answer(request, reply, { ask: 'pdf', window: places.id }, 'application/pdf'),
  );
};
