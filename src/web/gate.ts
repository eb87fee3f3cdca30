import type { FastifyInstance } from 'fastify';
import { ROUTES, type RouteName } from '../api/index.ts';

/** Whether the table of routes has this one. */
const isKnown = (name: string): name is RouteName => Object.hasOwn(ROUTES, name);

/** Nothing is served under /api that is not in the table of routes; beside it, only files are read. To be called first. */
export const guardRoutes = (server: FastifyInstance): void => {
  server.addHook('onRoute', ({ method, url }) => {
    for (const one of [method].flat()) {
      const name = `${one === 'HEAD' ? 'GET' : one} ${url}`;
      if (url.startsWith('/api/') ? !isKnown(name) : !name.startsWith('GET '))
        throw new Error(
          `${name} is not in the table of routes (src/api/routes.ts): nobody says who may ask for it`,
        );
    }
  });
};
