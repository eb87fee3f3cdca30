import { startHands } from './hands-channel.ts';
import { startModbus } from './modbus-server.ts';
import {
  advance,
  applyHand,
  coilsOf,
  createModel,
  type PlantModel,
  type PlantOptions,
  registersOf,
} from './model/index.ts';
import { type OpcUaShow, startOpcUa } from './opcua-server.ts';

export interface PlantSettings extends PlantOptions {
  readonly host?: string;
  /** 0: any free port. */
  readonly modbusPort?: number;
  /** Undefined: no OPC UA, and its library is not loaded. */
  readonly opcuaPort?: number;
  readonly handsPort?: number;
}

export interface Plant {
  readonly model: PlantModel;
  readonly modbus: { readonly host: string; readonly port: number };
  readonly hands: { readonly host: string; readonly port: number };
  readonly opcua?: { readonly endpoint: string };
  stop(): Promise<void>;
}

const TICK = 5;

/** Follows the wall on a grid of 5 ms; a late tick is caught up in steps, so that the plant never drifts. */
const follow = (model: PlantModel, shown: OpcUaShow | undefined): NodeJS.Timeout => {
  const began = process.hrtime.bigint();
  const wall = Date.now();
  let done = 0;
  let scans = model.scans;
  const tick = (): void => {
    const elapsed = Number((process.hrtime.bigint() - began) / 1_000n);
    const steps = Math.floor((elapsed - done) / 5_000);
    for (let step = 0; step < steps; step += 1) {
      advance(model, 5_000);
      done += 5_000;
      if (shown === undefined || model.scans === scans) continue;
      scans = model.scans;
      shown.show(model.image, wall + done / 1_000);
    }
  };
  return setInterval(tick, TICK);
};

/** The simulated plant on real sockets, in real time. Both protocols and the hands share one model. */
export const startPlant = async (settings: PlantSettings): Promise<Plant> => {
  const host = settings.host ?? '127.0.0.1';
  const model = createModel(settings);
  const image = { registers: () => registersOf(model.image), coils: () => coilsOf(model.image) };
  const modbus = await startModbus(image, host, settings.modbusPort ?? 0);
  const hands = await startHands((command) => applyHand(model, command), host, settings.handsPort ?? 0);
  const shown = settings.opcuaPort === undefined ? undefined : await startOpcUa(host, settings.opcuaPort);
  const timer = follow(model, shown);
  return {
    model,
    modbus: { host, port: modbus.port },
    hands: { host, port: hands.port },
    ...(shown && { opcua: { endpoint: shown.endpoint } }),
    async stop() {
      clearInterval(timer);
      await Promise.all([modbus.stop(), hands.stop(), shown?.stop()]);
    },
  };
};
