/**
 * What the console costs: the daemon in a process of its own, 498 signals of 166 interlocks on four devices at 10 Hz;
 * without a client, with 30 that follow 20 signals each, with 30 that follow all. Told: the daemon's share of a core, how
 * far its polls are off their period, and from the instant that a reading was received to its arrival at a client, and to
 * its pixel in a browser that follows 20 signals beside them. Then the first load of the page, and a recorded window of a
 * million readings: how long it takes to open, and to look closer.
 * Run on a built tree: node tests/bench/console.mjs [seconds [ms between polls]].
 */
import { fork } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { get } from 'node:http';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { canonicalText, encodeAnswers, plain, utf8 } from '../../dist/record/index.js';
import { readPlan } from '../../dist/rulebook/index.js';
import { createLog, sha256 } from '../../dist/store/index.js';
import { bookOf, onDevices } from './book.mjs';
import { firstLoad, followed, startBrowser } from './browser.mjs';
import { modbusSource, pause, share } from './peers.mjs';

const DEVICES = 4;
const PERIOD_MS = Number(process.argv[3] ?? 100);
const CLIENTS = 30;
const READINGS = 1_000_000;

const benchBook = (ports) => {
  const plainBook = bookOf(166);
  const each = Math.ceil(plainBook.signals.length / DEVICES);
  return {
    ...onDevices(plainBook, DEVICES, each),
    site: 'bench',
    title: 'Bench',
    sources: ports.map((port, index) =>
      modbusSource(`d${index}`, port, { poll: PERIOD_MS * 1_000, windowPoll: PERIOD_MS * 1_000 }),
    ),
  };
};

/** Registers of a running plant: speeds waver, states are 1. */
const wordAt = (index, tick) => (index % 3 === 0 ? 955 + ((index * 7 + tick * 13) % 11) : 1);

const devices = async () => {
  const asked = [];
  const ports = [];
  for (let device = 0; device < DEVICES; device += 1) {
    let tick = 0;
    const server = createServer((socket) => {
      socket.setNoDelay(true);
      socket.on('error', () => undefined);
      socket.on('data', (question) => {
        const count = question.readUInt16BE(10);
        asked.push({ device, at: question.readUInt16BE(8), ms: performance.now() });
        tick += 1;
        const answer = Buffer.alloc(9 + 2 * count);
        question.copy(answer, 0, 0, 8);
        answer.writeUInt16BE(3 + 2 * count, 4);
        answer[8] = 2 * count;
        const each = Math.ceil(498 / DEVICES);
        for (let index = 0; index < count; index += 1)
          answer.writeUInt16BE(wordAt(device * each + question.readUInt16BE(8) + index, tick), 9 + 2 * index);
        socket.write(answer);
      });
    });
    await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
    ports.push(server.address().port);
  }
  return { ports, asked };
};

/** The daemon, as a child: it is told its book and its log, and says its URL and its share of a core. */
const daemonChild = () => {
  process.on('message', async (message) => {
    if (message.book !== undefined) {
      const [{ runDaemon }, { serve }] = await Promise.all([
        import('../../dist/daemon/index.js'),
        import('../../dist/web/index.js'),
      ]);
      const daemon = await runDaemon({
        book: message.book,
        texts: [],
        log: message.log,
        secret: () => undefined,
        tell: () => undefined,
        broken: (error) => {
          throw error;
        },
      });
      const { url } = await serve(daemon, { port: 0, access: 'open' });
      process.send({ url });
    }
    if (message.measure !== undefined) {
      const before = process.cpuUsage();
      const began = performance.now();
      await pause(message.measure);
      const { user, system } = process.cpuUsage(before);
      const share_ = (user + system) / 1_000 / (performance.now() - began);
      process.send({ share: share_, resident: process.memoryUsage().rss });
    }
  });
};

