/**
 * Random interlocks, the controllers that are to bring them about, and the tests that people make of them.
 * Times in seconds, values in the unit of the signal.
 */
import { type Random, seeded } from './random.ts';

/** What the rulebook asks for. */
export interface Design {
  readonly kind: 'speed' | 'temperature' | 'contact';
  readonly side: 'below' | 'above';
  /** Value at rest; for a speed the normal that percentages refer to, known ± `normalDoubt`. */
  readonly normal: number;
  readonly normalDoubt: number;
  readonly setPoint: number;
  readonly tolerance: number;
  readonly clears: number;
  readonly limit?: number;
  readonly delay?: {
    readonly time: number;
    readonly tolerance: number;
    readonly onReturn: 'resets' | 'accumulates';
  };
  readonly within: { readonly run: number; readonly tripped: number; readonly running: number };
  /** What the controller shows beside: a trip bit (then an effect too), and the stop button. */
  readonly shows: { readonly tripped: boolean; readonly stop: boolean };
}

type Asked = Omit<Design, 'shows'>;

export type Fault =
  | 'dead'
  | 'run-not-wired'
  | 'no-trip-bit'
  | 'motor-runs-on'
  | 'auto-restart'
  | 'hand-stop'
  | 'bypass-on'
  | 'other-first';

/** How the controller gets its value: as it is, by the time between pulses, by pulses counted in a gate. */
export type Sensing =
  | { readonly by: 'analogue' }
  | { readonly by: 'period'; readonly targets: number; readonly own: boolean }
  | { readonly by: 'count'; readonly targets: number; readonly gate: number };

/** What the controller really does. */
export interface Made {
  /** It acts beyond this value … */
  readonly level: number;
  /** … once that has lasted this long. Some take their time though the rule knows of no delay. */
  readonly delay: number;
  readonly scan: number;
  /** First-order input filter; the tag shows what comes out of it, or what goes into it (`raw`). */
  readonly filter: number;
  readonly raw: boolean;
  /** Constant error of the sensor, its change over the window, and noise (±). */
  readonly offset: number;
  readonly drift: number;
  readonly noise: number;
  readonly sensing: Sensing;
  readonly latched: boolean;
  /** From command to feedback. */
  readonly contactor: number;
  readonly fault?: Fault;
}

export interface Polling {
  readonly every: number;
  readonly phase: number;
  readonly jitter: number;
  /** From question to answer. */
  readonly answer: number;
  /** A gateway answers with what it last asked for, up to this old. */
  readonly cached: number;
  readonly lost: number;
  /** A span in which nothing answers. */
  readonly silence?: readonly [number, number];
  readonly resolution: number;
  /** Declared accuracy of the sensor. */
  readonly accuracy: number;
  /** One answer is one instant of the controller; else measured values and states are asked one after the other. */
  readonly consistent: boolean;
}

export type Excursion = 'ramp' | 'step' | 'into-band' | 'coast' | 'holds' | 'bounce';

/** One excursion: the cause leaves at `from` and is back at `back`; then reset and start are pressed. */
export interface Episode {
  readonly kind: Excursion;
  readonly from: number;
  readonly back: number;
  readonly reset: readonly [number, number];
  readonly start: readonly [number, number];
}

export interface Stimulus {
  /** (second, share of the way from normal to set point); straight between. */
  readonly points: readonly (readonly [number, number])[];
  readonly episodes: readonly Episode[];
  readonly end: number;
  /** Largest rate of a ramp, in the unit of the signal per second; and of a machine that coasts down. */
  readonly rate: number;
  readonly coasting: number;
  readonly stops: readonly (readonly [number, number])[];
  readonly bypass?: readonly [number, number];
  /** Another interlock's contact, which stops the machine too. */
  readonly other?: readonly [number, number];
}

