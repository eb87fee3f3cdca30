import type { Aspect } from '../../judge/index.ts';
import type { Interval, Phrase } from '../../measure/index.ts';
import { type Level, levelAt, type References } from '../../rulebook/index.ts';
import { stepUnit } from '../../words/index.ts';
import { byEstimate } from '../decision-text.ts';
import type { Subject } from '../facts.ts';
import { referencesOf } from '../levels.ts';
import { part, sum } from '../phrases.ts';
import { estimated, intervalOf, known, numberOf, placed } from './figures.ts';

const referencesIn = ({ machine, interlock, report }: Subject): References =>
  referencesOf(machine, interlock.cause.signal, report.verdict.normal);

/** `80 % of nameplate 96 rpm = 76.8 rpm`, where the product is what the verdict used. */
const limitOf = (subject: Subject, level: Level, allowed: Interval): Phrase => {
  const { unit } = subject;
  const references = referencesIn(subject);
  const value = level.of === 'normal' ? references.normal : references.nameplate;
  if (level.of === 'absolute' || level.of === 'tag' || !known(value) || level.offset !== 0)
    return part('band-alone', { allowed, unit });
  return part(`band-of-${level.of}`, { percent: level.factor * 100, value, allowed, unit });
};

const SIDES = {
  'no-lower-than': ['no-lower-than', 'beyond-above'],
  'no-higher-than': ['no-higher-than', 'beyond-below'],
} as const;

const KEPT = {
  pass: 'limit-kept',
  fail: 'limit-broken',
  inconclusive: 'limit-open',
  'not-tested': 'limit-untested',
} as const;

export const limitLine = (subject: Subject, { outcome, reason }: Aspect): readonly Phrase[] => {
  const { interlock, unit } = subject;
  const { limit } = interlock;
  const bound = intervalOf(reason, 'limit');
  if (limit === undefined || bound === undefined) return [];
  const lower = limit.side === 'no-lower-than';
  const side = part(SIDES[limit.side][limit.inclusive ? 0 : 1]);
  const told = { basis: limit.basis, side, limit: limitOf(subject, limit.level, bound), unit };
  const idle = numberOf(reason, 'value');
  const seconds = numberOf(reason, 'seconds');
  if (idle !== undefined && seconds !== undefined)
    return [sum('sum-limit-idle', { ...told, value: idle, seconds })];
  const value = intervalOf(reason, 'trip');
  if (value === undefined) return [];
  const what = part(limit.judgedAt === 'effect' ? 'the-value-at-effect' : 'the-trip-level');
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
      sum('sum-limit-value', { ...told, what, value }),
      estimated(interlock, { what: 'the-spare', ...held }),
    ];
  }
  return [sum('sum-limit', { ...told, what, value, over, under, spare, place: part(KEPT[outcome]) })];
};

/** One that moved since the last pass is told only where it certainly did. */
const normalPlace = ({ outcome, reason: { code } }: Aspect, share: Interval, allowed: Interval): Phrase => {
  if (code === 'normal-moved') return part('wholly-outside');
  const place = placed(outcome, share, allowed);
  const isOpen = place.code === 'across-an-edge';
  return code === 'normal-as-before' && isOpen ? part('not-certainly-outside') : place;
};

/** Normal as a share of what it is held against. */
export const normalLine = ({ unit }: Subject, aspect: Aspect): readonly Phrase[] => {
  const { reason } = aspect;
  const { params } = reason;
  const normal = intervalOf(reason, 'normal');
  const allowance = numberOf(reason, 'allowance');
  const [what, reference] = (
    [
      [part('the-nameplate'), intervalOf(reason, 'nameplate')],
      [String(params['signal']), intervalOf(reason, 'reference')],
      [part('the-normal-in', { window: String(params['window']) }), intervalOf(reason, 'earlier')],
    ] as const
  ).find(([, value]) => value !== undefined) ?? ['', undefined];
  if (normal === undefined || reference === undefined || allowance === undefined || reference.low <= 0)
    return [];
  const share = { low: (normal.low / reference.high) * 100, high: (normal.high / reference.low) * 100 };
  const place = normalPlace(aspect, share, { low: 100 - allowance, high: 100 + allowance });
  return [sum('sum-normal', { normal, what, reference, share, allowance, place, unit })];
};

export const repeatLine = ({ unit }: Subject, { outcome, reason }: Aspect): readonly Phrase[] => {
  const [trials, wanted] = [numberOf(reason, 'trials'), numberOf(reason, 'wanted')];
  const [apart, allowed] = [intervalOf(reason, 'apart'), intervalOf(reason, 'allowed')];
  if (trials === undefined || wanted === undefined) return [];
  if (apart === undefined || allowed === undefined) return [sum('sum-repeat-few', { trials, wanted })];
  const place = placed(outcome, apart, allowed);
  return [sum('sum-repeat', { trials, wanted, apart, allowed: allowed.high, place, unit })];
};

export const observedLine = (subject: Subject, { outcome, reason }: Aspect): readonly Phrase[] => {
  const { interlock, unit } = subject;
  const [observed, trip, apart] = ['observed', 'trip', 'apart'].map((name) => intervalOf(reason, name));
  if (interlock.cause.kind !== 'level' || !known(observed) || !known(trip) || !known(apart)) return [];
  const tolerance = levelAt(interlock.cause.tolerance, referencesIn(subject))?.low;
  if (tolerance === undefined) return [];
  const told = { observed, trip, unit };
  const allowed = { low: -tolerance, high: tolerance };
  if (byEstimate(interlock)) {
    const held = { measured: apart, allowed, unit: stepUnit(unit), outcome };
    return [sum('sum-observed-values', told), estimated(interlock, { what: 'the-difference', ...held })];
  }
  const place = placed(outcome, apart, allowed);
  return [sum('sum-observed', { ...told, apart, tolerance, place })];
};