/** Clients, as a child: the first and the last of them read what they get, the others only take it. */
const clientsChild = () => {
  const late = [];
  let bytes = 0;
  const follow = (url, reads) =>
    get(url, (answer) => {
      let text = '';
      let zero = 0;
      answer.on('data', (data) => {
        const arrived = (performance.timeOrigin + performance.now()) * 1_000;
        bytes += data.length;
        if (!reads) return;
        text += data.toString();
        for (let at = text.indexOf('\n\n'); at >= 0; at = text.indexOf('\n\n')) {
          const [name, line] = text.slice(0, at).split('\n');
          text = text.slice(at + 2);
          const value = JSON.parse(line.slice(6));
          if (name === 'event: begin') zero = value.zero;
          else if (name === 'event: rows') for (const t of value.t) late.push((arrived - zero - t) / 1_000);
        }
      });
      answer.on('error', () => undefined);
    }).on('error', () => undefined);
  process.on('message', (message) => {
    if (message.urls !== undefined)
      for (const [index, url] of message.urls.entries())
        follow(url, index === 0 || index === message.urls.length - 1);
    if (message.from !== undefined) {
      late.length = 0;
      bytes = 0;
    }
    if (message.tell !== undefined)
      process.send({ p50: share(late, 0.5), p99: share(late, 0.99), rows: late.length, bytes });
  });
};

const role = process.argv[2];
if (role === 'daemon') daemonChild();
else if (role === 'clients') clientsChild();
else await main(Number(role ?? 20));

function told(child) {
  return new Promise((resolve) => child.once('message', resolve));
}

/** A window of a million readings in blocks of two seconds, as the daemon enters them. */
async function record(path, book) {
  const plan = readPlan(book);
  const hash = sha256(utf8(canonicalText(plain(book))));
  const zero = 1_790_000_000_000_000;
  const utc = new Date(zero / 1_000).toISOString().replace('Z', '000Z');
  const of = (kind, subject, body) => ({
    version: 1,
    kind,
    subject,
    actor: 'daemon',
    utc,
    monotonic: 1,
    boot: 'b',
    body: plain(body),
  });
  const log = await createLog(path, of('genesis', 'bench', { log: 'b'.repeat(32), site: 'bench' }));
  const stimuli = [{ interlock: 0, method: 'injected' }];
  const opening = { code: 'window-opened', at: zero, window: 'w1', stimuli };
  await log.append({
    entries: [
      of('book', 'bench', { hash, book }),
      of('window-opened', 'w1', { stimuli, book: hash, engine: 1 }),
      of('mark', 'w1', { mark: opening, position: 0 }),
    ],
    blocks: [],
  });
  const ticks = Math.ceil(READINGS / book.signals.length);
  const each = Math.ceil(book.signals.length / DEVICES);
  let first = 0;
  for (let tick = 0; tick < ticks; tick += 20) {
    const answers = [];
    for (let at = tick; at < Math.min(ticks, tick + 20); at += 1)
      plan.requests.forEach((request, index) => {
        const sent = zero + at * 100_000 + index * 1_000;
        const words = Array.from({ length: request.count }, (_, word) =>
          wordAt(request.source * each + request.at + word, at),
        );
        answers.push({
          kind: 'words',
          source: request.source,
          request: index,
          sent,
          received: sent + 900,
          words,
        });
      });
    const bytes = encodeAnswers(answers);
    const trace = {
      encoding: 'tw-answers-2',
      block: sha256(bytes),
      count: answers.length,
      first,
      from: utc,
      to: utc,
    };
    first += answers.length;
    await log.append({ entries: [of('trace', 'w1', trace)], blocks: [bytes] });
  }
  await log.append({ entries: [of('window-closed', 'w1', { answers: first })], blocks: [] });
  await log.close();
}

/** How far the time between two questions of a request is off its period, ms. */
function jitter(asked) {
  const last = new Map();
  const off = asked.flatMap(({ device, at, ms }) => {
    const key = `${device} ${at}`;
    const before = last.get(key);
    last.set(key, ms);
    return before === undefined ? [] : [Math.abs(ms - before - PERIOD_MS)];
  });
  return { p50: share(off, 0.5), p99: share(off, 0.99) };
}

