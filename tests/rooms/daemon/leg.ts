/** The demo site as its controller shows it while the leg's alignment switch is displaced and the leg stops. */
import { instant } from '../../../src/measure/index.ts';
import { readPlan } from '../../../src/rulebook/index.ts';
import { bookOf, load, ROOT } from '../config/load.ts';

export const book = bookOf(load(`${ROOT}config/demo-site.yaml`));
export const plan = readPlan(book);

const ZERO = 1_700_000_000_000_000;
export const at = (seconds: number) => instant(ZERO + seconds * 1_000_000);

/** Seconds at which things happen. */
interface Course {
  readonly displaced: readonly [from: number, to: number];
  readonly alarm: number;
  readonly stop: number;
}

/** The shaft comes to rest a moment after the motor. */
const COASTS = 0.4;

/** Registers `from` … of the controller, each time anew. */
export const wordsOf =
  ({ displaced: [displacedAt, backAt], alarm: alarmAt, stop }: Course) =>
  (seconds: number, from: number, count: number): number[] => {
    const displaced = seconds >= displacedAt && seconds < backAt;
    const runs = seconds < stop;
    const alarm = seconds >= alarmAt;
    const bits =
      (runs ? 0b11 : 0) | (runs ? 0 : 1 << 2) | (alarm ? (1 << 5) | (1 << 6) : 0) | (displaced ? 1 << 7 : 0);
    const registers = new Map([
      [0, runs ? 960 : 0],
      [1, seconds < stop + COASTS ? 960 : 0],
      [2, 380],
      [3, 960],
      [4, Math.round(seconds * 50) % 65_536],
      [5, 41],
      [9, bits],
      [10, runs ? 3 : 0],
      [12, runs ? 300 : 0],
    ]);
    return Array.from({ length: count }, (_, index) => registers.get(from + index) ?? 0);
  };