export interface Drawn {
  readonly seed: number;
  readonly design: Design;
  readonly made: Made;
  readonly polling: Polling;
  readonly stimulus: Stimulus;
  /** Kinds of excursions, joined; what the summary counts by. */
  readonly plan: string;
  /** Somebody or something else had a hand in it: no verdict can be asked of a judge. */
  readonly disturbed: boolean;
}

const EPSILON = 1e-4;
/** Baseline, arming and pauses between excursions. */
const PAUSE = 12;
/** Shortest excursion and shortest return of a cause that bounces: some polls of 0.1 s, even where one is lost. */
const SEEN = 0.4;

const drawDesign = (random: Random): Asked => {
  const kind = random.pick(['speed', 'speed', 'speed', 'speed', 'temperature', 'contact'] as const);
  const onReturn = random.chance(0.25) ? 'accumulates' : 'resets';
  const delays = [
    { time: 1, tolerance: 0.2, onReturn },
    { time: 1, tolerance: 0.2, onReturn },
    { time: 2, tolerance: 0.3, onReturn },
  ] as const;
  if (kind === 'speed') {
    const wide = random.chance(0.2);
    const delay = random.chance(0.85) ? random.pick(delays) : undefined;
    const normal = 96;
    const after = delay === undefined ? 0 : delay.time + delay.tolerance;
    return {
      kind,
      side: 'below',
      normal,
      normalDoubt: random.chance(0.2) ? 0.1 : 0,
      setPoint: 0.82 * normal,
      tolerance: (wide ? 0.03 : 0.015) * normal,
      clears: (wide ? 0.87 : 0.85) * normal,
      limit: 0.8 * normal,
      ...(delay && { delay }),
      within: { run: after + 0.3, tripped: after + 0.3, running: after + 0.8 },
    };
  }
  if (kind === 'temperature') {
    const delay = random.chance(0.2) ? random.pick(delays) : undefined;
    const after = delay === undefined ? 0 : delay.time + delay.tolerance;
    return {
      kind,
      side: 'above',
      normal: 60,
      normalDoubt: 0,
      setPoint: 80,
      tolerance: 1.5,
      clears: 77,
      ...(random.chance(0.3) && { limit: 81 }),
      ...(delay && { delay }),
      within: { run: after + 1, tripped: after + 1, running: after + 1.5 },
    };
  }
  const delay = random.chance(0.7) ? random.pick(delays) : undefined;
  const after = delay === undefined ? 0 : delay.time + delay.tolerance;
  return {
    kind,
    side: 'above',
    normal: 0,
    normalDoubt: 0,
    setPoint: 1,
    tolerance: 0,
    clears: 0,
    ...(delay && { delay }),
    within: { run: after + 0.5, tripped: after + 0.5, running: after + 1 },
  };
};

const drawSensing = (random: Random, design: Asked): Sensing => {
  if (design.kind !== 'speed' || random.chance(0.7)) return { by: 'analogue' };
  return random.chance(0.75)
    ? { by: 'period', targets: random.pick([4, 8, 16, 32]), own: random.chance(0.4) }
    : { by: 'count', targets: random.pick([120, 360]), gate: random.pick([0.5, 1]) };
};

