/** Holds the judge's verdict on a drawn plant against the truth and, where asked, against the reference. */
import { type Finding, type Method, start, step, type WindowVerdict } from '../../src/judge/index.ts';
import { columnsOf, instant, type Reading } from '../../src/measure/index.ts';
import { bookOf } from './books.ts';
import { askedOf, episodesOf } from './episodes.ts';
import { type Drawn, draw } from './plants.ts';
import { at, idOf, poll } from './polling.ts';
import { seeded } from './random.ts';
import { type Answer, type Cell, refer, survivors } from './reference.ts';
import { type Truth, trueLevel, truthOf } from './truth.ts';

/** What can be wrong with a verdict. */
export const WRONGS = [
  'false-pass',
  'false-fail',
  'unsupported-pass',
  'unsupported-fail',
  'needless',
] as const;
export type Wrong = (typeof WRONGS)[number];

export interface Compared {
  readonly seed: number;
  readonly plan: string;
  readonly truth: Truth;
  readonly outcome: WindowVerdict['outcome'];
  readonly disturbed: boolean;
  /** Absent where it was not asked. */
  readonly reference?: Answer['outcome'];
  readonly wrong?: Wrong;
  /** Codes of the reasons, in order. */
  readonly codes: readonly string[];
  /** One line: what the judge said, what the reference leaves. */
  readonly detail: string;
}

export const METHODS: Readonly<Record<Drawn['design']['kind'], Method>> = {
  speed: 'injected',
  temperature: 'heated',
  contact: 'displaced',
};

/** What the judge says while a window is open over all readings. */
export const findingsOf = (drawn: Drawn, rows: readonly Reading[]): Finding[] => {
  const state = start(bookOf(drawn));
  const method = METHODS[drawn.design.kind];
  const findings: Finding[] = [];
  const take = (input: Parameters<typeof step>[1]): void => {
    findings.push(...step(state, input));
  };
  const opened = instant((rows[0]?.at.earliest ?? 0) - 1);
  take({
    mark: { code: 'window-opened', at: opened, window: 'w', stimuli: [{ interlock: 0 as never, method }] },
  });
  take({ readings: columnsOf(rows) });
  take({ mark: { code: 'window-closed', at: instant((rows.at(-1)?.at.latest ?? 0) + 1) } });
  return findings;
};

export const judgeOf = (drawn: Drawn, rows: readonly Reading[]): WindowVerdict => {
  const found = findingsOf(drawn, rows).find((one) => one.kind === 'window');
  if (found === undefined) throw new Error(`no window verdict for seed ${drawn.seed}`);
  return found.verdict;
};

export const referenceOf = (drawn: Drawn, rows: readonly Reading[]): Answer =>
  refer(episodesOf(drawn, rows), askedOf(drawn));

/** Does what survives still hold the controller as it was made? A reference that loses the truth is wrong itself. */
export const keepsTruth = (drawn: Drawn, rows: readonly Reading[]): boolean => {
  const { made, design } = drawn;
  const asked = askedOf(drawn);
  const episodes = episodesOf(drawn, rows);
  if (episodes.length === 0 || (design.delay === undefined && (made.raw || made.delay > 0))) return true;
  const level = trueLevel(drawn);
  const turnedLevel = design.side === 'below' ? level : { low: -level.high, high: -level.low };
  const holds = (cell: Cell): boolean =>
    (asked.contact || (cell.low <= turnedLevel.high + 1e-6 && cell.high >= turnedLevel.low - 1e-6)) &&
    (design.delay === undefined ||
      (cell.from <= made.delay + 2 * made.scan + 1 && cell.to >= made.delay - 1e-6));
  return survivors(episodes, asked).some(holds);
};

/** The share of decided verdicts that the reference is asked about too. */
const SAMPLED = 0.02;

/** The interlock never acted, or nobody could have told it from a hand on the stop: nothing can be proved. */
const hopeless = ({ made, design }: Drawn, rows: readonly Reading[]): boolean =>
  (!design.shows.tripped && !design.shows.stop) ||
  made.fault === 'bypass-on' ||
  (made.fault === 'hand-stop' && !rows.some((row) => row.signal === idOf('tripped') && row.value?.low === 1));

