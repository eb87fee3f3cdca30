import type { Memory } from './memory.ts';

/** How one machine's values reach the registers. The values of `newShowing` are right; the others can be planted. */
export interface Showing {
  speedFactor: number;
  fahrenheit: boolean;
  /** Shows the shaft of the other machine. */
  otherShaft: boolean;
  bypassHidden: boolean;
  /** The trip bit follows the trip after this many µs, or stands for ever. */
  tripAfter: number;
  tripStands: boolean;
  alarmStands: boolean;
  /** What is no longer renewed once the machine has been armed, and whether that has begun. */
  holds: 'nothing' | 'speed' | 'values' | 'everything';
  holding: boolean;
}

export const newShowing = (): Showing => ({
  speedFactor: 1,
  fahrenheit: false,
  otherShaft: false,
  bypassHidden: false,
  tripAfter: 0,
  tripStands: false,
  alarmStands: false,
  holds: 'nothing',
  holding: false,
});

const HELD: Readonly<Record<Showing['holds'], (signal: string) => boolean>> = {
  nothing: () => false,
  speed: (signal) => signal === 'shaft-speed',
  values: (signal) => signal !== 'heartbeat',
  everything: () => true,
};

/** Whether a signal keeps the value that it showed last. */
export const isHeld = (showing: Showing, signal: string): boolean =>
  showing.holding && HELD[showing.holds](signal);

/** Makes of a machine's right values what its registers say; `now` in µs. */
export const distort = (
  showing: Showing,
  memory: Memory,
  values: Record<string, number>,
  otherShaft: number,
  now: number,
): void => {
  if (showing.otherShaft) values['shaft-speed'] = otherShaft;
  if (showing.speedFactor !== 1) values['shaft-speed'] = (values['shaft-speed'] ?? 0) * showing.speedFactor;
  if (showing.fahrenheit) {
    values['bearing-temperature'] = Math.round((values['bearing-temperature'] ?? 0) * 18 + 320) / 10;
  }
  if (showing.bypassHidden) Object.assign(values, { bypass: 0, 'bypass-remaining': 0 });
  if (memory.tripped && now - memory.trippedSince < showing.tripAfter) values['tripped'] = 0;
  if (showing.tripStands) values['tripped'] = 1;
  if (showing.alarmStands) Object.assign(values, { 'underspeed-alarm': 1, horn: 1 });
};
