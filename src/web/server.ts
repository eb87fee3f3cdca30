import compress from '@fastify/compress';
import Fastify, { type FastifyInstance } from 'fastify';
import { openApi } from '../api/index.ts';
import { answering } from './answering.ts';
import { gate } from './gate.ts';
import { type GuideBehind, guideRoutes } from './guide.ts';
import { pageRoutes } from './page.ts';
import { type DeskBehind, paperRoutes } from './papers.ts';
import { LOOPBACK, type Place } from './place.ts';
import { onError, refuse } from './refusal.ts';
import { type LiveBehind, liveRoutes } from './routes-live.ts';
import { type NowBehind, nowRoutes } from './routes-now.ts';
import { type ReviewBehind, reviewRoutes } from './routes-review.ts';
import { type WindowsBehind, windowRoutes } from './routes-windows.ts';
import type { SessionsBehind } from './session.ts';
import { sessionRoutes } from './session-routes.ts';

/** What the page and the API need of the daemon. */
export interface Behind extends LiveBehind, GuideBehind, NowBehind, ReviewBehind, WindowsBehind {
  readonly desk: DeskBehind;
  readonly sessions: SessionsBehind;
  /** Version of the program. */
  readonly tool: string;
}

export interface Served {
  readonly url: string;
  stop(): Promise<void>;
}

/** A request that does not come to its end is given up: whoever only opens lines must not keep others out. */
const REQUEST_MS = 30_000;
const MOST_LINES = 500;

/**
 * Answers of so many bytes go out compressed: a book of 500 signals in a tenth of its bytes. Below that nothing is gained,
 * and what is secret, the token of a session, is never compressed together with what somebody else could have asked for.
 */
const COMPRESSED_FROM = 8_192;

/** HTTP/1.1, in the clear or in TLS 1.2 at least. */
const serverFor = ({ tls }: Place): FastifyInstance => {
  const options = { forceCloseConnections: true, bodyLimit: 65_536, requestTimeout: REQUEST_MS };
  if (tls === undefined) return Fastify(options);
  return Fastify({
    ...options,
    https: { ...tls, minVersion: 'TLSv1.2' },
  }) as unknown as FastifyInstance;
};

/** Serves API and page at one place; whoever does not get through the gate is refused. */
export const serve = async (behind: Behind, place: Place): Promise<Served> => {
  const server = serverFor(place);
  server.server.maxConnections = MOST_LINES;
  // Only JSON: what a form of another page could send without being asked is not even read.
  server.removeContentTypeParser('text/plain');
  server.setErrorHandler(onError);
  server.setNotFoundHandler((_request, reply) => refuse(reply, 404, 'not-found'));
  await server.register(compress, {
    threshold: COMPRESSED_FROM,
    encodings: ['gzip'],
    zlibOptions: { level: 4 },
  });
  const limits = await gate(server, place, behind.sessions);
  const on = answering(server);
  const about = { site: behind.book.site, title: behind.book.title, tool: behind.tool };
  sessionRoutes(on, place, about, behind.sessions, limits);
  on('GET /api/openapi.json', () => openApi(behind.tool));
  nowRoutes(on, behind);
  windowRoutes(on, behind);
  paperRoutes(on, behind.desk);
  liveRoutes(on, behind);
  reviewRoutes(on, behind);
  guideRoutes(on, behind);
  pageRoutes(server);
  const url = await server.listen({ host: place.host ?? LOOPBACK, port: place.port });
  return { url, stop: () => server.close() };
};
