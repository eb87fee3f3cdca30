/** Asks a drawn controller as a Modbus poll would: questions, answers, lost ones, rounding to the register's step. */
import { type Instant, instant, type Reading, type SignalId } from '../../src/measure/index.ts';
import { type Image, runScans } from './controller.ts';
import type { Drawn } from './plants.ts';
import { seeded } from './random.ts';

export const NAMES = [
  'cause',
  'run',
  'running',
  'tripped',
  'stop',
  'reset',
  'start',
  'bypass',
  'other',
] as const satisfies readonly (keyof Image)[];
export type Name = (typeof NAMES)[number];
export const idOf = (name: Name): SignalId => NAMES.indexOf(name) as SignalId;

const SECOND = 1_000_000;

/** Seconds to instants: zero lies at a round time. */
export const at = (t: number): Instant => instant((1_000_000 + t) * SECOND);

const STATES = NAMES.filter((name) => name !== 'cause');

/** How old the controller's own value is behind its tag: the two periods that a period register looks back. */
const lookBack = (drawn: Drawn, value: number): number => {
  const { sensing } = drawn.made;
  return sensing.by === 'period' && sensing.own ? (2 * 60) / (sensing.targets * Math.max(value, 1)) : 0;
};

/** Declared doubt beside half a step: the sensor's accuracy; of a counted speed also one count each way, twice. */
export const doubtOf = ({ made, polling }: Drawn): number => {
  const { sensing } = made;
  return polling.accuracy + (sensing.by === 'count' ? (2 * 60) / (sensing.targets * sensing.gate) : 0);
};

const measured = (drawn: Drawn, value: number): { low: number; high: number } => {
  const { resolution } = drawn.polling;
  if (drawn.design.kind === 'contact') return { low: value, high: value };
  const shown = Math.round(value / resolution) * resolution;
  const doubt = resolution / 2 + doubtOf(drawn) + 1e-9;
  return { low: shown - doubt, high: shown + doubt };
};

/** A gateway that asks anew each `cached` seconds, on its own beat. */
const cacheAge = (t: number, cached: number): number => (cached === 0 ? 0 : t % cached);

/** Readings of the whole window, in the order in which they came. */
export const poll = (drawn: Drawn): Reading[] => {
  const { polling, made, stimulus } = drawn;
  const images = runScans(drawn);
  const random = seeded(drawn.seed ^ 0x27d4eb2f);
  const image = (t: number): Image =>
    images[Math.min(images.length - 1, Math.max(0, Math.floor(t / made.scan + 1e-9)))]!;
  const rows: Reading[] = [];
  let responses = 0;
  const ask = (sent: number, names: readonly Name[]): number => {
    const served = sent + random.between(0, 1) * polling.answer - cacheAge(sent, polling.cached);
    const received = sent + polling.answer;
    const lost =
      random.chance(polling.lost) ||
      (polling.silence !== undefined && sent >= polling.silence[0] && sent < polling.silence[1]);
    const now = image(served);
    responses += 1;
    for (const name of names) {
      const value = now[name];
      const since = sent - made.scan - polling.cached - (name === 'cause' ? lookBack(drawn, value) : 0);
      const base = {
        signal: idOf(name),
        at: { earliest: at(since), latest: at(received) },
        response: polling.consistent ? responses : 0,
        flags: 0,
      };
      if (lost) rows.push({ ...base, absent: 'timed-out' });
      else
        rows.push({
          ...base,
          value: name === 'cause' ? measured(drawn, value) : { low: value, high: value },
        });
    }
    return received;
  };
  for (let n = 1; ; n += 1) {
    const sent = polling.phase + n * polling.every + random.between(0, 1) * polling.jitter;
    if (sent > stimulus.end - 1) break;
    if (sent < 0.5) continue;
    if (polling.consistent) ask(sent, NAMES);
    else ask(ask(sent, ['cause']) + 0.001, STATES);
  }
  return rows;
};
