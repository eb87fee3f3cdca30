/** A Modbus client, a good peer, and a fault proxy between them; suffers one fault after the other. */
import type { Answer, Line, SignalDef } from '../../src/signal/index.ts';
import { startClockedPeer } from '../servers/clocked-peer.ts';
import { startFaultProxy } from '../servers/fault-proxy.ts';
import { startLine } from '../servers/lines.ts';
import { createOracle, liveSignal, type Oracle } from '../servers/oracle.ts';
import { modbusSource, openSources } from '../servers/sources.ts';
import { type Kind, POLL, TIMEOUT } from './acquisition-draw.ts';
import { type Lane, type Watcher, watchOver } from './acquisition-watch.ts';

const signalsOf = (units: number, alike: boolean): SignalDef[] => {
  const signals: SignalDef[] = [];
  const add = (
    source: number,
    table: Parameters<typeof liveSignal>[2],
    from: number,
    to: number,
    width: 1 | 2 = 1,
  ) => {
    for (let at = from; at < to; at += width)
      signals.push(liveSignal(signals.length, source, table, at, width));
  };
  if (alike) {
    add(0, 'holding', 200, 208);
    add(0, 'holding', 230, 238);
    return signals;
  }
  for (let source = 0; source < units; source += 1) {
    // No two questions of a unit have answers of one shape: on a line without ids the shape is all there is.
    add(source, 'holding', 200, 208);
    add(source, 'holding', 230, 234, 2);
    add(source, 'input', 200, 210);
    add(source, 'coil', 64, 88);
  }
  return signals;
};

const lineOf = (kind: Kind, host: string, port: number, path: string): Line => {
  switch (kind) {
    case 'rtu over tcp':
    case 'rtu over tcp, answers alike':
      return { kind: 'rtu-over-tcp', host, port };
    case 'rtu on a line':
      return { kind: 'serial', path, baud: 115_200, parity: 'none', dataBits: 8, stopBits: 1 };
    default:
      return { kind: 'tcp', host, port };
  }
};

/** In the place of a word that the device refuses. */
const REFUSED = -1;

const hear = (watcher: Watcher, oracle: Oracle, answer: Answer): void => {
  const wrong = oracle.wrong(answer);
  if (wrong !== undefined) watcher.wrong(wrong);
  if (answer.kind !== 'words' && answer.kind !== 'nothing') return;
  const { request, sent, received } = answer;
  const words = answer.kind === 'words' ? answer.words : [];
  const why = answer.kind === 'words' ? 'refused' : answer.why;
  const absent = answer.kind === 'nothing' || words.includes(REFUSED) ? why : undefined;
  const places = words.flatMap((word, at) => (word >= 0 ? [at] : []));
  watcher.came({ request, sent, received, absent, places, of: words.length });
};

export const openLane = async (kind: Kind): Promise<Lane> => {
  const framing = kind.startsWith('rtu') ? 'rtu' : 'mbap';
  const units = kind === 'tcp, 2 units' ? [1, 2] : [1];
  const peer = await startClockedPeer(framing);
  const proxy = await startFaultProxy(framing, peer.port);
  const wire = kind === 'rtu on a line' ? await startLine(`${proxy.host}:${proxy.port}`) : undefined;
  const line = lineOf(kind, proxy.host, proxy.port, wire?.path ?? '');
  const inFlight = kind === 'tcp, 4 in flight' ? 4 : 1;
  const [poll, timeout] = [POLL * 1_000, TIMEOUT * 1_000];
  const sources = units.map((unit) =>
    modbusSource({ line, unit, poll, windowPoll: poll, slowPoll: poll, timeout, inFlight }),
  );
  const signals = signalsOf(units.length, kind === 'rtu over tcp, answers alike');
  const ears: ((answer: Answer) => void)[] = [];
  const early: Answer[] = [];
  const opened = openSources(sources, signals, {
    answer: (answer) => {
      if (ears[0] === undefined) early.push(answer);
      else ears[0](answer);
    },
    event: () => undefined,
  });
  const oracle = createOracle(signals, sources, opened.plan);
  const watcher = watchOver(proxy, opened.plan.requests.length, POLL);
  ears.push((answer) => hear(watcher, oracle, answer));
  for (const answer of early) hear(watcher, oracle, answer);
  if (!(await watcher.well())) throw new Error(`${kind}: no values`);
  return {
    suffer: (drawn) => watcher.suffer(drawn),
    async stop() {
      watcher.stop();
      await opened.stop();
      await wire?.stop();
      await proxy.stop();
      await peer.stop();
    },
  };
};