const wrongOf = (
  drawn: Drawn,
  rows: readonly Reading[],
  truth: Truth,
  outcome: Compared['outcome'],
  reference?: Answer,
): Wrong | undefined => {
  if (outcome === 'pass' && truth === 'bad') return 'false-pass';
  if (outcome === 'fail' && truth === 'good') return 'false-fail';
  if (outcome === 'pass' && hopeless(drawn, rows)) return 'unsupported-pass';
  if (reference === undefined || drawn.disturbed) return undefined;
  if (outcome === 'pass') return reference.outcome === 'pass' ? undefined : 'unsupported-pass';
  // Where a hand may have acted, the reference does not use what did not come in time; the judge may.
  if (outcome === 'fail')
    return reference.outcome === 'fail' || hopeless(drawn, rows) ? undefined : 'unsupported-fail';
  return reference.outcome === 'undecidable' ? undefined : 'needless';
};

const shown = (bounds: { low: number; high: number } | undefined): string =>
  bounds === undefined ? '–' : `[${bounds.low.toFixed(3)}, ${bounds.high.toFixed(3)}]`;

const detailOf = (drawn: Drawn, truth: Truth, verdict: WindowVerdict, reference?: Answer): string => {
  const { made, design, polling } = drawn;
  const reasons = (['fail', 'inconclusive', 'not-tested'] as const).flatMap((outcome) =>
    verdict.aspects
      .filter((one) => one.outcome === outcome)
      .map((one) => `${one.name}=${outcome}(${one.reason.code})`),
  );
  const marks = [
    made.fault,
    made.latched ? undefined : 'not latched',
    made.filter > 0 ? `filter ${made.filter.toFixed(2)}${made.raw ? ' behind the tag' : ''}` : undefined,
    made.sensing.by === 'analogue' ? undefined : JSON.stringify(made.sensing),
    design.delay?.onReturn,
    design.shows.tripped ? undefined : `no trip bit${design.shows.stop ? '' : ', no stop button'} shown`,
    polling.consistent ? 'consistent' : undefined,
    polling.cached > 0 ? `cached ${polling.cached.toFixed(2)}` : undefined,
    polling.lost > 0 ? `lost ${polling.lost.toFixed(2)}` : undefined,
    polling.silence && `silent ${polling.silence.map((t) => t.toFixed(1)).join('–')}`,
  ].filter((one) => one !== undefined);
  const { setPoint, delay, limit, effects, latches } = reference ?? {};
  return [
    `${drawn.plan} truth ${truth}: level ${made.level.toFixed(3)} (asked ${design.setPoint.toFixed(2)} ± ${design.tolerance.toFixed(2)})`,
    `delay ${made.delay.toFixed(3)}`,
    `scan ${made.scan}, poll ${polling.every}, step ${polling.resolution}`,
    marks.join(', '),
    `judge ${verdict.outcome}: ${reasons.slice(0, 5).join(' ')}`,
    `trip ${shown(verdict.tripPoint)} delay ${shown(verdict.delay)}`,
    ...(reference
      ? [
          `reference ${reference.outcome}: level ${shown(reference.level)} ${setPoint} delay ${shown(reference.delays)} ${delay} limit ${limit} effects ${effects?.join()} latches ${latches?.join()}`,
        ]
      : []),
  ].join('; ');
};

/** Judges the plant of a seed. `always`: asks the reference whatever the judge said. */
export const compare = (seed: number, always = false): Compared => {
  const drawn = draw(seed);
  const rows = poll(drawn);
  const verdict = judgeOf(drawn, rows);
  const { outcome } = verdict;
  const truth = truthOf(drawn);
  const decided = outcome === 'pass' || outcome === 'fail';
  const asks = always || !decided || seeded(seed ^ 0x165667b1).chance(SAMPLED);
  const reference = asks && !drawn.disturbed ? referenceOf(drawn, rows) : undefined;
  const wrong = wrongOf(drawn, rows, truth, outcome, reference);
  return {
    seed,
    plan: drawn.plan,
    truth,
    outcome,
    disturbed: drawn.disturbed,
    ...(reference && { reference: reference.outcome }),
    ...(wrong && { wrong }),
    codes: verdict.reasons.map((reason) => reason.code),
    detail: detailOf(drawn, truth, verdict, reference),
  };
};

/** The judge's trials of one plant, a line each: what was seen of it and what did not pass. */
export const trialsOf = (seed: number): string[] => {
  const drawn = draw(seed);
  return judgeOf(drawn, poll(drawn)).trials.map((trial) => {
    const open = trial.aspects.filter((one) => one.outcome !== 'pass');
    const reasons = open.map((one) => `${one.name}=${one.outcome}(${one.reason.code})`);
    const from = (trial.span.earliest - at(0)) / 1_000_000;
    return `trial ${trial.trial} from ${from.toFixed(2)} s, ${trial.standing}: ${trial.outcome}; trip ${shown(trial.tripPoint)} delay ${shown(trial.delay)} ${reasons.join(' ')}`;
  });
};
