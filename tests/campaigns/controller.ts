/** The scans of a drawn controller: what its tags show, scan by scan. It knows the truth; the judge sees the tags. */
import type { Drawn, Sensing, Stimulus } from './plants.ts';
import { seeded } from './random.ts';

/** Tags after one scan; states as 0 and 1. */
export interface Image {
  readonly cause: number;
  readonly run: number;
  readonly running: number;
  readonly tripped: number;
  readonly stop: number;
  readonly reset: number;
  readonly start: number;
  readonly bypass: number;
  readonly other: number;
}

const during = (span: readonly [number, number] | undefined, t: number): boolean =>
  span !== undefined && t >= span[0] && t < span[1];

/** The quantity itself, at the sensor. */
export const causeAt = ({ design, stimulus }: Drawn): ((t: number) => number) => {
  const { points } = stimulus;
  let index = 0;
  return (t) => {
    if (t < points[index]![0]) index = 0;
    while (index + 1 < points.length && points[index + 1]![0] <= t) index += 1;
    const [from, share] = points[index]!;
    const next = points[index + 1];
    const part = next === undefined || t <= from ? 0 : (t - from) / (next[0] - from);
    const now = share + part * ((next?.[1] ?? share) - share);
    return design.normal + now * (design.setPoint - design.normal);
  };
};

type Meter = (t: number, value: number) => number;

/** Pulses of a turning shaft; a new value when a pulse comes, or none comes for longer than before. */
const periodMeter = (targets: number, scan: number, first: number): Meter => {
  let turned = 0;
  let lastPulse = 0;
  let period = 60 / (targets * first);
  return (t, value) => {
    const step = (value / 60) * targets * scan;
    const before = turned;
    turned += step;
    for (let pulse = Math.floor(before) + 1; pulse <= turned; pulse += 1) {
      const at = t - scan + ((pulse - before) / step) * scan;
      period = at - lastPulse;
      lastPulse = at;
    }
    return 60 / (targets * Math.max(period, t - lastPulse));
  };
};

const countMeter = (targets: number, gate: number, scan: number, first: number): Meter => {
  const width = Math.round(gate / scan);
  const counts: number[] = [];
  let turned = 0;
  return (_t, value) => {
    turned += (value / 60) * targets * scan;
    counts.push(Math.floor(turned));
    const start = counts.at(-1 - width);
    return start === undefined ? first : ((counts.at(-1)! - start) * 60) / (targets * width * scan);
  };
};

const meterOf = (sensing: Sensing, scan: number, first: number): Meter => {
  if (sensing.by === 'period') return periodMeter(sensing.targets, scan, first);
  if (sensing.by === 'count') return countMeter(sensing.targets, sensing.gate, scan, first);
  return (_t, value) => value;
};

const hands = (stimulus: Stimulus, t: number): { stop: boolean; reset: boolean; start: boolean } => ({
  stop: stimulus.stops.some((span) => during(span, t)),
  reset: stimulus.episodes.some((one) => during(one.reset, t)),
  start: stimulus.episodes.some((one) => during(one.start, t)),
});

/** Time beyond the level, as the drawn kind of timer counts it. */
const newTimer = (drawn: Drawn): ((t: number, beyond: boolean, clear: boolean) => boolean) => {
  const { made, design } = drawn;
  let since: number | undefined;
  let kept = 0;
  let before = 0;
  return (t, beyond, cleared) => {
    if (design.delay?.onReturn === 'accumulates') {
      if (since !== undefined) kept += t - before;
      since = beyond ? t : undefined;
      before = t;
      if (cleared) kept = 0;
      return beyond && kept >= made.delay - 1e-9;
    }
    if (!beyond) since = undefined;
    else since ??= t;
    return since !== undefined && t - since >= made.delay - 1e-9;
  };
};

/** Runs every scan from 0 to the end. Image n is what the tags show from n × scan on. */
export const runScans = (drawn: Drawn): readonly Image[] => {
  const { made, stimulus, design } = drawn;
  const { scan, fault } = made;
  const random = seeded(drawn.seed ^ 0x5bd1e995);
  const quantity = causeAt(drawn);
  const meter = meterOf(made.sensing, scan, design.normal);
  const timer = newTimer(drawn);
  const images: Image[] = [];
  const commands: number[] = [];
  let run = 1;
  let tripped = 0;
  let filtered = design.normal;
  const lag = Math.round(made.contactor / scan);
  for (let n = 0; n * scan < stimulus.end; n += 1) {
    const t = n * scan;
    const error = made.offset + made.drift * (t / stimulus.end) + made.noise * random.between(-1, 1);
    const input = meter(t, quantity(t) + (design.kind === 'contact' ? 0 : error));
    filtered +=
      made.filter === 0 ? input - filtered : (1 - Math.exp(-scan / made.filter)) * (input - filtered);
    const beyond = design.side === 'below' ? filtered < made.level : filtered > made.level;
    const hand = hands(stimulus, t);
    const bypassed = during(stimulus.bypass, t);
    const other = during(stimulus.other, t);
    const timed = timer(t, beyond, hand.reset);
    const acts = timed && !bypassed && fault !== 'dead';
    if ((acts || other) && run === 1) {
      if (fault !== 'no-trip-bit') tripped = 1;
      if (fault !== 'run-not-wired') run = 0;
    }
    if (!made.latched && tripped === 1 && !beyond) {
      tripped = 0;
      run = 1;
    }
    if (hand.stop) run = 0;
    if (hand.reset && !beyond) {
      tripped = 0;
      if (fault === 'auto-restart') run = 1;
    }
    if (hand.start && tripped === 0) run = 1;
    commands.push(run);
    // The contactor drops late and picks up in a tenth of a second.
    const picked = commands[Math.max(0, n - Math.round(0.1 / scan))]!;
    const dropped = commands[Math.max(0, n - lag)]!;
    const was = images.at(-1)?.running ?? 1;
    const contact = was === 1 ? Math.max(run, dropped) : Math.min(run, picked);
    images.push({
      cause: made.raw ? input : filtered,
      run,
      running: fault === 'motor-runs-on' ? 1 : contact,
      tripped,
      stop: Number(hand.stop),
      reset: Number(hand.reset),
      start: Number(hand.start),
      bypass: Number(bypassed),
      other: Number(other),
    });
  }
  return images;
};
