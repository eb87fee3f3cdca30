import type { FastifyInstance } from 'fastify';
import {
  type AccountNow,
  type EnteredNow,
  type Entering,
  enteringFaults,
  enteringSchema,
  type LogNow,
  type RegisterItemNow,
  type SigningNow,
} from '../api/index.ts';

/** What the API needs of the daemon for signatures, corrections, register and accounts. */
export interface DeskBehind {
  enter(request: Entering): Promise<EnteredNow>;
  log(): Promise<LogNow>;
  people(): Promise<readonly AccountNow[]>;
  register(): Promise<readonly RegisterItemNow[]>;
  signing(window: string): Promise<SigningNow | undefined>;
}

/** Passwords come in by these and go no further than the desk: no answer and no log line repeats what was sent. */
export const paperRoutes = (server: FastifyInstance, desk: DeskBehind): void => {
  server.get('/api/log', () => desk.log());
  server.get('/api/people', () => desk.people());
  server.get('/api/register', () => desk.register());
  server.get<{ Params: { id: string } }>('/api/windows/:id/signing', async (request, reply) => {
    const signing = await desk.signing(request.params.id);
    if (signing !== undefined) return signing;
    return reply.code(404).send({ code: 'no-window', message: 'there is no such window in the log' });
  });
  server.post('/api/entries', async (request, reply) => {
    const asked = enteringSchema.safeParse(request.body);
    if (asked.success) return reply.code(201).send(await desk.enter(asked.data));
    return reply.code(400).send({ code: 'bad-request', message: enteringFaults(asked.error) });
  });
};
