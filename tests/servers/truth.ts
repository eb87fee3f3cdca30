/**
 * Values whose truth anybody can work out: a word of a clocked peer is a function of where it stands and of the
 * machine's monotonic clock, which every process of the machine shares. No log of the peer is needed: a value was true
 * at an instant, or it was not. `clocked-server.c` and `clocked_server.py` work out the same.
 */
import { type Instant, instant } from '../../src/measure/index.ts';
import type { Table } from '../../src/signal/index.ts';

export const TABLES: readonly Table[] = ['coil', 'discrete-input', 'holding', 'input'];

/** Addresses of a clocked peer, the same in each table that is not of bits; bits end at 128 and live from 64 on. */
export const MAP = { live: 200, steps: 264, end: 300, liveBits: 64, endBits: 128 } as const;

/** Microseconds of one tick; the step counter moves every 100 ticks. */
const TICK = 1_000;
const STEP = 100;

const monotonic = (): number => Number(process.hrtime.bigint() / 1_000n);
const toUtc = Date.now() * 1_000 - monotonic();

/** Ours and the oracle's: the monotonic clock, shifted once so that it reads as UTC. */
export const clock = { now: (): Instant => instant(toUtc + monotonic()) };

export const tickAt = (at: Instant): number => Math.floor((at - toUtc) / TICK);

/** Two rounds of multiply and shift (the public-domain finisher of MurmurHash3). */
const mix = (place: number, tick: number): number => {
  let mixed = (place ^ Math.imul(tick, 0x9e3779b1)) >>> 0;
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b);
  mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
  return (mixed ^ (mixed >>> 16)) >>> 0;
};

/** What a live address holds during a tick; a bit is the lowest one of it. */
export const wordAt = (unit: number, table: Table, address: number, tick: number): number => {
  if (address === MAP.steps) return Math.floor(tick / STEP) & 0xffff;
  const place = (unit << 24) | (TABLES.indexOf(table) << 16) | address;
  const word = mix(place, tick) & 0xffff;
  return table === 'coil' || table === 'discrete-input' ? word & 1 : word;
};
