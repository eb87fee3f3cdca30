import type { Absence, Instant, Micros } from '../../measure/index.ts';
import { type ModbusSource, type Pace, periodOf, type Request, type SignalDef } from '../../signal/index.ts';
import type { Clock, Sink } from '../types.ts';
import { tick } from './grid.ts';
import { createMeter, type Meter } from './meter.ts';
import { type Part, wholeOf } from './parts.ts';

/** A request of the plan, and the parts it is asked in once the device has refused the whole of it. */
export interface Duty {
  readonly index: number;
  readonly request: Request;
  readonly unit: Unit;
  readonly whole: Part;
  parts: readonly Part[];
  /** The parts that it is to be asked in, while less is tried because nothing answers. */
  untried: readonly Part[] | undefined;
  /** Parts that the device refuses, down to one value: left out, and told as refused. */
  refused: readonly Part[];
  /** When what was refused is asked again, by `tick`. */
  again: Micros;
  /** When it is tried whole again, by `tick`. */
  wholeAgain: Micros;
  /** Time-outs in a row while the unit answered other questions. */
  silences: number;
  pace: Pace;
  meter: Meter;
  state: 'idle' | 'waiting' | 'asked';
  /** Since when it waits. */
  since: Instant;
  /** Which of its parts is next. */
  next: number;
  /** Asked a second time, because the connection was ended for another unit's sake. */
  repeated: boolean;
}

/** One source: a unit behind a line. */
export interface Unit {
  readonly source: ModbusSource;
  readonly index: number;
  readonly sink: Sink;
  readonly clock: Clock;
  duties: readonly Duty[];
  readonly counts: { answers: number; nothings: number; overruns: number };
  /** When each refusal was told, so that one that lasts is not told at each poll. */
  readonly told: Map<string, Micros>;
  stopped: boolean;
  /** It has answered last time. */
  heard: boolean;
  /** Questions in a row that came to nothing. */
  failures: number;
  /** Not asked before this, by `tick`. */
  notBefore: Micros;
  /** Why it is not asked now. */
  why: { readonly absence: Absence; readonly code: number };
  /** It has not answered lately: one question at a time is enough to see it come back. */
  silent: boolean;
  trying: Duty | undefined;
  /** What has been tried since it fell silent. */
  readonly tried: Set<Duty>;
  lostAt: Instant | undefined;
  missed: number;
}

/** Rates are of the last ten seconds, or of a few periods where these are longer. */
const RATE_SPAN: Micros = 5_000_000;

const meterFor = (source: ModbusSource, pace: Pace): Meter =>
  createMeter(Math.max(RATE_SPAN, 2 * periodOf(source, pace)));

export const setPace = (duty: Duty, pace: Pace): void => {
  duty.pace = pace;
  duty.meter = meterFor(duty.unit.source, pace);
};

const newDuty = (unit: Unit, index: number, request: Request, signals: readonly SignalDef[]): Duty => {
  const whole = wholeOf(request, signals);
  return {
    index,
    request,
    unit,
    whole,
    parts: [whole],
    untried: undefined,
    refused: [],
    again: 0,
    wholeAgain: 0,
    silences: 0,
    pace: request.pace,
    meter: meterFor(unit.source, request.pace),
    state: 'idle',
    since: 0 as Instant,
    next: 0,
    repeated: false,
  };
};

export const newUnit = (
  source: ModbusSource,
  index: number,
  requests: readonly Request[],
  signals: readonly SignalDef[],
  sink: Sink,
  clock: Clock,
): Unit => {
  const unit: Unit = {
    source,
    index,
    sink,
    clock,
    duties: [],
    counts: { answers: 0, nothings: 0, overruns: 0 },
    told: new Map(),
    stopped: false,
    heard: false,
    failures: 0,
    notBefore: 0,
    why: { absence: 'interrupted', code: 0 },
    silent: false,
    trying: undefined,
    tried: new Set(),
    lostAt: undefined,
    missed: 0,
  };
  unit.duties = requests.flatMap((request, at) =>
    request.source === index ? [newDuty(unit, at, request, signals)] : [],
  );
  return unit;
};

/**
 * Whether the request may be asked in this slot. Of a silent unit one is enough to see it come back, each in its turn:
 * it may be one request alone that it does not answer.
 */
export const takesTurn = (duty: Duty): boolean => {
  const { unit } = duty;
  if (tick() < unit.notBefore || unit.trying !== undefined) return false;
  if (!unit.silent) return true;
  const { tried, duties } = unit;
  if (tried.has(duty)) {
    if (duties.some((one) => one.pace === duty.pace && !tried.has(one))) return false;
    tried.clear();
  }
  unit.trying = duty;
  tried.add(duty);
  return true;
};
