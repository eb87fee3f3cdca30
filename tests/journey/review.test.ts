/** What the page asks for beside a window's steps, on the running program: book, live trace, records, traces, proofs. */
import { join } from 'node:path';
import { expect, test } from 'vitest';
import {
  type BookNow,
  type LiveBegin,
  type RecordNow,
  ROUTES,
  type RouteName,
  type Rows,
  type TraceNow,
} from '../../src/api/index.ts';
import { bothUp, cli, folder, followed } from './rig.ts';

const log = join(folder(), 'review.log.db');
const [ALARM, STOP] = ['E1.misalignment-alarm', 'E1.misalignment-stop'];
let id = '';

const up = bothUp(log);

const ask = (path: string, headers: Record<string, string> = {}) =>
  fetch(`${String(up.daemon.told['url'])}${path}`, { headers });

/** An answer, which must be what the table of routes says, with nothing lost or added. */
const got = async <T>(name: RouteName, path: string): Promise<T> => {
  const answer = await ask(path);
  expect(answer.status, path).toBe(200);
  const value = (await answer.json()) as unknown;
  const schema = ROUTES[name].answer as { parse?: (value: unknown) => unknown };
  expect(schema.parse?.(value)).toEqual(value);
  return value as T;
};

interface Stream {
  next(name: string): Promise<unknown>;
  end(): Promise<void>;
}
const streamed = async (path: string): Promise<Stream> => {
  const answer = await ask(path);
  const reader = answer.body?.getReader();
  let text = '';
  return {
    async next(name) {
      for (;;) {
        const at = text.indexOf('\n\n');
        if (at < 0) {
          text += Buffer.from((await reader?.read())?.value ?? []).toString();
          continue;
        }
        const [, event, data = 'null'] = /^event: (\w+)\ndata: (.*)$/.exec(text.slice(0, at)) ?? [];
        text = text.slice(at + 2);
        if (event === name) return JSON.parse(data) as unknown;
      }
    },
    end: async () => reader?.cancel(),
  };
};

test('the book says what there is, in which units, and what each method can prove', async () => {
  const asked = () => got<BookNow>('GET /api/book', '/api/book');
  const stopIn = ({ interlocks }: BookNow) => interlocks.find(({ name }) => name === 'E1.underspeed-stop');
  // Its normal is a tag, which must have been read once.
  await expect.poll(async () => stopIn(await asked())?.levels.allowed).toBeDefined();
  const book = await asked();
  const stop = stopIn(book);
  expect(stop).toMatchObject({ cause: 'E1.shaft-speed', machine: 'E1', side: 'below' });
  expect(stop?.levels.allowed?.low).toBeLessThan(stop?.levels.setPoint?.low ?? 0);
  const proves = (method: string) => stop?.methods.find((one) => one.method === method)?.proves;
  expect(proves('blocked')?.[0]).toBe('sensor');
  expect(proves('injected')?.[0]).toBe('wiring');
  const bearing = book.signals.find(({ name }) => name === 'E1.bearing-temperature');
  expect(bearing?.units[1]).toEqual({ unit: 'degF', factor: 1.8, offset: 32 });
});

test('a live trace begins with what was, and goes on without a gap or a row twice', async () => {
  const stream = await streamed('/api/live?signals=E1.heartbeat,E1.shaft-speed&span=30');
  const begin = (await stream.next('begin')) as LiveBegin;
  ROUTES['GET /api/live'].answer.events.begin.parse(begin);
  const beats: number[] = [];
  const times: number[] = [];
  const take = (rows: Rows): void =>
    rows.signal.forEach((signal, row) => {
      if (signal !== 0) return;
      beats.push(rows.low[row] ?? Number.NaN);
      times.push(rows.t[row] ?? Number.NaN);
    });
  take(begin.before);
  for (let events = 0; events < 15; events += 1) {
    const rows = (await stream.next('rows')) as Rows;
    ROUTES['GET /api/live'].answer.events.rows.parse(rows);
    take(rows);
  }
  await stream.end();
  expect(times).toEqual([...times].sort((a, b) => a - b));
  expect(new Set(times).size).toBe(times.length);
  // The count of the controller's life only rises.
  expect(beats).toEqual([...beats].sort((a, b) => a - b));
});

