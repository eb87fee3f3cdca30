/** The one place where these tests open sources of the project. */
import { type OpenSource, openModbus, type Sink } from '../../src/field/index.ts';
import { type ModbusSource, type Plan, planReads, type SignalDef } from '../../src/signal/index.ts';
import { clock } from './truth.ts';

export const modbusSource = (
  more: Pick<ModbusSource, 'line' | 'unit'> & Partial<ModbusSource>,
): ModbusSource => ({
  protocol: 'modbus',
  name: `device-${more.unit}`,
  poll: 20_000,
  windowPoll: 20_000,
  slowPoll: 20_000,
  timeout: 120_000,
  scan: 0,
  scanConsistent: false,
  maxRegisters: 125,
  maxBits: 2_000,
  maxGap: 0,
  inFlight: 1,
  pause: 0,
  connection: 'shared',
  ...more,
});

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
