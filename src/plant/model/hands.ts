import type { HandAnswer, HandCommand } from './command.ts';
import { FAULTS, isFault } from './faults.ts';
import { truthOf } from './image.ts';
import { restart } from './logic.ts';
import type { MachineModel } from './machine.ts';
import { settle } from './plant-model.ts';
import { plantFault, repair } from './planted/index.ts';
import type { PulseSource } from './pulses.ts';
import type { PlantModel } from './state.ts';

/** How long a button is held when nobody says, seconds. */
const HELD = 0.4;
/** Seconds of a bypass and of a power cut when nobody says; a shift is common practice, no source. */
const BYPASSED = 8 * 3_600;
const DARK = 1;

const DONE: HandAnswer = { ok: true };
const refuse = (error: string): HandAnswer => ({ ok: false, error });

/** The injector takes over in phase, and hands back in phase: changing over makes no gap in the pulses. */
const switchInjector = (pulses: PulseSource, mode: PulseSource['injector']): HandAnswer => {
  if (mode === 'injecting' && pulses.taken === 0) return refuse('the injector has not taken a normal yet');
  if (mode === 'injecting' && pulses.injector !== 'injecting') pulses.injected = pulses.angle;
  if (mode !== 'injecting' && pulses.injector === 'injecting') {
    pulses.angle = Math.floor(pulses.angle) + (pulses.injected - Math.floor(pulses.injected));
  }
  pulses.injector = mode;
  Object.assign(pulses, { percent: 100, rate: 0, goal: 100 });
  return DONE;
};

const inject = (pulses: PulseSource, change: Partial<PulseSource>): HandAnswer => {
  if (pulses.injector !== 'injecting') return refuse('the injector is not injecting yet');
  Object.assign(pulses, change);
  return DONE;
};

const heat = (machine: MachineModel, to: number, rate: number): HandAnswer => {
  if (!machine.bearing.out) return refuse('take the probe out of the bearing first');
  Object.assign(machine.bearing, { goal: to, rate });
  return DONE;
};

const force = (machine: MachineModel, on: boolean): HandAnswer => {
  machine.memory.forcedSpeed = machine.memory.shaft.speed;
  machine.memory.force = on;
  return DONE;
};

const put = (target: object, values: object): HandAnswer => {
  Object.assign(target, values);
  return DONE;
};

type Of<T, M extends string> = T extends { machine: infer N } ? (M extends N ? T : never) : never;
type OnMachine = Of<HandCommand, 'E1'>;

const onMachine = (machine: MachineModel, command: OnMachine, now: number): HandAnswer => {
  const { pulses, bearing, belt, drive, memory, rack } = machine;
  switch (command.do) {
    case 'start':
    case 'stop':
    case 'reset':
    case 'learn':
    case 'silence':
    case 'warned-start':
      return put(machine.held, { [command.do]: command.seconds ?? HELD });
    case 'block':
      return put(pulses, { blocked: command.target });
    case 'injector':
      return switchInjector(pulses, command.mode);
    case 'step':
      return inject(pulses, { percent: command.percent, goal: command.percent, rate: 0 });
    case 'ramp':
      return inject(pulses, { goal: command.percent, rate: command.rate });
    case 'hold':
      return inject(pulses, { goal: pulses.percent, rate: 0 });
    case 'probe-out':
      return put(bearing, { out: true, goal: bearing.probe, rate: 0 });
    case 'probe-in':
      return put(bearing, { out: false });
    case 'heat':
      return heat(machine, command.to, command.rate);
    case 'screw':
      return put(belt, { screw: command.turned });
    case 'wander':
      return put(belt, { goal: command.to, rate: command.rate });
    case 'wire':
      return put(belt, { broken: command.broken });
    case 'probe-wire':
      return put(bearing, { broken: command.broken });
    case 'link':
      return put(rack, { cut: command.cut });
    case 'slip':
      return put(drive, { slip: command.share });
    case 'bypass':
      return put(memory, {
        bypass: command.on,
        bypassUntil: now + (command.seconds ?? BYPASSED) * 1_000_000,
      });
    case 'force':
      return force(machine, command.on);
    default:
      return command satisfies never;
  }
};

const changeProgram = (model: PlantModel, fault: string): HandAnswer => {
  if (fault === 'none') repair(model);
  else if (isFault(fault)) plantFault(model, fault);
  else return refuse(`there is no fault "${fault}": none, ${Object.keys(FAULTS).join(', ')}`);
  model.revision += 1;
  return DONE;
};

/** The controller is dark for a while, and begins again with what its memory keeps. */
const cutPower = (model: PlantModel, seconds: number): HandAnswer => {
  model.offUntil = model.now + seconds * 1_000_000;
  model.feeder.started = false;
  for (const { memory, settings } of Object.values(model.machines)) restart(memory, settings);
  return DONE;
};

/** Does what hands would do, at the time the plant has been moved to; says why where it cannot be done. */
export const applyHand = (model: PlantModel, command: HandCommand): HandAnswer => {
  settle(model);
  if (command.do === 'state') {
    return { ok: true, state: { ...model.image, seconds: model.now / 1_000_000 }, truth: truthOf(model) };
  }
  if (command.do === 'program-change') return changeProgram(model, command.fault);
  if (command.do === 'power-cycle') return cutPower(model, command.seconds ?? DARK);
  const { machine } = command;
  if (machine !== 'E1' && machine !== 'C2') {
    model.feeder.started = command.do === 'start';
    return DONE;
  }
  return onMachine(model.machines[machine], command as OnMachine, model.now);
};
