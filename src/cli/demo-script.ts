import type { Hands } from '../plant/index.ts';

/** What the demo's two hands and one screen do. */
export interface Stage {
  readonly hands: Hands;
  /** Waits until a signal of the plant is so, as a person would watch for it; false where it does not come. */
  until(signal: string, test: (value: number) => boolean, seconds: number): Promise<boolean>;
  /** Waits until the daemon says that these interlocks wait for nothing any more. */
  ready(interlocks: readonly string[], seconds: number): Promise<void>;
  wait(seconds: number): Promise<void>;
  tell(text: string): void;
}

const UNDERSPEED = ['E1.underspeed-alarm', 'E1.underspeed-stop'];
const BEARING = ['E1.bearing-alarm', 'E1.bearing-stop'];
const misalignment = (machine: string): string[] => [
  `${machine}.misalignment-alarm`,
  `${machine}.misalignment-stop`,
];

/** The cause has been clear this long: the interlock's dwell, and a few polls. */
const DWELT = 1.6;

const must = async (stage: Stage, command: Parameters<Hands['do']>[0]): Promise<void> => {
  const answer = await stage.hands.do(command);
  if (!answer.ok) throw new Error(`the plant refused ${command.do}: ${answer.error}`);
};

const stopped = (stage: Stage, machine: string, seconds: number): Promise<boolean> =>
  stage.until(`${machine}.motor-running`, (value) => value === 0, seconds);

export const startLeg = async (stage: Stage): Promise<void> => {
  stage.tell('starting leg 1 and its feeder, empty');
  await must(stage, { do: 'start', machine: 'E1' });
  await stage.until('E1.motor-running', (value) => value === 1, 3);
  await must(stage, { do: 'start', machine: 'F1' });
};

export const startBelt = (stage: Stage): Promise<void> => must(stage, { do: 'start', machine: 'C2' });

/** Every stop asks whether the shaft comes to rest: the cause stays until it has. */
const atRest = async (stage: Stage, machine: string): Promise<void> => {
  await stage.until(`${machine}.head-speed`, (value) => value < (machine === 'E1' ? 4 : 2.5), 6);
  await stage.wait(0.3);
};

export const restartLeg = async (stage: Stage): Promise<void> => {
  stage.tell('reset; the leg must stay stopped until it is started');
  await must(stage, { do: 'reset', machine: 'E1' });
  await stage.until('E1.tripped', (value) => value === 0, 3);
  await stage.wait(0.4);
  await startLeg(stage);
};

/** Only while the machine runs at its normal: the injector takes the running pulses, then stands in for them. */
const takeOver = async (stage: Stage): Promise<void> => {
  await must(stage, { do: 'injector', machine: 'E1', mode: 'taking' });
  await stage.wait(0.4);
  await must(stage, { do: 'injector', machine: 'E1', mode: 'injecting' });
};

const injectorBack = async (stage: Stage): Promise<void> => {
  stage.tell('injector back to normal: does the trip hold?');
  await must(stage, { do: 'step', machine: 'E1', percent: 100 });
  await stage.wait(DWELT);
};

/** Down slowly while the machine itself runs on; then the leg coasts down, which is the last thing to be seen. */
export const underspeedRamp = async (stage: Stage): Promise<void> => {
  await stage.ready(UNDERSPEED, 15);
  await takeOver(stage);
  await stage.wait(0.6);
  stage.tell('injector on leg 1: down to 93 %, then 1.6 %/s');
  await must(stage, { do: 'step', machine: 'E1', percent: 93 });
  await stage.wait(0.4);
  await must(stage, { do: 'ramp', machine: 'E1', percent: 72, rate: 1.6 });
  await stopped(stage, 'E1', 15);
  await atRest(stage, 'E1');
  await injectorBack(stage);
};

/** A ramp alone cannot tell a low level from a long delay; a step can. */
export const underspeedStep = async (stage: Stage): Promise<void> => {
  await stage.ready(UNDERSPEED, 15);
  stage.tell('injector: one step to 70 % (how long is the delay?)');
  await must(stage, { do: 'step', machine: 'E1', percent: 70 });
  await stopped(stage, 'E1', 6);
  await stage.wait(0.5);
  await injectorBack(stage);
};

export const injectorOff = (stage: Stage): Promise<void> =>
  must(stage, { do: 'injector', machine: 'E1', mode: 'off' });

/** Quickly to just below a set point, then slowly until it has acted: how soon it acts is not measured by itself. */
const heatThrough = async (
  stage: Stage,
  below: number,
  acted: (seconds: number) => Promise<boolean>,
): Promise<void> => {
  await must(stage, { do: 'heat', machine: 'E1', to: below, rate: 20 });
  await stage.until('E1.bearing-temperature', (value) => value >= below - 0.15, 5);
  await must(stage, { do: 'heat', machine: 'E1', to: below + 5, rate: 0.5 });
  await acted(8);
};

export const heatBearing = async (stage: Stage): Promise<void> => {
  await stage.ready(BEARING, 10);
  stage.tell('bearing probe taken out and heated, at 0.5 degC/s near 70 and 80 degC');
  await must(stage, { do: 'probe-out', machine: 'E1' });
  await heatThrough(stage, 68.6, (seconds) =>
    stage.until('E1.bearing-alarm', (value) => value === 1, seconds),
  );
  await heatThrough(stage, 78.6, (seconds) => stopped(stage, 'E1', seconds));
  await must(stage, { do: 'heat', machine: 'E1', to: 85, rate: 20 });
  await atRest(stage, 'E1');
  stage.tell('probe cooled');
  await must(stage, { do: 'heat', machine: 'E1', to: 45, rate: 20 });
  await stage.until('E1.bearing-temperature', (value) => value < 66.5, 5);
  await stage.wait(DWELT);
  await must(stage, { do: 'probe-in', machine: 'E1' });
};

export const displaceBelt = async (stage: Stage, machine: 'E1' | 'C2'): Promise<void> => {
  // A machine that still runs up is below its underspeed level: another cause for the same horn.
  await stage.until(`${machine}.shaft-speed`, (value) => value > (machine === 'E1' ? 94 : 58), 6);
  await stage.ready(misalignment(machine), 10);
  stage.tell(`test screw of the alignment switch of ${machine} turned`);
  await must(stage, { do: 'screw', machine, turned: true });
  await stopped(stage, machine, 5);
  await atRest(stage, machine);
  await must(stage, { do: 'screw', machine, turned: false });
  await stage.wait(DWELT);
};