test('a window is listed, and told with its sums, each at its place', { timeout: 90_000 }, async () => {
  await up.plant.starts('E1');
  await up.plant.starts('F1');
  const stimuli = [ALARM, STOP].map((interlock) => ({ interlock, method: 'displaced' as const }));
  ({ window: id } = await up.daemon.client.open({ stimuli, people: [{ name: 'Ada', role: 'sensor' }] }));
  const ready = (shown: { findings: readonly { interlock: string; text: string }[] }) =>
    shown.findings.findLast((one) => one.interlock === STOP)?.text === 'ready';
  await followed(up.daemon.client, id, ready);
  const open = await got<{ window: string; standing: string }[]>('GET /api/windows', '/api/windows');
  expect(open[0]).toMatchObject({
    window: id,
    standing: 'open',
    interlocks: [{ name: ALARM }, { name: STOP }],
  });
  await got('GET /api/windows/:id/record', `/api/windows/${id}/record`);
  await up.plant.act({ do: 'screw', machine: 'E1', turned: true });
  await up.plant.until('E1.motor-running', 0);
  await up.plant.act({ do: 'screw', machine: 'E1', turned: false });
  const trials = (shown: { findings: readonly { finding: { kind: string } }[] }) =>
    shown.findings.filter((one) => one.finding.kind === 'trial').length;
  await followed(up.daemon.client, id, (shown) => trials(shown) === 2);
  await up.daemon.client.close(id, 'Ada');

  const record = await got<RecordNow>('GET /api/windows/:id/record', `/api/windows/${id}/record`);
  const stop = record.interlocks.find(({ name }) => name === STOP);
  expect(stop).toMatchObject({ outcome: 'pass', method: 'displaced', signal: 'E1.alignment' });
  const [trial] = stop?.trials ?? [];
  expect(trial?.arithmetic.length).toBeGreaterThan(0);
  for (const { from, to } of trial?.arithmetic ?? []) {
    if (from === undefined || to === undefined) continue;
    expect(from).toBeGreaterThanOrEqual((trial?.from ?? 0) - 1);
    expect(to).toBeLessThanOrEqual((trial?.to ?? 0) + 1);
  }
  expect((await got<object[]>('GET /api/windows', '/api/windows'))[0]).toMatchObject({
    standing: 'closed',
    interlocks: [
      { name: ALARM, outcome: 'pass', trials: 1 },
      { name: STOP, outcome: 'pass', trials: 1 },
    ],
  });
});

test('however narrow its trace is, a change of a state stands where the verdict saw it', async () => {
  const record = await got<RecordNow>('GET /api/windows/:id/record', `/api/windows/${id}/record`);
  const [trial] = record.interlocks.find(({ name }) => name === STOP)?.trials ?? [];
  const effect = trial?.effects.find(({ signal }) => signal === 'E1.run-command');
  for (const width of [1, 30, 5_000]) {
    const query = `signals=E1.run-command,E1.shaft-speed&width=${width}`;
    const { zero, rows } = await got<TraceNow>(
      'GET /api/windows/:id/trace',
      `/api/windows/${id}/trace?${query}`,
    );
    expect(zero).toBe(record.zero);
    const command = rows.signal.flatMap((signal, row) => (signal === 0 ? [row] : []));
    const stops = command.findIndex(
      (row, at) => rows.low[row] === 0 && rows.low[command[at - 1] ?? -1] === 1,
    );
    const [before, after] = [command[stops - 1] ?? -1, command[stops] ?? -1].map(
      (row) => (rows.t[row] ?? Number.NaN) / 1e6,
    );
    expect(before).toBeGreaterThanOrEqual((effect?.from ?? Number.NaN) - 0.001);
    expect(after).toBeCloseTo(effect?.to ?? Number.NaN, 6);
  }
  expect((await ask(`/api/windows/${id}/trace?signals=a&width=0`)).status).toBe(400);
  expect((await ask('/api/windows/w1/trace?signals=a')).status).toBe(404);
});

test('proofs are told as the command tells them, and not sent twice', async () => {
  const matrix = await got<{ rows: { interlock: string; standing: string }[] }>(
    'GET /api/matrix',
    '/api/matrix',
  );
  const due = await got<{ rows: object[] }>('GET /api/due', '/api/due');
  const told = JSON.parse(cli('matrix', log, '--json').out) as typeof matrix;
  expect(matrix.rows).toEqual(told.rows);
  expect(due.rows).toEqual((JSON.parse(cli('due', log, '--json').out) as typeof due).rows);
  expect(matrix.rows.find(({ interlock }) => interlock === STOP)?.standing).toBe('proved');
  const first = await ask('/api/windows');
  const tag = first.headers.get('etag') ?? '';
  const again = await ask('/api/windows', { 'if-none-match': tag });
  expect([again.status, await again.text()]).toEqual([304, '']);
});

test('a comment is an entry, stands in record, page and paper, and changes no verdict', async () => {
  const before = await got<RecordNow>('GET /api/windows/:id/record', `/api/windows/${id}/record`);
  const comment = { window: id, interlock: STOP, trial: 1, at: 2.5, text: 'the screw was stiff' };
  const { kind } = await up.daemon.client.enter({ do: 'comment', who: { by: 'Ben' }, ...comment });
  expect(kind).toBe('comment');
  const { comments, ...after } = await got<RecordNow>(
    'GET /api/windows/:id/record',
    `/api/windows/${id}/record`,
  );
  expect(comments).toMatchObject([{ by: 'Ben', interlock: STOP, trial: 1, at: 2.5, text: comment.text }]);
  expect(after.interlocks).toEqual(before.interlocks);
  expect((await (await ask(`/api/windows/${id}/report.html`)).text()).includes(comment.text)).toBe(true);
  const pdf = await ask(`/api/windows/${id}/report.pdf`);
  expect(pdf.headers.get('content-type')).toBe('application/pdf');
  expect(
    Buffer.from(await pdf.arrayBuffer())
      .subarray(0, 5)
      .toString(),
  ).toBe('%PDF-');
  const other = { do: 'comment' as const, who: { by: 'Ben' }, window: 'w1', text: 'x' };
  await expect(up.daemon.client.enter(other)).rejects.toThrow(/no window w1/);
  expect(cli('audit', log).code).toBe(0);
  expect(cli('recheck', log, '--json').code).toBe(0);
});
