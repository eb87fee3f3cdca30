import type { MarkRequest } from '../api/index.ts';
import type { Hands } from '../plant/index.ts';

/** What the demo's two hands and one screen do. */
export interface Stage {
  readonly hands: Hands;
  /** Waits until a signal of the plant is in a state, as a person would watch for it. */
  until(signal: string, test: (value: number) => boolean, seconds: number): Promise<void>;
  wait(seconds: number): Promise<void>;
  tell(text: string): void;
  mark(mark: MarkRequest): Promise<void>;
}

const must = async (stage: Stage, command: Parameters<Hands['do']>[0]): Promise<void> => {
  const answer = await stage.hands.do(command);
  if (!answer.ok) throw new Error(`the plant refused ${command.do}: ${answer.error}`);
};

export const startLeg = async (stage: Stage): Promise<void> => {
  stage.tell('starting leg 1 and its feeder, empty');
  await must(stage, { do: 'start', machine: 'E1' });
  await stage.until('E1.motor-running', (value) => value === 1, 3);
  await must(stage, { do: 'start', machine: 'F1' });
};

export const startBelt = (stage: Stage): Promise<void> => must(stage, { do: 'start', machine: 'C2' });

const resetLeg = async (stage: Stage): Promise<void> => {
  await must(stage, { do: 'reset', machine: 'E1' });
  await stage.until('E1.tripped', (value) => value === 0, 3);
  await stage.wait(0.3);
};

/** The injector takes the running pulses as normal, then lowers them while the machine runs on. */
export const underspeedRamp = async (stage: Stage, latch: boolean): Promise<void> => {
  await must(stage, { do: 'injector', machine: 'E1', mode: 'taking' });
  await stage.wait(0.5);
  await must(stage, { do: 'injector', machine: 'E1', mode: 'injecting' });
  await stage.wait(0.5);
  stage.tell('injector on leg 1: down to 94 %, then 1.5 %/s');
  await must(stage, { do: 'step', machine: 'E1', percent: 94 });
  await stage.wait(0.5);
  await must(stage, { do: 'ramp', machine: 'E1', percent: 74, rate: 1.5 });
  await stage.until('E1.motor-running', (value) => value === 0, 16).catch(() => undefined);
  await stage.wait(1);
  if (!latch) return;
  stage.tell('injector back to normal: does the trip hold?');
  await must(stage, { do: 'step', machine: 'E1', percent: 100 });
  await stage.wait(2);
  await stage.until('E1.head-speed', (value) => value === 0, 8);
  await stage.wait(0.3);
};

export const underspeedStep = async (stage: Stage): Promise<void> => {
  stage.tell('injector: one step to 70 % (how long is the delay?)');
  await must(stage, { do: 'step', machine: 'E1', percent: 70 });
  await stage.until('E1.motor-running', (value) => value === 0, 6).catch(() => undefined);
  await stage.wait(0.8);
  await must(stage, { do: 'step', machine: 'E1', percent: 100 });
  await stage.wait(3);
};

export const injectorOff = async (stage: Stage): Promise<void> => {
  await must(stage, { do: 'injector', machine: 'E1', mode: 'off' });
};

export const restartLeg = async (stage: Stage, armed: number): Promise<void> => {
  stage.tell('reset; the leg must stay stopped until it is started');
  await resetLeg(stage);
  await startLeg(stage);
  await stage.wait(armed);
};

export const heatBearing = async (stage: Stage): Promise<void> => {
  stage.tell('bearing probe taken out and heated at 4 degC/s');
  await must(stage, { do: 'probe-out', machine: 'E1' });
  await must(stage, { do: 'heat', machine: 'E1', to: 64, rate: 20 });
  await stage.wait(1.6);
  await must(stage, { do: 'heat', machine: 'E1', to: 84, rate: 4 });
  await stage.until('E1.motor-running', (value) => value === 0, 8).catch(() => undefined);
  await stage.wait(0.8);
  stage.tell('probe cooled');
  await must(stage, { do: 'heat', machine: 'E1', to: 45, rate: 15 });
  await stage.wait(4.2);
  await must(stage, { do: 'probe-in', machine: 'E1' });
};

export const displaceBelt = async (stage: Stage, machine: 'E1' | 'C2'): Promise<void> => {
  stage.tell(`test screw of the alignment switch of ${machine} turned`);
  await must(stage, { do: 'screw', machine, turned: true });
  await stage.until(`${machine}.motor-running`, (value) => value === 0, 5).catch(() => undefined);
  await stage.wait(0.8);
  await must(stage, { do: 'screw', machine, turned: false });
  await stage.wait(2.2);
};
