/** A controller as the tests' ground truth: scans a stimulus, acts at a known level after a known delay. */
import type { Plant } from './rig.ts';

export interface Truth {
  /** Fraction of normal (96 rpm) at which the timer starts. */
  readonly level: number;
  readonly delay: number;
  readonly scan: number;
  readonly latched: boolean;
  readonly fault?: 'run-not-wired' | 'no-trip-bit' | 'other-machine' | 'motor-runs-on' | 'auto-restart';
}

/** Speed in rpm over time, and hands on buttons as spans of seconds. */
export interface Stimulus {
  readonly speed: (t: number) => number;
  readonly from: number;
  readonly to: number;
  readonly reset?: readonly [number, number];
  readonly start?: readonly [number, number];
  readonly stop?: readonly [number, number];
  readonly bypass?: readonly [number, number];
}

const during = (span: readonly [number, number] | undefined, t: number): boolean =>
  span !== undefined && t >= span[0] && t < span[1];

interface Image {
  speed: number;
  run: number;
  running: number;
  tripped: number;
  stop: number;
  reset: number;
  start: number;
  bypass: number;
  c2: number;
}

/** Runs the scans once; every signal is then the image of the last scan before the asked time. */
export const runController = (truth: Truth, stimulus: Stimulus): Plant => {
  const images: Image[] = [];
  let run = 1;
  let tripped = 0;
  let c2 = 1;
  let since: number | undefined;
  const count = Math.ceil((stimulus.to - stimulus.from) / truth.scan) + 2;
  for (let n = 0; n < count; n += 1) {
    const t = stimulus.from + n * truth.scan;
    const speed = stimulus.speed(t);
    const bypass = during(stimulus.bypass, t);
    const low = speed < truth.level * 96;
    if (!low) since = undefined;
    else since ??= t;
    const acts = low && !bypass && since !== undefined && t - since >= truth.delay - 1e-9;
    if (acts && run === 1) {
      if (truth.fault !== 'no-trip-bit') tripped = 1;
      if (truth.fault === 'other-machine') c2 = 0;
      else if (truth.fault !== 'run-not-wired') run = 0;
      if (truth.fault === 'other-machine') tripped = 0;
    }
    if (!truth.latched && tripped === 1 && !low) {
      tripped = 0;
      run = 1;
    }
    if (during(stimulus.stop, t)) run = 0;
    if (during(stimulus.reset, t) && !low) {
      tripped = 0;
      if (truth.fault === 'auto-restart') run = 1;
    }
    if (during(stimulus.start, t) && tripped === 0) run = 1;
    const back = images[Math.max(0, n - Math.round(0.15 / truth.scan))];
    images.push({
      speed,
      run,
      running: truth.fault === 'motor-runs-on' ? 1 : (back?.run ?? run),
      tripped,
      stop: during(stimulus.stop, t) ? 1 : 0,
      reset: during(stimulus.reset, t) ? 1 : 0,
      start: during(stimulus.start, t) ? 1 : 0,
      bypass: bypass ? 1 : 0,
      c2,
    });
  }
  const image = (t: number): Image =>
    images[Math.min(images.length - 1, Math.max(0, Math.floor((t - stimulus.from) / truth.scan + 1e-9)))]!;
  const of = (name: keyof Image) => (t: number) => image(t)[name];
  return {
    speed: of('speed'),
    run: of('run'),
    running: of('running'),
    tripped: of('tripped'),
    stop: of('stop'),
    reset: of('reset'),
    start: of('start'),
    bypass: of('bypass'),
    c2: of('c2'),
  };
};

/** Piecewise linear percent of normal through (second, percent) points, as rpm. */
export const profile =
  (...points: readonly (readonly [number, number])[]) =>
  (t: number): number => {
    let before = points[0]!;
    for (const point of points) {
      if (t < point[0]) {
        const share = (t - before[0]) / (point[0] - before[0]);
        return ((before[1] + (point[1] - before[1]) * (t <= before[0] ? 0 : share)) / 100) * 96;
      }
      before = point;
    }
    return (before[1] / 100) * 96;
  };
