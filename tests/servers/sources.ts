/** The one place where these tests open sources of the project. */
import { type OpenSource, openModbus, type Sink } from '../../src/field/index.ts';
import { type ModbusSource, type Plan, planReads, type SignalDef } from '../../src/signal/index.ts';
import { polled, QUICK } from '../rooms/signal/rig.ts';
import { clock } from './truth.ts';

export const modbusSource = (
  more: Pick<ModbusSource, 'line' | 'unit'> & Partial<ModbusSource>,
): ModbusSource => polled({ name: `device-${more.unit}`, ...QUICK, timeout: 120_000, ...more });

export interface Opened {
  readonly plan: Plan;
  readonly open: readonly OpenSource[];
  stop(): Promise<void>;
}

export const openSources = (
  sources: readonly ModbusSource[],
  signals: readonly SignalDef[],
  sink: Sink,
): Opened => {
  const plan = planReads(signals, sources, []);
  const open = [...openModbus(sources, plan, signals, sink, clock).values()];
  return {
    plan,
    open,
    stop: async () => {
      await Promise.all(open.map((one) => one.stop()));
    },
  };
};