/** Half of the plants lie where they ought to, or nearly; the others anywhere. */
const drawMade = (random: Random, design: Asked, polling: Polling): Made => {
  const near = random.chance(0.7);
  const away = design.side === 'below' ? -1 : 1;
  const level = near
    ? design.setPoint + random.between(-1.6, 1.6) * design.tolerance
    : design.normal + random.between(0.3, 1.6) * (design.setPoint - design.normal);
  const wanted = design.delay;
  const timed = random.chance(0.75)
    ? (wanted?.time ?? 0) + random.between(-1.5, 1.2) * (wanted?.tolerance ?? 0)
    : random.between(0, 2.5) * (wanted?.time ?? 0);
  const undeclared = random.chance(0.2) ? random.between(0, 0.8) * design.within.run : 0;
  const sensing = drawSensing(random, design);
  const plain = sensing.by === 'analogue' && design.kind !== 'contact';
  const filtered = plain && random.chance(0.25);
  const faulty = random.chance(0.22);
  return {
    level: design.kind === 'contact' ? 0.5 : level,
    delay: wanted === undefined ? undeclared : Math.max(0, timed),
    scan: random.pick([0.01, 0.02, 0.05, 0.1]),
    filter: filtered ? random.between(0.02, 0.15) : 0,
    raw: filtered && random.chance(0.2),
    offset: plain ? away * random.between(-0.4, 0.4) * polling.accuracy : 0,
    drift: plain && random.chance(0.3) ? random.between(-0.1, 0.1) * polling.accuracy : 0,
    noise: plain && random.chance(0.5) ? 0.25 * polling.accuracy : 0,
    sensing,
    latched: !random.chance(0.06),
    contactor: random.chance(0.9) ? random.between(0.05, 0.2) : random.between(0.2, 2.5),
    ...(faulty && {
      fault: random.pick([
        'dead',
        'run-not-wired',
        'no-trip-bit',
        'motor-runs-on',
        'auto-restart',
        'hand-stop',
        'bypass-on',
        'other-first',
      ] as const),
    }),
  };
};

const drawPolling = (random: Random, kind: Design['kind']): Polling => {
  const every = random.pick([0.05, 0.05, 0.1, 0.1, 0.1, 0.25, 0.5]);
  const steps = { speed: [0.01, 0.1, 0.1, 0.5, 1], temperature: [0.1, 0.1, 0.5], contact: [1] }[kind];
  const consistent = random.chance(0.4);
  return {
    every,
    phase: random.between(0, every),
    jitter: random.chance(0.5) ? random.between(0, 0.2) * every : 0,
    answer: random.chance(0.5) ? random.between(0.001, 0.02) : 0,
    cached: 0,
    lost: random.chance(0.3) ? random.between(0, 0.1) : 0,
    resolution: random.pick(steps),
    accuracy: kind === 'contact' || random.chance(0.5) ? 0 : random.between(0.05, 0.4),
    consistent,
  };
};

type Points = [number, number][];

const last = (points: Points): [number, number] => points.at(-1)!;

const hold = (points: Points, share: number, seconds: number): void => {
  const [t] = last(points);
  points.push([t + EPSILON, share], [t + EPSILON + seconds, share]);
};

/** Adds one excursion to the points; answers its rate in shares per second. */
const addExcursion = (random: Random, design: Asked, kind: Excursion, points: Points): number => {
  const delay = design.delay?.time ?? 0;
  const deep = random.between(1.3, 2.2);
  const stay = delay + random.between(2, 5);
  const span = Math.abs(design.setPoint - design.normal);
  const edge = design.tolerance / span;
  let rate = 0;
  if (design.kind === 'contact') {
    if (kind === 'bounce') {
      hold(points, 1, Math.max(SEEN, random.between(0.2, 0.7) * delay));
      hold(points, 0, random.between(SEEN, 0.9));
    }
    hold(points, 1, stay);
  } else if (kind === 'step') hold(points, deep, stay);
  else if (kind === 'into-band') hold(points, 1 + random.between(-0.9, 0.9) * edge, stay);
  else if (kind === 'bounce') {
    hold(points, deep, Math.max(SEEN, random.between(0.2, 0.7) * delay));
    hold(points, random.between(0, 0.6), random.between(SEEN, 0.9));
    hold(points, deep, stay);
  } else if (kind === 'holds') {
    hold(points, 1 - edge * random.between(1.15, 2), stay);
    hold(points, 1 + edge * random.between(1.15, 2), stay);
  } else {
    const speed = design.kind === 'speed' ? random.between(0.5, 3.5) / 18 : random.between(0.2, 1) / 20;
    rate = kind === 'coast' ? random.between(10, 30) / 18 : speed;
    const slow = design.kind === 'speed' ? 0.45 : 0.75;
    const head = kind === 'coast' ? 0 : slow;
    const [t] = last(points);
    const bottom = kind === 'coast' ? deep : Math.min(deep, 1.6);
    points.push([t + EPSILON, head], [t + EPSILON + (bottom - head) / rate, bottom]);
    hold(points, bottom, stay);
  }
  const [t] = last(points);
  if (random.chance(0.2)) points.push([t + random.between(0.5, 2), 0]);
  else hold(points, 0, 0);
  return rate;
};

