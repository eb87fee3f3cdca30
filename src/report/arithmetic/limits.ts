import type { Aspect } from '../../judge/index.ts';
import type { Interval } from '../../measure/index.ts';
import { type Level, levelAt, type References } from '../../rulebook/index.ts';
import { formatBand, formatInterval, formatNumber, formatSeconds } from '../../words/index.ts';
import { stepUnit } from '../cause-text.ts';
import { byEstimate } from '../decision-text.ts';
import type { Subject } from '../facts.ts';
import { referencesOf } from '../levels.ts';
import { ends, estimated, exact, intervalOf, known, numberOf, placed } from './figures.ts';

const referencesIn = ({ machine, interlock, report }: Subject): References =>
  referencesOf(machine, interlock.cause.signal, report.verdict.normal);

/** `80 % of nameplate 96 rpm = 76.8 rpm`, where the product is what the verdict used. */
const limitText = (subject: Subject, level: Level, value: Interval): string => {
  const shown = formatBand(value, subject.unit);
  const references = referencesIn(subject);
  const reference = level.of === 'normal' ? references.normal : references.nameplate;
  if (level.of === 'absolute' || level.of === 'tag' || !known(reference) || level.offset !== 0) return shown;
  return `${exact(level.factor * 100)} % of ${level.of} ${formatBand(reference, subject.unit)} = ${shown}`;
};

const SIDES = {
  'no-lower-than': ['no lower than', 'above'],
  'no-higher-than': ['no higher than', 'below'],
} as const;

const KEPT = {
  pass: 'kept',
  fail: 'broken',
  inconclusive: 'not decided',
  'not-tested': 'not tested',
} as const;

export const limitLine = (subject: Subject, { outcome, reason }: Aspect): string[] => {
  const { interlock, unit } = subject;
  const { limit } = interlock;
  const bound = intervalOf(reason, 'limit');
  if (limit === undefined || bound === undefined) return [];
  const lower = limit.side === 'no-lower-than';
  const side = SIDES[limit.side][limit.inclusive ? 0 : 1];
  const told = `Limit (${limit.basis}): ${side} ${limitText(subject, limit.level, bound)}`;
  const idle = numberOf(reason, 'value');
  const seconds = numberOf(reason, 'seconds');
  if (idle !== undefined && seconds !== undefined)
    return [
      `${told}. Held beyond ${exact(idle, unit)} for ${formatSeconds(seconds)} without action: broken.`,
    ];
  const value = intervalOf(reason, 'trip');
  if (value === undefined) return [];
  const what = limit.judgedAt === 'effect' ? 'value when the effect came' : 'trip level';
  const [over, under] = lower ? [value, bound] : [bound, value];
  const spare = { low: over.low - under.high, high: over.high - under.low };
  if (byEstimate(interlock)) {
    const allowed = { low: 0, high: Number.POSITIVE_INFINITY, open: !limit.inclusive };
    const held = {
      measured: spare,
      allowed,
      unit: stepUnit(unit),
      outcome,
      probability: numberOf(reason, 'probability'),
    };
    return [
      `${told}; ${what} ${formatInterval(value, unit)}.`,
      estimated(interlock, { what: 'Spare to the limit', ...held }),
    ];
  }
  const [[low, high], [least, most]] = [ends(over), ends(under)];
  return [
    `${told}; ${what} ${formatInterval(value, unit)}. To spare: ${low} − ${most} … ${high} − ${least} = ${formatInterval(spare, stepUnit(unit))}: ${KEPT[outcome]}.`,
  ];
};

/** One that moved since the last pass is told only where it certainly did. */
const normalWords = ({ outcome, reason: { code } }: Aspect, share: Interval, allowed: Interval): string => {
  if (code === 'normal-moved') return 'wholly outside';
  const words = placed(outcome, share, allowed);
  return code === 'normal-as-before' && !words.startsWith('wholly') ? 'not certainly outside' : words;
};

/** Normal as a share of what it is held against. */
export const normalLine = ({ unit }: Subject, aspect: Aspect): string[] => {
  const { reason } = aspect;
  const { params } = reason;
  const normal = intervalOf(reason, 'normal');
  const allowance = numberOf(reason, 'allowance');
  const [name, reference] = (
    [
      ['nameplate', intervalOf(reason, 'nameplate')],
      [String(params['signal']), intervalOf(reason, 'reference')],
      [`normal in ${String(params['window'])}`, intervalOf(reason, 'earlier')],
    ] as const
  ).find(([, value]) => value !== undefined) ?? ['', undefined];
  if (normal === undefined || reference === undefined || allowance === undefined || reference.low <= 0)
    return [];
  const share = { low: (normal.low / reference.high) * 100, high: (normal.high / reference.low) * 100 };
  const allowed = { low: 100 - allowance, high: 100 + allowance };
  const words = normalWords(aspect, share, allowed);
  return [
    `Normal ${formatInterval(normal, unit)} ÷ ${name} ${formatInterval(reference, unit)} = ${formatInterval(share, '%')}, against 100 ± ${formatNumber(allowance)} %: ${words}.`,
  ];
};

export const repeatLine = ({ unit }: Subject, { outcome, reason }: Aspect): string[] => {
  const [trials, wanted] = [numberOf(reason, 'trials'), numberOf(reason, 'wanted')];
  const [apart, allowed] = [intervalOf(reason, 'apart'), intervalOf(reason, 'allowed')];
  if (trials === undefined || wanted === undefined) return [];
  if (apart === undefined || allowed === undefined)
    return [`Trip points that can be compared: ${trials}, of ${wanted} asked for.`];
  const step = stepUnit(unit);
  return [
    `Trip points of ${trials} trials (${wanted} asked for) lie ${formatInterval(apart, step)} apart, against at most ${exact(allowed.high, step)}: ${placed(outcome, apart, allowed)}.`,
  ];
};

export const observedLine = (subject: Subject, { outcome, reason }: Aspect): string[] => {
  const { interlock, unit } = subject;
  const [observed, trip, apart] = ['observed', 'trip', 'apart'].map((name) => intervalOf(reason, name));
  if (interlock.cause.kind !== 'level' || !known(observed) || !known(trip) || !known(apart)) return [];
  const tolerance = levelAt(interlock.cause.tolerance, referencesIn(subject))?.low;
  if (tolerance === undefined) return [];
  const step = stepUnit(unit);
  const [[low, high], [least, most]] = [ends(observed), ends(trip)];
  const told = `Instrument ${formatInterval(observed, unit)}, controller ${formatInterval(trip, unit)}`;
  const allowed = { low: -tolerance, high: tolerance };
  if (byEstimate(interlock)) {
    const held = { measured: apart, allowed, unit: step, outcome };
    return [`${told}.`, estimated(interlock, { what: 'Difference of the two', ...held })];
  }
  return [
    `${told}: apart ${low} − ${most} … ${high} − ${least} = ${formatInterval(apart, step)}, against ± ${exact(tolerance, step)}: ${placed(outcome, apart, allowed)}.`,
  ];
};
