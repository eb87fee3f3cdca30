/** Each role at each route of the table, and what is answered against what is described, on a daemon as it runs. */
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { isEntitled, ROUTES, type Route, type RouteName } from '../../src/api/index.ts';
import { PRECAUTIONS } from '../../src/guide/index.ts';
import { asked, listening } from './asking.ts';
import { begin, type DaemonUp, daemonUp, folder, type PlantUp, plantUp, SITE } from './rig.ts';
import { faultsIn, learnNames, type Schema } from './schema-check.ts';
import { hire, IDS, type Signed, STAFF, type StaffId, signedInAs } from './staff.ts';

vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

let plant: PlantUp;
let daemon: Awaited<ReturnType<typeof begin>>;
let url = '';

beforeAll(async () => {
  const log = join(folder(), 'roles.log.db');
  plant = await plantUp();
  const first: DaemonUp = await daemonUp(log, plant.modbus.port, plant.modbus.host, SITE);
  hire(log);
  await first.end();
  const at = `plc1=${plant.modbus.host}:${plant.modbus.port}`;
  daemon = await begin('run', SITE, '--json', '--log', log, '--port', '0', '--at', at, '--sign-in');
  url = String(daemon.told['url']);
});
afterAll(async () => {
  plant.hands.close();
  await Promise.all([plant.end(), daemon.end()]);
});

/** A request that is right in shape, for each paper, with the least role that it takes. */
const window = 'w0';
const who = (id: StaffId) => ({ as: id, password: STAFF[id].password });
const PAPERS: readonly (readonly [
  least: 'viewer' | 'tester' | 'reviewer' | 'administrator',
  body: (id: StaffId) => object,
])[] = [
  ['viewer', (id) => ({ do: 'sign', who: who(id), window, meaning: 'witnessed' })],
  ['tester', () => ({ do: 'amend', window, entry: 1, field: 'body.note', becomes: 'x', reason: 'slip' })],
  ['tester', () => ({ do: 'transcribe', window, sheet: '1', by: 'x', on: 'x', values: {} })],
  ['tester', () => ({ do: 'register-open', item: 'punch', on: 'nowhere', text: 'x' })],
  ['reviewer', () => ({ do: 'register-open', item: 'deferral', on: 'nowhere', text: 'x' })],
  ['reviewer', () => ({ do: 'register-open', item: 'bypass', on: 'nowhere', text: 'x' })],
  ['tester', () => ({ do: 'register-step', id: 'punch-9', action: 'noted', text: 'x' })],
  ['reviewer', () => ({ do: 'register-step', id: 'punch-9', action: 'closed', text: 'x' })],
  ['administrator', (id) => ({ do: 'person', who: who(id), action: 'closed', id: 'nobody' })],
  ['tester', () => ({ do: 'comment', window, text: 'x' })],
  [
    'administrator',
    (id) => ({ do: 'person', who: who(id), action: 'password-changed', id: 'nobody', password: '' }),
  ],
  ['viewer', (id) => ({ do: 'person', who: who(id), action: 'password-changed', id, password: 'short' })],
];

/** Where a route asks for more than its path. */
const QUERIES: Readonly<Record<string, string>> = {
  '/api/windows/:id/trace': '?signals=E1.alignment,E1.shaft-speed&width=50',
  '/api/plan': '?interlocks=E1.misalignment-stop&methods=displaced',
};

describe('each role at each route', () => {
  const staff = new Map<StaffId, Signed>();
  beforeAll(async () => {
    for (const id of IDS) staff.set(id, await signedInAs(url, id));
  });
  const sessionOf = (id: StaffId): Signed => {
    const found = staff.get(id);
    if (found === undefined) throw new Error(id);
    return found;
  };
  const statusOf = async (name: RouteName, headers: Readonly<Record<string, string>>) => {
    const [method = '', path = ''] = name.split(' ');
    const place = `${url}${path.replace(':id', 'w0')}`;
    const asking = { method, headers, ...(method === 'POST' && { body: { none: 'such' } }) };
    const stream = await listening(place, asking);
    const text = stream.status >= 400 ? await stream.until((came) => came.endsWith('}')) : '';
    stream.leave();
    return { status: stream.status, code: text === '' ? '' : (JSON.parse(text) as { code: string }).code };
  };
  const guarded = (Object.entries(ROUTES) as [RouteName, Route][]).filter(
    ([, { role }]) => role !== 'anybody' && role !== 'by-request',
  );

  test.each(guarded)('%s', async (name, { role }) => {
    expect(await statusOf(name, {})).toEqual({ status: 401, code: 'session-needed' });
    for (const id of IDS) {
      const { status, code } = await statusOf(name, sessionOf(id).headers());
      const may = isEntitled([STAFF[id].role], role as 'viewer');
      if (may) expect([401, 403], `${id}: ${status} ${code}`).not.toContain(status);
      else expect({ status, code }, id).toEqual({ status: 403, code: 'session-role' });
      // Every line of the table is served.
      expect(code).not.toBe('not-found');
    }
  });

  test('papers, by what they do', async () => {
    const nobody = await asked(`${url}/api/entries`, { method: 'POST', body: PAPERS[1]?.[1]('vera') });
    expect(nobody.status).toBe(401);
    for (const [least, body] of PAPERS)
      for (const id of IDS) {
        const answer = await sessionOf(id).ask('/api/entries', { method: 'POST', body: body(id) });
        const { code } = answer.json<{ code: string }>();
        const told = `${id}: ${JSON.stringify(body('vera'))} ${answer.text}`;
        if (isEntitled([STAFF[id].role], least)) expect(answer.status, told).toBe(409);
        else expect([answer.status, code], told).toEqual([403, 'session-role']);
      }
  });

  test('what is not in the table is not there, whoever asks', async () => {
    expect((await sessionOf('root').ask('/api/nothing')).status).toBe(404);
    expect((await sessionOf('root').ask('/api/now', { method: 'POST', body: {} })).status).toBe(404);
  });
});