async function main(seconds) {
  const me = fileURLToPath(import.meta.url);
  const folder = mkdtempSync(join(tmpdir(), 'console-bench-'));
  const { ports, asked } = await devices();
  const book = benchBook(ports);
  const log = join(folder, 'log.db');
  await record(log, book);
  const daemon = fork(me, ['daemon']);
  daemon.send({ book, log });
  const { url } = await told(daemon);
  await pause(5_000);
  const names = book.signals.map(({ name }) => name);
  const few = (client) => names.filter((_, index) => index % 24 === client % 24).slice(0, 20);
  const questions = {
    'no client': [],
    [`${CLIENTS} clients, 20 signals each`]: Array.from({ length: CLIENTS }, (_, client) => few(client)),
    [`${CLIENTS} clients, all ${names.length} signals`]: Array.from({ length: CLIENTS }, () => names),
  };
  const browser = await startBrowser();
  const ms = ({ p50, p99 }) => `p50 ${p50.toFixed(1)}, p99 ${p99.toFixed(1)} ms`;
  for (const [name, wished] of Object.entries(questions)) {
    const clients = fork(me, ['clients']);
    clients.send({ urls: wished.map((own) => `${url}/api/live?span=10&signals=${own.join()}`) });
    await pause(4_000);
    asked.length = 0;
    clients.send({ from: 1 });
    daemon.send({ measure: seconds * 1_000 });
    const { share: cpu, resident } = await told(daemon);
    clients.send({ tell: 1 });
    const late = await told(clients);
    console.log(
      `${name}: ${(cpu * 100).toFixed(1)} % of a core, ${Math.round(resident / 1e6)} MB; ` +
        `polls off their period by ${ms(jitter(asked))}` +
        (late.rows === 0
          ? ''
          : `; reading to client ${ms(late)} (${late.rows} rows, ${(late.bytes / seconds / 1e6).toFixed(1)} MB/s)`),
    );
    asked.length = 0;
    const seen = await followed(browser, url, few(0), seconds);
    console.log(
      `  and a browser: reading to pixel ${ms(seen.late)} (${seen.rows} rows, ${seen.pictures} pictures), drawing ` +
        `${ms(seen.took)}, between frames ${ms(seen.frames)}; polls ${ms(jitter(asked))}`,
    );
    clients.kill();
  }
  for (const which of ['first', 'second']) {
    const load = await firstLoad(browser, url);
    console.log(
      `${which} load: page ${(load.page / 1e3).toFixed(0)} kB, data ${(load.data / 1e3).toFixed(0)} kB compressed, ` +
        `first picture ${load.drawn.toFixed(0)} ms, a tap answered ${load.answered.toFixed(0)} ms after the address`,
    );
  }
  await browser.close();
  const timed = async (path) => {
    const began = performance.now();
    const answer = await (await fetch(`${url}${path}`)).text();
    return [performance.now() - began, answer];
  };
  const [listed] = await timed('/api/windows');
  const signals = few(0).join();
  const [opened, text] = await timed(`/api/windows/w1/trace?signals=${signals}&width=1200`);
  const { readings, rows } = JSON.parse(text);
  const [closer] = await timed(
    `/api/windows/w1/trace?signals=${signals}&width=1200&from=50000000&to=60000000`,
  );
  const [all] = await timed(`/api/windows/w1/trace?signals=${names.join()}&width=1200`);
  console.log(
    `${readings} readings recorded: list ${listed.toFixed(0)} ms, opened ${opened.toFixed(0)} ms ` +
      `(20 signals, ${rows.t.length} rows), ten seconds of it ${closer.toFixed(0)} ms, all signals ${all.toFixed(0)} ms`,
  );
  daemon.kill();
  rmSync(folder, { recursive: true, force: true });
  process.exit(0);
}
