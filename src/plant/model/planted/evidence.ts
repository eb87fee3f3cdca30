import { NEVER } from '../memory.ts';
import type { Changes } from './change.ts';

/** What is shown, and what people do that no register shows. */
export const EVIDENCE = {
  'trip-bit-silent': ({ showing }) => {
    showing.tripAfter = NEVER;
  },
  'trip-bit-late': ({ showing }) => {
    showing.tripAfter = 3_000_000;
  },
  'trip-bit-stuck-on': ({ showing }) => {
    showing.tripStands = true;
  },
  'alarm-already-on': ({ showing }) => {
    showing.alarmStands = true;
  },
  'speed-frozen': ({ showing }) => {
    showing.holds = 'speed';
  },
  'values-repeated': ({ showing }) => {
    showing.holds = 'values';
  },
  'image-frozen': ({ showing }, { machines }) => {
    showing.holds = 'everything';
    machines.C2.showing.holds = 'everything';
  },
  'temperature-in-fahrenheit': ({ showing }) => {
    showing.fahrenheit = true;
  },
  'speed-times-ten': ({ showing }) => {
    showing.speedFactor = 10;
  },
  'wrong-sensor': ({ showing }) => {
    showing.otherShaft = true;
  },
  'operator-stops': ({ settings }) => {
    settings.stoppedBy = 'desk';
  },
  'local-isolator': ({ settings }) => {
    settings.stoppedBy = 'isolator';
  },
  'overload-trips': ({ settings }) => {
    Object.assign(settings, { speedStops: false, overloadAfter: 3_000_000 });
  },
  'set-point-changed': ({ settings }) => {
    settings.meddling = { stopAt: 0.78 };
  },
  'timer-changed': ({ settings }) => {
    settings.meddling = { stopDelay: 3_000_000 };
  },
  'normal-changed': ({ settings }) => {
    settings.meddling = { normal: settings.normal * 1.125 };
  },
} satisfies Changes;