const PLANS: readonly (readonly Excursion[])[] = [
  ['ramp', 'step'],
  ['ramp', 'step'],
  ['ramp'],
  ['step'],
  ['ramp', 'ramp'],
  ['ramp', 'ramp', 'step'],
  ['holds'],
  ['holds', 'step'],
  ['coast'],
  ['coast', 'step'],
  ['bounce', 'step'],
  ['bounce', 'ramp'],
  ['into-band'],
  ['into-band', 'step'],
];

const CONTACT_PLANS: readonly (readonly Excursion[])[] = [['step'], ['step', 'step'], ['bounce', 'step']];

const drawStimulus = (
  random: Random,
  design: Asked,
  kinds: readonly Excursion[],
  fault: Fault | undefined,
): Stimulus => {
  const points: Points = [[0, 0]];
  const episodes: Episode[] = [];
  const stops: [number, number][] = [];
  const rates = { ramp: 0, coast: 0 };
  let t = random.between(8, 10);
  for (const kind of kinds) {
    points.push([t, 0]);
    const rate = addExcursion(random, design, kind, points);
    if (kind === 'ramp' || kind === 'coast') rates[kind] = Math.max(rates[kind], rate);
    const back = last(points)[0];
    if (fault === 'hand-stop') {
      const when = t + random.between(0.2, 1) * (back - t);
      stops.push([when, when + 0.5]);
    }
    const wait = random.between(2.5, 4);
    episodes.push({
      kind,
      from: t,
      back,
      reset: [back + wait, back + wait + 0.6],
      start: [back + wait + 2, back + wait + 2.6],
    });
    t = back + PAUSE;
  }
  const first = episodes[0]!;
  const other = first.from + random.between(0, 0.9) * (first.back - first.from);
  return {
    points,
    episodes,
    end: t,
    rate: rates.ramp * Math.abs(design.setPoint - design.normal),
    coasting: rates.coast * Math.abs(design.setPoint - design.normal),
    stops,
    ...(fault === 'bypass-on' && { bypass: [0, t] as const }),
    ...(fault === 'other-first' && { other: [other, other + 2] as const }),
  };
};

/** The plant of a seed. */
export const draw = (seed: number): Drawn => {
  const random = seeded(seed);
  const design = drawDesign(random);
  const polling = drawPolling(random, design.kind);
  const made = drawMade(random, design, polling);
  // What comes and goes between two polls is not there for anybody.
  const seen = (kind: Excursion): Excursion => (kind === 'bounce' && polling.every > 0.1 ? 'step' : kind);
  const kinds = random.pick(design.kind === 'contact' ? CONTACT_PLANS : PLANS).map(seen);
  const stimulus = drawStimulus(random, design, kinds, made.fault);
  const first = stimulus.episodes[0]!;
  const silent = random.chance(0.05);
  const when = random.between(first.from, first.back);
  const cached = random.chance(0.1) ? random.between(0.05, 0.4) : 0;
  const tripped = !random.chance(0.15);
  const shows = { tripped, stop: tripped || random.chance(0.5) };
  return {
    seed,
    design: { ...design, shows },
    made,
    polling: {
      ...polling,
      cached,
      ...(silent && { silence: [when, when + random.between(0.5, 3)] as const }),
    },
    stimulus,
    plan: `${design.kind}:${kinds.join('+')}`,
    disturbed: made.fault === 'hand-stop' || made.fault === 'bypass-on' || made.fault === 'other-first',
  };
};
