import Fastify, { type FastifyInstance, type FastifyReply } from 'fastify';
import {
  closeSchema,
  Declined,
  type FindingTold,
  markSchema,
  type Now,
  openWindowSchema,
  type PlanTold,
  type WindowNow,
} from '../api/index.ts';
import type { Mark, Method, Stimulus } from '../judge/index.ts';
import type { Instant } from '../measure/index.ts';
import type { Book } from '../rulebook/index.ts';
import { guardRoutes } from './gate.ts';
import { interlockNamed, markOf } from './marks.ts';
import { pageRoutes } from './page.ts';
import { type DeskBehind, paperRoutes } from './papers.ts';
import { type LiveBehind, liveRoutes } from './routes-live.ts';

interface Run {
  readonly id: string;
  show(from: number): WindowNow;
}

/** What the page and the API need of the daemon. */
export interface Behind extends LiveBehind {
  readonly book: Book;
  readonly desk: DeskBehind;
  now(): Now;
  open(request: {
    readonly stimuli: readonly Stimulus[];
    readonly people: readonly { readonly name: string; readonly role: string }[];
    readonly note: string;
    readonly revisions: Readonly<Record<string, string>>;
  }): Promise<Run>;
  /** What the planner says of these interlocks, from all that has been read so far. */
  plan(interlocks: readonly number[]): readonly PlanTold[];
  window(id: string): Run | undefined;
  mark(id: string, mark: (at: Instant) => Mark, actor: string): Promise<number>;
  close(id: string, actor: string): Promise<Run>;
  listen(ear: (told: FindingTold & { readonly window: string }) => void): () => void;
  report(id: string): string | undefined;
}

const CSP =
  "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self' data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

const LOCAL = /^(127\.0\.0\.1|localhost|\[::1\])(:\d+)?$/;

const refuse = (reply: FastifyReply, status: number, code: string, message: string): FastifyReply =>
  reply.code(status).send({ code, message });

/** Server-sent events; a listener that does not read is let go, so that it cannot fill the memory. */
const stream = (behind: Behind, reply: FastifyReply): void => {
  reply.hijack();
  const { raw } = reply;
  raw.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
  const send = (name: string, value: unknown): void => {
    if (raw.writableLength > 1_000_000) raw.destroy();
    else raw.write(`event: ${name}\ndata: ${JSON.stringify(value)}\n\n`);
  };
  const quiet = behind.listen((told) => send('finding', told));
  const timer = setInterval(() => send('now', behind.now()), 500);
  send('now', behind.now());
  raw.on('close', () => {
    clearInterval(timer);
    quiet();
  });
};

const routes = (server: FastifyInstance, behind: Behind): void => {
  const { book } = behind;
  server.get('/api/now', () => behind.now());
  server.get('/api/stream', (_request, reply) => stream(behind, reply));
  server.post('/api/windows', async (request, reply) => {
    const body = openWindowSchema.parse(request.body);
    const stimuli = body.stimuli.map(({ interlock, method }) => ({
      interlock: interlockNamed(book, interlock).id,
      method: method as Method,
    }));
    const run = await behind.open({
      stimuli,
      people: body.people,
      note: body.note,
      revisions: body.revisions,
    });
    const plan = behind.plan(stimuli.map((one) => one.interlock));
    return reply.code(201).send({ window: run.id, plan });
  });
  server.get<{ Params: { id: string }; Querystring: { from?: string } }>(
    '/api/windows/:id',
    (request, reply) => {
      const run = behind.window(request.params.id);
      if (run === undefined)
        return refuse(
          reply,
          404,
          'no-window',
          `this daemon has no window ${request.params.id}; an older one stands in the log: "tripwitness report LOG --window ${request.params.id}"`,
        );
      return reply.send(run.show(Number(request.query.from ?? 0) || 0));
    },
  );
  server.post<{ Params: { id: string } }>('/api/windows/:id/marks', async (request) => {
    const body = markSchema.parse(request.body);
    return { entry: await behind.mark(request.params.id, markOf(book, body), body.by) };
  });
  server.post<{ Params: { id: string } }>('/api/windows/:id/close', async (request) => {
    const { by } = closeSchema.parse(request.body);
    return (await behind.close(request.params.id, by)).show(0);
  });
  server.get<{ Params: { id: string } }>('/api/windows/:id/report.html', (request, reply) => {
    const page = behind.report(request.params.id);
    if (page === undefined) return refuse(reply, 404, 'no-window', 'there is no such window in the log');
    // The page narrows this to its own style and script by their hashes.
    reply.header(
      'content-security-policy',
      "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; frame-ancestors 'none'",
    );
    return reply.type('text/html; charset=utf-8').send(page);
  });
};

export interface Served {
  readonly url: string;
  stop(): Promise<void>;
}

/** Serves API and page on the loopback address; a request that names another host is refused. Port 0: any free one. */
export const serve = async (behind: Behind, port: number): Promise<Served> => {
  const server = Fastify({ forceCloseConnections: true, bodyLimit: 65_536 });
  // Only JSON: what a form of another page could send without being asked is not even read.
  server.removeContentTypeParser('text/plain');
  server.addHook('onRequest', async (request, reply) => {
    reply
      .header('content-security-policy', CSP)
      .header('x-content-type-options', 'nosniff')
      .header('referrer-policy', 'no-referrer');
    const { host, origin } = request.headers;
    const foreign = origin !== undefined && origin !== `http://${host ?? ''}`;
    if (!LOCAL.test(host ?? '') || foreign)
      await refuse(reply, 403, 'not-local', 'this daemon answers on its own machine only');
  });
  server.setErrorHandler(
    (
      error: Error & { issues?: { path: PropertyKey[]; message: string }[]; statusCode?: number },
      _request,
      reply,
    ) => {
      if (error.issues) {
        const said = error.issues
          .map((issue) => `${issue.path.map(String).join('.') || 'body'}: ${issue.message}`)
          .join('; ');
        return refuse(reply, 400, 'bad-request', said);
      }
      if (error instanceof Declined) return refuse(reply, 409, error.reason.code, error.message);
      if (error instanceof RangeError) return refuse(reply, 409, 'not-now', error.message);
      const status = error.statusCode ?? 500;
      return refuse(reply, status, status === 400 ? 'bad-request' : 'trouble', error.message);
    },
  );
  guardRoutes(server);
  routes(server, behind);
  paperRoutes(server, behind.desk);
  liveRoutes(server, behind);
  pageRoutes(server);
  const url = await server.listen({ host: '127.0.0.1', port });
  return { url, stop: () => server.close() };
};
