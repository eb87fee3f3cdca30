import { isFault } from './faults.ts';
import { type MachineName, type PlantModel, plantFault } from './plant-model.ts';
import type { PulseSource } from './pulses.ts';

/** What hands do at the machine. Percent are of the pulses that the injector took as normal. */
export type HandCommand =
  | {
      readonly do: 'start' | 'stop' | 'reset';
      readonly machine: MachineName | 'F1';
      readonly seconds?: number;
    }
  | { readonly do: 'block'; readonly machine: MachineName; readonly target: 'none' | 'one' | 'all' }
  | { readonly do: 'injector'; readonly machine: MachineName; readonly mode: 'off' | 'taking' | 'injecting' }
  | { readonly do: 'step'; readonly machine: MachineName; readonly percent: number }
  | { readonly do: 'ramp'; readonly machine: MachineName; readonly percent: number; readonly rate: number }
  | { readonly do: 'probe-out' | 'probe-in'; readonly machine: MachineName }
  | { readonly do: 'heat'; readonly machine: MachineName; readonly to: number; readonly rate: number }
  | { readonly do: 'screw'; readonly machine: MachineName; readonly turned: boolean }
  | { readonly do: 'wire'; readonly machine: MachineName; readonly broken: boolean }
  | { readonly do: 'slip'; readonly machine: MachineName; readonly share: number }
  | { readonly do: 'bypass'; readonly machine: MachineName; readonly on: boolean }
  | { readonly do: 'program-change'; readonly fault: string }
  | { readonly do: 'state' };

export type HandAnswer =
  | { readonly ok: true; readonly state?: Readonly<Record<string, number>> }
  | { readonly ok: false; readonly error: string };

const VERBS = [
  'start',
  'stop',
  'reset',
  'block',
  'injector',
  'step',
  'ramp',
  'probe-out',
  'probe-in',
  'heat',
  'screw',
  'wire',
  'slip',
  'bypass',
  'program-change',
  'state',
];

/** How long a button is held when nobody says. */
const HELD = 0.4;

const refuse = (error: string): HandAnswer => ({ ok: false, error });

/** The injector takes over in phase, and hands back in phase: changing over makes no gap in the pulses. */
const switchInjector = (pulses: PulseSource, mode: PulseSource['injector']): void => {
  if (mode === 'injecting' && pulses.injector !== 'injecting') pulses.injected = pulses.angle;
  if (mode !== 'injecting' && pulses.injector === 'injecting') {
    pulses.angle = Math.floor(pulses.angle) + (pulses.injected - Math.floor(pulses.injected));
  }
  pulses.injector = mode;
};

const onMachine = (model: PlantModel, command: HandCommand): HandAnswer | undefined => {
  if (!('machine' in command)) return undefined;
  if (command.machine === 'F1') {
    if (command.do === 'start') model.feederStarted = true;
    if (command.do === 'stop') model.feederStarted = false;
    return { ok: true };
  }
  const machine = model.machines[command.machine];
  if (machine === undefined) return refuse(`there is no machine "${String(command.machine)}": E1, C2 or F1`);
  const { pulses, bearing } = machine;
  switch (command.do) {
    case 'start':
    case 'stop':
    case 'reset':
      machine.held[command.do] = command.seconds ?? HELD;
      return { ok: true };
    case 'block':
      pulses.blocked = command.target;
      return { ok: true };
    case 'injector':
      if (command.mode === 'injecting' && pulses.taken === 0)
        return refuse('the injector has not taken a normal yet');
      switchInjector(pulses, command.mode);
      Object.assign(pulses, { percent: 100, rate: 0, goal: 100 });
      return { ok: true };
    case 'step':
      Object.assign(pulses, { percent: command.percent, goal: command.percent, rate: 0 });
      return { ok: true };
    case 'ramp':
      Object.assign(pulses, { goal: command.percent, rate: Math.abs(command.rate) });
      return { ok: true };
    case 'probe-out':
      Object.assign(bearing, { out: true, goal: bearing.probe, rate: 0 });
      return { ok: true };
    case 'probe-in':
      bearing.out = false;
      return { ok: true };
    case 'heat':
      if (!bearing.out) return refuse('take the probe out of the bearing first');
      Object.assign(bearing, { goal: command.to, rate: Math.abs(command.rate) });
      return { ok: true };
    case 'screw':
      machine.screw = command.turned;
      return { ok: true };
    case 'wire':
      machine.broken = command.broken;
      return { ok: true };
    case 'slip':
      machine.drive.slip = command.share;
      return { ok: true };
    case 'bypass':
      machine.memory.bypass = command.on;
      return { ok: true };
    default:
      return command satisfies never;
  }
};

/** Does what hands would do; says what is wrong with a command that cannot be done. */
export const applyHand = (model: PlantModel, command: HandCommand): HandAnswer => {
  if (!VERBS.includes(command.do))
    return refuse(`unknown command "${String(command.do)}": ${VERBS.join(', ')}`);
  if (command.do === 'state') return { ok: true, state: { ...model.image, seconds: model.now / 1e6 } };
  if (command.do === 'program-change') {
    if (!isFault(command.fault)) return refuse(`unknown fault "${command.fault}"`);
    plantFault(model, command.fault);
    model.revision += 1;
    return { ok: true };
  }
  return onMachine(model, command) ?? refuse('name a machine: E1, C2 or F1');
};
