import type { ServerResponse } from 'node:http';
import type { FastifyReply } from 'fastify';

/** Takes over a reply for server-sent events: its head goes out, whoever took it writes the rest. */
export const streaming = (reply: FastifyReply): ServerResponse => {
  reply.hijack();
  reply.raw.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
  return reply.raw;
};
