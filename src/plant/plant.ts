import { startHands } from './hands-channel.ts';
import type { Listening } from './listen.ts';
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
import type { OpcUaGuard } from './opcua-certificates.ts';
import { type OpcUaShow, startOpcUa } from './opcua-server.ts';

export interface PlantSettings extends PlantOptions {
  readonly host?: string;
  /** 0: any free port. */
  readonly modbusPort?: number;
  /** Undefined: no OPC UA, and its library is not loaded. */
  readonly opcuaPort?: number;
  /** Every security mode is offered, and only who is trusted comes in; without it everybody may, unencrypted. */
  readonly opcuaGuard?: OpcUaGuard;
  /** Namespaces before the plant's own, as another program in the controller would bring. */
  readonly opcuaNamespaces?: readonly string[];
  readonly handsPort?: number;
}

export interface Plant {
  readonly model: PlantModel;
  readonly modbus: { readonly host: string; readonly port: number };
  readonly hands: { readonly host: string; readonly port: number };
  readonly opcua?: Pick<OpcUaShow, 'endpoint' | 'trust'>;
  stop(): Promise<void>;
}

/** Milliseconds between two looks at the clock while nobody asks. */
const LOOK = 5;

/**
 * Moves the plant up to the wall's time whenever it is called, scan by scan: it never drifts, and what was late is
 * caught up in the right order, with the time at which it was due.
 */
const follower = (model: PlantModel, show: OpcUaShow['show'] | undefined): (() => void) => {
  const began = process.hrtime.bigint();
  let shown = -1;
  const showScan = (elapsed: number, wall: number): void => {
    if (show === undefined || model.scans === shown) return;
    shown = model.scans;
    show(model.image, wall - (elapsed - model.scannedAt) / 1_000);
  };
  return () => {
    // Both clocks are read together: catching up takes time of its own.
    const elapsed = Number((process.hrtime.bigint() - began) / 1_000n);
    const wall = Date.now();
    showScan(elapsed, wall);
    while (model.nextScan <= elapsed) {
      advance(model, model.nextScan - model.asked);
      showScan(elapsed, wall);
    }
    if (elapsed > model.asked) advance(model, elapsed - model.asked);
  };
};

/**
 * The simulated plant on real sockets, in real time. Both protocols and the hands share one model, and each question
 * is answered from the scan that is due at that moment. Rejects where a port cannot be had.
 */
export const startPlant = async (settings: PlantSettings): Promise<Plant> => {
  const host = settings.host ?? '127.0.0.1';
  const model = createModel(settings);
  const open: Pick<Listening, 'stop'>[] = [];
  const stopAll = async (): Promise<void> => {
    await Promise.all(open.map((one) => one.stop()));
  };
  try {
    const { opcuaPort: port, opcuaGuard: guard, opcuaNamespaces: namespacesBefore } = settings;
    const about = { ...(guard && { guard }), ...(namespacesBefore && { namespacesBefore }) };
    const shown = port === undefined ? undefined : await startOpcUa({ host, port, ...about });
    if (shown) open.push(shown);
    const catchUp = follower(model, shown?.show);
    const now = (): PlantModel => {
      catchUp();
      return model;
    };
    const image = { registers: () => registersOf(now().image), coils: () => coilsOf(now().image) };
    const modbus = await startModbus(image, host, settings.modbusPort ?? 0);
    open.push(modbus);
    const hands = await startHands((command) => applyHand(now(), command), host, settings.handsPort ?? 0);
    open.push(hands);
    const timer = setInterval(catchUp, LOOK);
    return {
      model,
      modbus: { host, port: modbus.port },
      hands: { host, port: hands.port },
      ...(shown && { opcua: { endpoint: shown.endpoint, trust: shown.trust } }),
      async stop() {
        clearInterval(timer);
        await stopAll();
      },
    };
  } catch (error) {
    await stopAll();
    throw error;
  }
};
