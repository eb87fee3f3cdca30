/**
 * Random under-speed stops whose level, delay, scan and faults are known, polled at random rates and phases with
 * lost answers. Truth is known by construction: a false pass or a false fail is a defect of the judge.
 */

import { profile, runController, type Stimulus, type Truth } from '../rooms/judge/controller.ts';
import { bookOf, judged, type Plant, sample, underspeed } from '../rooms/judge/rig.ts';

/** Seeded generator (mulberry32, a public-domain mixing function). */
export const seeded = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
};

type Points = [number, number][];

const excursion = (
  random: () => number,
  kind: 'ramp' | 'step' | 'coast',
  begin: number,
): { points: Points; end: number } => {
  const deep = 60 + random() * 15;
  const rate = kind === 'coast' ? 10 + random() * 20 : 0.5 + random() * 3;
  if (kind === 'step') {
    const back = begin + 3 + random() * 4;
    return {
      points: [
        [begin, 100],
        [begin + 1e-4, deep],
        [back, deep],
        [back + 1e-4, 100],
      ],
      end: back,
    };
  }
  const head = kind === 'coast' ? 100 : 92;
  const arrive = begin + (head - deep) / rate;
  const back = arrive + 3 + random() * 3;
  return {
    points: [
      [begin, 100],
      [begin + 1e-4, head],
      [arrive, deep],
      [back, deep],
      [back + 1e-4, 100],
    ],
    end: back,
  };
};

export interface Drawn {
  readonly seed: number;
  readonly truth: Truth;
  readonly stimulus: Stimulus;
  readonly poll: number;
  readonly phase: number;
  readonly lost: number;
  readonly kinds: string;
}

export const draw = (seed: number): Drawn => {
  const random = seeded(seed);
  const near = random() < 0.6;
  const truth: Truth = {
    level: near ? 0.79 + random() * 0.06 : 0.68 + random() * 0.26,
    delay: near ? 0.7 + random() * 0.6 : random() * 4,
    scan: [0.01, 0.02, 0.05, 0.1][Math.floor(random() * 4)]!,
    latched: random() > 0.1,
    ...(random() < 0.1 && {
      fault: (['run-not-wired', 'motor-runs-on'] as const)[Math.floor(random() * 2)]!,
    }),
  };
  const plans = [
    ['ramp', 'step'],
    ['ramp'],
    ['step'],
    ['ramp', 'ramp', 'step'],
    ['coast', 'step'],
    ['step', 'ramp'],
    ['coast'],
  ] as const;
  const kinds = plans[Math.floor(random() * plans.length)]!;
  const points: Points = [[0, 100]];
  let t = 8 + random() * 2;
  const presses: [number, number][] = [];
  for (const kind of kinds) {
    const made = excursion(random, kind, t);
    points.push(...made.points);
    presses.push([made.end + 3, made.end + 5]);
    t = made.end + 12;
  }
  // One reset and start serve after the first excursion; later ones find a machine that runs only where it was pressed.
  const first = presses[0]!;
  const stimulus: Stimulus = {
    speed: profile(...points),
    from: 0,
    to: t,
    reset: [first[0], first[0] + 0.5],
    start: [first[1], first[1] + 0.5],
  };
  const poll = [0.02, 0.05, 0.1, 0.25][Math.floor(random() * 4)]!;
  return {
    seed,
    truth,
    stimulus,
    poll,
    phase: random() * poll,
    lost: random() < 0.3 ? random() * 0.1 : 0,
    kinds: kinds.join('+'),
  };
};

const losing = (plant: Plant, drawn: Drawn): Plant => {
  const lost = (t: number): boolean => seeded(Math.round(t * 1000) ^ drawn.seed)() < drawn.lost;
  return Object.fromEntries(
    Object.entries(plant).map(([name, of]) => [name, (t: number) => (lost(t) ? undefined : of(t))]),
  );
};

/** 'false-pass', 'false-fail', or the outcome where truth allows it. */
export const judgeDrawn = (drawn: Drawn): { readonly outcome: string; readonly detail: string } => {
  const { truth, stimulus, poll, phase } = drawn;
  const rows = sample(losing(runController(truth, stimulus), drawn), {
    from: 0.5,
    to: stimulus.to - 1,
    every: poll,
    phase,
    age: truth.scan,
  });
  const verdict = judged(bookOf([underspeed()], { age: truth.scan * 1e6 }), rows, { method: 'injected' })
    .windows[0];
  const outcome = verdict?.outcome ?? 'none';
  const inBand = truth.level >= 0.805 && truth.level <= 0.835;
  const sound = truth.latched && truth.fault === undefined;
  // What can be seen of the delay lies between the timer's time and two scans more.
  const mayPass = sound && inBand && truth.delay <= 1.2 && truth.delay + 2 * truth.scan >= 0.8;
  const mustNotFail = sound && inBand && truth.delay >= 0.8 && truth.delay + 2 * truth.scan <= 1.2;
  const detail = JSON.stringify({
    seed: drawn.seed,
    truth,
    kinds: drawn.kinds,
    poll,
    lost: drawn.lost,
    reasons: verdict?.reasons.slice(0, 4),
  });
  if (outcome === 'pass' && !mayPass) return { outcome: 'false-pass', detail };
  if (outcome === 'fail' && mustNotFail) return { outcome: 'false-fail', detail };
  return { outcome: mustNotFail ? `good:${outcome}` : `bad:${outcome}`, detail };
};

/** Counts of outcomes over `count` plants, and the false ones in full. */
export const campaign = (
  seed: number,
  count: number,
): { readonly counts: Record<string, number>; readonly wrong: string[] } => {
  const counts: Record<string, number> = {};
  const wrong: string[] = [];
  for (let index = 0; index < count; index += 1) {
    const { outcome, detail } = judgeDrawn(draw(seed * 1_000_003 + index));
    counts[outcome] = (counts[outcome] ?? 0) + 1;
    if (outcome.startsWith('false')) wrong.push(`${outcome} ${detail}`);
  }
  return { counts, wrong };
};
