import { fileURLToPath } from 'node:url';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';

/** Where the build puts the page; the same seen from the sources and from what is built of them. */
const BUILT = fileURLToPath(new URL('../../dist/console/', import.meta.url));

const YEAR = 31_536_000;

/** The page and its parts. A part's name changes with what is in it, so that it may be kept for ever. */
export const pageRoutes = (server: FastifyInstance): void => {
  server.register(fastifyStatic, {
    root: BUILT,
    cacheControl: false,
    preCompressed: true,
    // Nothing but what was built is there to be asked for.
    wildcard: false,
    setHeaders(answer, path) {
      const kept = path.includes('/assets/') || path.includes('\\assets\\');
      answer.header('cache-control', kept ? `public, max-age=${YEAR}, immutable` : 'no-cache');
    },
  });
};
