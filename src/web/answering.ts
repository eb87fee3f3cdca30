import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import {
  type AnswerOf,
  type BodyOf,
  type EnteredBy,
  type PlacesOf,
  type QueryOf,
  ROUTES,
  type Route,
  type RouteName,
} from '../api/index.ts';
import { createOnce } from './once.ts';
import { enteredBy, mustBeBy } from './session.ts';

/** A request that came through the gate, checked against the table of routes. */
export interface Asked<Name extends RouteName> {
  readonly places: PlacesOf<Name>;
  readonly query: QueryOf<Name>;
  readonly body: BodyOf<Name>;
  /** Who enters something: the account that is signed in, else the name as typed. Refuses where there is neither. */
  by(typed: string | undefined): EnteredBy;
  /** The same; undefined where there is neither. */
  maybeBy(typed: string | undefined): EnteredBy | undefined;
  readonly request: FastifyRequest;
}

type Work<Name extends RouteName> = (
  asked: Asked<Name>,
  reply: FastifyReply,
) => AnswerOf<Name> | FastifyReply | Promise<AnswerOf<Name> | FastifyReply>;

/** Serves one line of the table of routes: what comes in is parsed by its schemas, its status is sent. */
export type On = <Name extends RouteName>(name: Name, work: Work<Name>) => void;

export const answering = (server: FastifyInstance): On => {
  const once = createOnce();
  return (name, work) => {
    const route: Route = ROUTES[name];
    const [method = 'GET', url = ''] = name.split(' ');
    server.route({
      method,
      url,
      handler(request, reply) {
        const asked = {
          places: request.params,
          query: route.query?.parse(request.query),
          body: route.body?.parse(request.body),
          by: (typed) => mustBeBy(request, typed),
          maybeBy: (typed) => enteredBy(request, typed),
          request,
        } as Asked<typeof name>;
        if (route.status !== undefined) reply.code(route.status);
        return once(request, () => work(asked, reply));
      },
    });
  };
};
