import { uptime } from 'node:os';
import { type Instant, instant, MILLISECOND, type Micros, SECOND } from '../measure/index.ts';

/** What happened to the machine's time. */
export type ClockEvent =
  /** Its UTC was set, by so much. Our time goes on as it was: an entry must never be older than the one before it. */
  | { readonly kind: 'stepped'; readonly at: Instant; readonly by: Micros }
  /** It slept, or ran nothing, from one instant to the other. */
  | { readonly kind: 'away'; readonly at: Instant; readonly from: Instant };

/** How the machine's UTC goes beside its monotonic clock. */
export interface ClockRate {
  /** How far they have drifted apart since the run began, UTC ahead, without steps and sleep. */
  readonly away: Micros;
  readonly ppm: number;
  /** To each side. */
  readonly doubt: number;
}

/** UTC disciplined by a monotonic clock: it never runs backwards, and what happens to the machine's time is told. */
export interface Clock {
  now(): Instant;
  /** Microseconds since this run began, without those of sleep. */
  monotonic(): number;
  /** To be called regularly: what happened since it was called last. */
  look(): readonly ClockEvent[];
  /** Over the whole run, without steps; undefined until it has gone on for long enough. */
  rate(): ClockRate | undefined;
  /** How far the machine's UTC is ahead of ours, steps included. */
  ahead(): Micros;
}

/** The machine's clocks, in µs. `boot` goes on while the machine sleeps; coarse. */
export interface MachineClocks {
  monotonic(): number;
  utc(): number;
  boot(): number;
}

const MACHINE: MachineClocks = {
  monotonic: () => Number(process.hrtime.bigint() / 1_000n),
  utc: () => Date.now() * 1_000,
  boot: () => uptime() * SECOND,
};

/** Beyond this a clock was set, below it is led back slowly (RFC 5905, step threshold; from memory). */
const STEP: Micros = 128 * MILLISECOND;
/** The most by which ours is led, as clocks are slewed in general (from memory). */
const SLEW = 500e-6;
/** Two clocks read farther apart than this say nothing of each other. */
const TOGETHER: Micros = 5 * MILLISECOND;
/** The clock that goes on through sleep is read coarsely. */
const SLEEP: Micros = SECOND;
/** Nothing ran for so long, although it is looked several times a second. */
const STALL: Micros = 5 * SECOND;
/** A machine's UTC is read to the millisecond, floored: no better is known of it. */
const READING: Micros = 2 * MILLISECOND;
const LONG_ENOUGH: Micros = 600 * SECOND;

/** What was read together: `off` is UTC less monotonic. */
interface Look {
  readonly monotonic: number;
  readonly off: number;
  readonly boot: number;
}

const lookAt = (machine: MachineClocks): Look | undefined => {
  const monotonic = machine.monotonic();
  const utc = machine.utc();
  const boot = machine.boot();
  return machine.monotonic() - monotonic > TOGETHER ? undefined : { monotonic, off: utc - monotonic, boot };
};

/** How long the machine has slept between two looks; 0: not at all. The jump of its UTC is the finer measure. */
const sleepOf = (before: Look, after: Look): Micros => {
  const sleep = after.boot - before.boot - (after.monotonic - before.monotonic);
  if (sleep <= SLEEP) return 0;
  const jump = after.off - before.off;
  return jump > 0 && Math.abs(jump - sleep) <= 2 * SLEEP ? jump : sleep;
};

/** Looks again and again until both clocks were read together; a machine that never can is taken as it is. */
const firstLook = (machine: MachineClocks): Look => {
  for (let tries = 0; tries < 20; tries += 1) {
    const found = lookAt(machine);
    if (found !== undefined) return found;
  }
  const monotonic = machine.monotonic();
  return { monotonic, off: machine.utc() - monotonic, boot: machine.boot() };
};

export const createClock = (machine: MachineClocks = MACHINE): Clock => {
  const began = firstLook(machine);
  let last = began;
  /** Ours less monotonic, at the last look; and how it is led from there. */
  let ours = began.off;
  let lead = 0;
  /** Steps of the machine's UTC, and its sleep. */
  let stepped = 0;
  let slept = 0;
  let events: ClockEvent[] = [];

  const at = (monotonic: number): number => monotonic + ours + lead * (monotonic - last.monotonic);

  const take = (found: Look): void => {
    const before = instant(at(last.monotonic));
    const passed = found.monotonic - last.monotonic;
    const sleep = sleepOf(last, found);
    ours += lead * passed;
    if (sleep > 0) {
      // While it slept the monotonic clock stood; the time was there all the same.
      ours += sleep;
      slept += sleep;
    }
    last = found;
    const now = instant(at(found.monotonic));
    if (sleep > 0 || passed > STALL) events.push({ kind: 'away', at: now, from: before });
    const error = found.off - ours - stepped;
    if (Math.abs(error) >= STEP) {
      stepped += error;
      lead = 0;
      events.push({ kind: 'stepped', at: now, by: Math.round(error) });
      return;
    }
    // In one second, but never faster than clocks are led.
    lead = Math.abs(error) <= READING ? 0 : Math.max(-SLEW, Math.min(SLEW, error / SECOND));
  };

  const refresh = (): void => {
    const found = lookAt(machine);
    if (found !== undefined) take(found);
  };

  return {
    monotonic: () => Math.floor(machine.monotonic() - began.monotonic),
    now() {
      const monotonic = machine.monotonic();
      // The first who asks after a sleep must not be told the time before it.
      if (Math.abs(machine.utc() - at(monotonic) - stepped) < STEP) return instant(at(monotonic));
      refresh();
      return instant(at(machine.monotonic()));
    },
    look() {
      refresh();
      const found = events;
      events = [];
      return found;
    },
    rate() {
      const passed = last.monotonic - began.monotonic;
      if (passed < LONG_ENOUGH) return undefined;
      const away = last.off - began.off - stepped - slept;
      return { away, ppm: (away / passed) * 1e6, doubt: (READING / passed) * 1e6 };
    },
    ahead: () => Math.round(last.off - ours),
  };
};
