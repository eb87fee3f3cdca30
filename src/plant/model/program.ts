import type { Fault } from './faults.ts';
import { newSettings } from './settings.ts';
import type { PlantModel } from './state.ts';

/** Changes the program (or the wiring) so that the fault is there. */
export const plantFault = (model: PlantModel, fault: Fault): void => {
  const leg = model.machines.E1;
  model.fault = fault;
  const changes: Readonly<Record<Fault, () => void>> = {
    'wrong-set-point': () => {
      leg.settings.stopAt = 0.76;
    },
    'wrong-scale': () => {
      leg.settings.bearingScale = 0.9;
    },
    'shutdown-not-wired': () => {
      leg.outputWired = false;
    },
    'alarm-missing': () => {
      leg.settings.alarmEnabled = false;
    },
    'delay-too-long': () => {
      leg.settings.stopDelay = 4_000_000;
    },
    'releases-on-recovery': () => {
      leg.settings.latched = false;
    },
    'another-machine-trips': () => {
      leg.settings.misdirected = true;
    },
    'bypass-left-on': () => {
      leg.memory.bypass = true;
    },
    'auto-restart': () => {
      leg.settings.autoRestart = true;
    },
    'normal-learned-slipping': () => {
      leg.drive.slip = 0.14;
      leg.settings.normal = Math.round(leg.drive.nominal * 0.86 * 10) / 10;
    },
    'cascade-missing': () => {
      model.cascade = false;
    },
    'alignment-stop-missing': () => {
      leg.settings.alignmentStops = false;
    },
    'motor-runs-on': () => {
      leg.drive.welded = true;
    },
  };
  changes[fault]();
};

/** Puts program and wiring right again, normal included. */
export const repair = (model: PlantModel): void => {
  const leg = model.machines.E1;
  Object.assign(leg.settings, newSettings(leg.settings.targets, leg.drive.nominal));
  leg.outputWired = true;
  leg.memory.bypass = false;
  leg.drive.slip = 0;
  leg.drive.welded = false;
  model.cascade = true;
  delete model.fault;
};
