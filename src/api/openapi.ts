import { z } from 'zod';
import { troubleSchema } from './answers/session.ts';
import { ROUTES, type Route } from './routes.ts';

type Described = Readonly<Record<string, unknown>>;

const HERE = '"#/$defs/';
const NAMED = '"#/components/schemas/';

/** JSON Schema 2020-12 with the schemas that have names of their own; they stand among the components. */
const jsonSchemaOf = (schema: z.ZodType): { readonly own: Described; readonly named: Described } => {
  const { $schema: _, $defs = {}, ...own } = z.toJSONSchema(schema, { io: 'input' });
  const moved = (part: unknown): Described =>
    JSON.parse(JSON.stringify(part).replaceAll(HERE, NAMED)) as Described;
  return { own: moved(own), named: moved($defs) };
};

/** As OpenAPI 3.1 takes it. Of a request: what is sent, so that defaults may be left out. */
const schemaOf = (schema: z.ZodType): Described => jsonSchemaOf(schema).own;

const json = (schema: z.ZodType): Described => ({ 'application/json': { schema: schemaOf(schema) } });

/** Names in the path are texts; those of the query stand in its schema. */
const parametersOf = (path: string, query: z.ZodType | undefined): Described[] => {
  const places = [...path.matchAll(/:(\w+)/g)].map(([, name]) => ({
    name,
    in: 'path',
    required: true,
    schema: { type: 'string' },
  }));
  const found = (query && schemaOf(query)) ?? {};
  const required = (found['required'] ?? []) as readonly string[];
  const fields = Object.entries((found['properties'] ?? {}) as Readonly<Record<string, Described>>);
  return [
    ...places,
    ...fields.map(([name, schema]) => ({ name, in: 'query', required: required.includes(name), schema })),
  ];
};

const answerOf = ({ answer }: Route): Described => {
  if (answer instanceof z.ZodType) return json(answer);
  if ('file' in answer) return { [answer.file]: { schema: { type: 'string' } } };
  // OpenAPI 3.1 has no word for events; each has a name and data of this shape.
  const events = Object.entries(answer.events).map(([name, schema]) => [name, schemaOf(schema)]);
  return { 'text/event-stream': { schema: { type: 'string' }, 'x-events': Object.fromEntries(events) } };
};

const TROUBLES: Readonly<Record<string, string>> = {
  '400': 'What was sent is not as described.',
  '401': 'Nobody is signed in, or id and password are not right.',
  '403': 'Another name, another page, no token of the session, or not the role.',
  '404': 'There is no such thing.',
  '409': 'A rule of the record or the present state is against it.',
  '429': 'Too often; `Retry-After` says for how many seconds.',
};

const operationOf = (method: string, path: string, route: Route): Described => {
  const { says, role, body, query, status = 200 } = route;
  const troubles = Object.entries(TROUBLES).map(([code, description]) => [
    code,
    { description, content: { 'application/json': { schema: { $ref: '#/components/schemas/Trouble' } } } },
  ]);
  return {
    summary: says,
    'x-least-role': role,
    ...(role !== 'anybody' && {
      security: [method === 'GET' ? { session: [] } : { session: [], token: [] }],
    }),
    parameters: parametersOf(path, query),
    ...(body && { requestBody: { required: true, content: json(body) } }),
    responses: { [status]: { description: says, content: answerOf(route) }, ...Object.fromEntries(troubles) },
  };
};

/** The API described after OpenAPI 3.1, from the table of routes. `version`: of the program. */
export const openApi = (version: string): Described & { readonly openapi: string } => {
  const paths: Record<string, Record<string, unknown>> = {};
  for (const [name, route] of Object.entries<Route>(ROUTES)) {
    const [method = '', path = ''] = name.split(' ');
    const at = path.replaceAll(/:(\w+)/g, '{$1}');
    paths[at] = { ...paths[at], [method.toLowerCase()]: operationOf(method, path, route) };
  }
  return {
    openapi: '3.1.1',
    info: {
      title: 'tripwitness',
      version,
      description:
        'The running daemon. It observes; it protects nothing. On its own machine it may be open; elsewhere a session is needed: the cookie that POST /api/session sets, and with every request that changes something the token that it answers.',
    },
    paths,
    components: {
      schemas: { Trouble: schemaOf(troubleSchema), ...jsonSchemaOf(troubleSchema).named },
      securitySchemes: {
        session: { type: 'apiKey', in: 'cookie', name: 'tripwitness-PORT' },
        token: { type: 'apiKey', in: 'header', name: 'x-tripwitness-csrf' },
      },
    },
  };
};
