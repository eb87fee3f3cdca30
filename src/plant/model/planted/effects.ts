import { NEVER } from '../memory.ts';
import type { Changes } from './change.ts';

/** What must come of a cause: stops, alarms, the feeder, a start. */
export const EFFECTS = {
  'shutdown-not-wired': ({ wiring }) => {
    wiring.output = false;
  },
  'motor-runs-on': ({ drive }) => {
    drive.welded = true;
  },
  'feedback-from-command': ({ wiring }) => {
    Object.assign(wiring, { output: false, feedbackFromCommand: true });
  },
  'contactor-sticks': ({ drive }) => {
    drive.dropOut = 3;
  },
  'coasts-too-long': ({ drive }) => {
    drive.coast = 40;
  },
  'shutdown-without-alarm': ({ settings }) => {
    Object.assign(settings, { alarmEnabled: false, bearingAlarms: false, alignmentAlarms: false });
  },
  'horn-not-wired': ({ wiring }) => {
    wiring.horn = false;
  },
  'alarm-pulse': ({ settings }) => {
    settings.alarmHolds = 'one-scan';
  },
  'alarm-chatters': ({ settings }) => {
    settings.alarmHolds = 'while-present';
  },
  'another-machine-trips': ({ settings }) => {
    settings.trips = 'other';
  },
  'stops-neighbour-too': ({ settings }) => {
    settings.trips = 'both';
  },
  'alarm-on-another-machine': ({ settings }) => {
    settings.alarmsAt = 'other';
  },
  'trips-without-cause': ({ settings }) => {
    settings.strayTripAfter = 20_000_000;
  },
  'cascade-missing': (_leg, { feeder }) => {
    feeder.program.cascadeAfter = NEVER;
  },
  'cascade-late': (_leg, { feeder }) => {
    feeder.program.cascadeAfter = 6_000_000;
  },
  'wrong-stop-order': (_leg, { feeder }) => {
    feeder.program.waitsForStandstill = true;
  },
  'gate-stays-open': (_leg, { feeder }) => {
    feeder.program.gateSticks = true;
  },
  'feeder-restarts': (_leg, { feeder }) => {
    Object.assign(feeder.program, { needsLeg: false, restartsAfter: 5_000_000 });
  },
  'start-permissive-missing': (_leg, { feeder }) => {
    feeder.program.needsLeg = false;
  },
  'start-warning-missing': ({ settings }) => {
    settings.warnFor = 0;
  },
  'start-warning-too-short': ({ settings }) => {
    settings.warnFor = 1_000_000;
  },
} satisfies Changes;
