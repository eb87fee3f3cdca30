import type { Micros } from '../../measure/index.ts';
import {
  type Line,
  type ModbusSource,
  type Pace,
  type Plan,
  periodOf,
  placeOf,
  type SignalDef,
  type Source,
} from '../../signal/index.ts';
import type { Clock, OpenSource, Rate, Sink } from '../types.ts';
import { type Grid, openGrid, tick } from './grid.ts';
import { Lane } from './lane.ts';
import { newUnit, setPace, type Unit } from './unit.ts';

const PACES: readonly Pace[] = ['window', 'watch', 'slow'];

/** Slots of different sources are spread over this, or over the period where that is shorter. */
const SPREAD: Micros = 1_000_000;
/** The golden section: any number of sources lie evenly. */
const SECTION = 0.618_033_988_749_895;

/** Sources of one key share a connection. */
const keyOf = (line: Line): string => `${line.kind} ${placeOf(line)}`;

/** The slots of one source: a grid for each pace that is in use. */
interface Slots {
  readonly unit: Unit;
  readonly lane: Lane;
  readonly origin: Micros;
  readonly grids: Map<Pace, Grid>;
  immediate: NodeJS.Immediate | undefined;
}

const slot = (slots: Slots, pace: Pace, skipped: number): void => {
  const { unit, lane } = slots;
  let late = skipped > 0;
  for (const duty of unit.duties) {
    if (duty.pace !== pace) continue;
    if (duty.state === 'idle') lane.due(duty);
    else {
      late = true;
      if (duty.state === 'waiting' && duty.next === 0) lane.missed(duty);
    }
  }
  unit.counts.overruns += late ? Math.max(1, skipped) : 0;
  // The slow step back behind a fast slot of the same instant.
  if (pace !== 'slow') lane.pump();
  else
    slots.immediate ??= setImmediate(() => {
      slots.immediate = undefined;
      lane.pump();
    });
};

const arrange = (slots: Slots): void => {
  for (const pace of PACES) {
    const used = slots.unit.duties.some((duty) => duty.pace === pace);
    const grid = slots.grids.get(pace);
    if (used && grid === undefined) {
      const step = periodOf(slots.unit.source, pace);
      slots.grids.set(
        pace,
        openGrid(step, slots.origin, (skipped) => slot(slots, pace, skipped)),
      );
    } else if (!used && grid !== undefined) {
      grid.stop();
      slots.grids.delete(pace);
    }
  }
};

const ratesOf = ({ unit, grids }: Slots): Rate[] =>
  PACES.filter((pace) => grids.has(pace)).map((pace) => {
    const at = tick();
    const means = unit.duties.flatMap((duty) => (duty.pace === pace ? (duty.meter.mean(at) ?? []) : []));
    const achieved =
      means.length === 0 ? undefined : means.reduce((sum, mean) => sum + mean, 0) / means.length;
    return { pace, wanted: periodOf(unit.source, pace), achieved };
  });

const latest = ({ grids }: Slots): Micros => {
  const fastest = PACES.find((pace) => grids.has(pace));
  return fastest === undefined ? 0 : (grids.get(fastest)?.lateness() ?? 0);
};

const openUnit = (slots: Slots): OpenSource => {
  const { unit, lane } = slots;
  return {
    async stop() {
      for (const grid of slots.grids.values()) grid.stop();
      slots.grids.clear();
      clearImmediate(slots.immediate);
      await lane.remove(unit);
    },
    focus(signals) {
      const wanted = new Set(signals);
      for (const duty of unit.duties) {
        const near = duty.request.signals.some((id) => wanted.has(id));
        const pace = near ? 'window' : duty.request.pace;
        if (pace !== duty.pace) setPace(duty, pace);
      }
      if (!unit.stopped) arrange(slots);
    },
    stats: () => ({
      connected: unit.heard,
      ...unit.counts,
      reconnects: lane.reconnects,
      lateness: latest(slots),
      rates: ratesOf(slots),
    }),
  };
};

/**
 * Polls the Modbus devices among the sources, each request of the plan on its own fixed grid. Units behind one place
 * share its connection unless they ask for their own. Loss is never silent: each request of each slot gives an answer, or
 * says why there is none, or is asked so late that the next slot counts as missed. Reconnects by itself.
 * Returns an open source for each Modbus source, by its index.
 */
export const openModbus = (
  sources: readonly Source[],
  plan: Plan,
  signals: readonly SignalDef[],
  sink: Sink,
  clock: Clock,
): ReadonlyMap<number, OpenSource> => {
  const lanes = new Map<string, { readonly lane: Lane; readonly members: Slots[] }>();
  const laneOf = (source: ModbusSource, index: number) => {
    const key = source.connection === 'own' ? `own ${index}` : keyOf(source.line);
    const members: Slots[] = [];
    const ahead = (): Micros =>
      Math.min(...members.flatMap(({ grids }) => [...grids.values()].map((grid) => grid.due())));
    const found = lanes.get(key) ?? { lane: new Lane(source.line, clock, ahead), members };
    lanes.set(key, found);
    return found;
  };
  const begun = tick();
  const opened = new Map<number, OpenSource>();
  const all: Slots[] = [];
  sources.forEach((source, index) => {
    if (source.protocol !== 'modbus') return;
    const { lane, members } = laneOf(source, index);
    const unit = newUnit(source, index, plan.requests, signals, sink, clock);
    const phase = (all.length * SECTION) % 1;
    const origin = begun + Math.floor(phase * Math.min(SPREAD, source.windowPoll, source.poll));
    const slots: Slots = { unit, lane, origin, grids: new Map(), immediate: undefined };
    lane.add(unit);
    members.push(slots);
    all.push(slots);
    opened.set(index, openUnit(slots));
  });
  for (const slots of all) arrange(slots);
  return opened;
};