describe('what is described', () => {
  interface Operation {
    readonly parameters: readonly { readonly name: string; readonly in: string; readonly schema: Schema }[];
    readonly requestBody?: { readonly content: Readonly<Record<string, { readonly schema: Schema }>> };
    readonly responses: Readonly<
      Record<
        string,
        {
          readonly content: Readonly<Record<string, { schema: Schema; 'x-events'?: Record<string, Schema> }>>;
        }
      >
    >;
  }
  interface Described {
    readonly openapi: string;
    readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
    readonly components: { readonly schemas: Readonly<Record<string, Schema>> };
  }
  let root: Signed;
  let api: Described;
  let opened = '';
  beforeAll(async () => {
    root = await signedInAs(url, 'root');
    api = (await root.ask('/api/openapi.json')).json<Described>();
    learnNames(api.components.schemas);
    const body = {
      stimuli: [{ interlock: 'E1.misalignment-stop', method: 'displaced' }],
      people: [{ name: STAFF.root.name, role: 'sensor' }],
      guided: true,
      permit: 'permit 7',
      precautions: [...PRECAUTIONS],
    };
    const answer = await root.ask('/api/windows', { method: 'POST', body });
    expect(faultsIn(answer.json(), answerOf('post', '/api/windows', 201))).toEqual([]);
    opened = answer.json<{ window: string }>().window;
    const mark = { code: 'attested', machine: 'E1', what: 'horn-heard' };
    const step = { do: 'identified', interlock: 'E1.misalignment-stop', typed: 'E1', how: 'typed' };
    const stepped = await root.ask(`/api/windows/${opened}/steps`, { method: 'POST', body: step });
    expect(stepped.status, stepped.text).toBe(200);
    expect(faultsIn(stepped.json(), answerOf('post', '/api/windows/{id}/steps'))).toEqual([]);
    const marked = await root.ask(`/api/windows/${opened}/marks`, { method: 'POST', body: mark });
    expect(faultsIn(marked.json(), answerOf('post', '/api/windows/{id}/marks'))).toEqual([]);
  });
  const operationOf = (method: string, path: string): Operation => {
    const found = api.paths[path]?.[method];
    if (found === undefined) throw new Error(`${method} ${path} is not described`);
    return found;
  };
  const answerOf = (method: string, path: string, status = 200): Schema => {
    const found = operationOf(method, path).responses[status]?.content['application/json']?.schema;
    if (found === undefined) throw new Error(`${method} ${path} answers no JSON`);
    return found;
  };

  test('is every route, with its parameters and what is sent', () => {
    expect(api.openapi).toBe('3.1.1');
    const told = Object.entries(api.paths).flatMap(([path, methods]) =>
      Object.keys(methods).map((method) => `${method.toUpperCase()} ${path.replaceAll(/\{(\w+)\}/g, ':$1')}`),
    );
    expect(told.sort()).toEqual(Object.keys(ROUTES).sort());
    const marks = operationOf('post', '/api/windows/{id}/marks');
    expect(marks.parameters).toMatchObject([{ name: 'id', in: 'path', required: true }]);
    const sent = marks.requestBody?.content['application/json']?.schema ?? {};
    expect(faultsIn({ code: 'now', by: 'Ada' }, sent)).toEqual([]);
    expect(faultsIn({ code: 'nor' }, sent)).not.toEqual([]);
  });

  test('is a closed window with its verdict', async () => {
    const closed = await root.ask(`/api/windows/${opened}/close`, { method: 'POST', body: {} });
    expect(faultsIn(closed.json(), answerOf('post', '/api/windows/{id}/close'))).toEqual([]);
    expect(
      closed
        .json<{ findings: { finding: { kind: string } }[] }>()
        .findings.map(({ finding }) => finding.kind),
    ).toContain('window');
  });

  const answers = (Object.entries(ROUTES) as [RouteName, Route][])
    .filter(([name, { answer }]) => name.startsWith('GET') && !('file' in answer) && !('events' in answer))
    .map(([name]) => name.replace('GET ', ''));

  test.each(answers)('is what %s answers', async (path) => {
    const query = QUERIES[path] ?? '';
    const answer = await root.ask(`${path.replace(':id', opened)}${query}`);
    expect(answer.status, answer.text).toBe(200);
    expect(faultsIn(answer.json(), answerOf('get', path.replace(':id', '{id}')))).toEqual([]);
  });

  test('is what streams send', async () => {
    const { 'x-events': events = {} } =
      operationOf('get', '/api/stream').responses['200']?.content['text/event-stream'] ?? {};
    const stream = await listening(`${url}/api/stream`, { headers: root.headers() });
    const text = await stream.until((came) => came.split('event: now').length > 2);
    stream.leave();
    const told = [...text.matchAll(/event: (\S+)\ndata: (.*)\n\n/g)];
    expect(told.length).toBeGreaterThan(1);
    for (const [, name = '', data = ''] of told)
      expect(faultsIn(JSON.parse(data), events[name] ?? false), name).toEqual([]);
  });

  test('is what is refused', async () => {
    for (const path of ['/api/windows/w0', '/api/windows/w0/signing', '/api/none']) {
      const answer = await root.ask(path);
      expect(faultsIn(answer.json(), api.components.schemas['Trouble'] ?? false)).toEqual([]);
    }
  });
});
