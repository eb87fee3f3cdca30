import type { Aspect, EffectSeen } from '../../judge/index.ts';
import { type Instant, type Phrase, SECOND } from '../../measure/index.ts';
import type { Code } from '../../words/index.ts';
import type { Subject } from '../facts.ts';
import { part, sum } from '../phrases.ts';
import { intervalOf, known, numberOf, placed } from './figures.ts';

/** Between which seconds after the opening an effect changed. */
const changedIn = (opened: Instant, seen: EffectSeen | undefined): readonly [number, number] | undefined =>
  seen?.changed && [(seen.changed.earliest - opened) / SECOND, (seen.changed.latest - opened) / SECOND];

/** From the bounds of the change and of the response back to when the cause reached its set point. */
const responseLine = (opened: Instant, seen: EffectSeen | undefined): readonly Phrase[] => {
  const changed = changedIn(opened, seen);
  if (seen === undefined || changed === undefined || !known(seen.response)) return [];
  const { response } = seen;
  const [after, by] = changed;
  const told = { effect: seen.name, after, by, reachedAfter: by - response.high, response };
  return response.low <= 0
    ? [sum('sum-response-at-once', told)]
    : [sum('sum-response', { ...told, reachedBy: after - response.low })];
};

const timeLine = (subject: Subject, name: string, { outcome, reason }: Aspect): readonly Phrase[] => {
  const [within, notBefore] = [numberOf(reason, 'within'), numberOf(reason, 'notBefore') ?? 0];
  const response = intervalOf(reason, 'response');
  if (reason.code === 'effect-missing') {
    const deadline = numberOf(reason, 'deadline');
    return deadline === undefined ? [] : [sum('sum-effect-missing', { effect: name, deadline })];
  }
  if (within === undefined || response === undefined) return [];
  const declared = subject.interlock.effects.find((one) => one.name === name)?.notBefore ?? 0;
  const from = Math.max(notBefore, declared / SECOND);
  const allowed = { low: from, high: within };
  const asked = from > 0 ? part('between-seconds', { allowed }) : part('at-most-seconds', { within });
  const isRamp = reason.code === 'effect-time-reported';
  return [
    sum(isRamp ? 'sum-effect-time-ramp' : 'sum-effect-time', {
      effect: name,
      response,
      asked,
      place: placed(outcome, response, allowed),
    }),
  ];
};

/**
 * From when the cause was clear to when the effect was last seen held; nothing in verdicts from before these were kept, and
 * where the cause did not clear.
 */
const heldSum = (opened: Instant, reason: Aspect['reason'], dwell: number): { readonly seen?: Phrase } => {
  const [clear, held] = [numberOf(reason, 'clear'), numberOf(reason, 'held')];
  if (clear === undefined) return {};
  const at = (time: number): number => (time - opened) / SECOND;
  const asked = { clear: at(clear), dwell, until: at(clear + dwell * SECOND) };
  if (held === undefined) return { seen: part('clear-and-unseen', asked) };
  return { seen: part('clear-and-seen', { ...asked, held: at(held), behind: (held - clear) / SECOND }) };
};

const HELD: Readonly<Record<string, Code>> = {
  'held-until-reset': 'sum-held',
  'latch-not-tested': 'sum-held-not-seen',
  stayed: 'sum-stayed',
  'stay-not-seen': 'sum-stay-not-seen',
};

/** A latch, or what must stay: how long was asked for, and whether that was seen. */
const heldLine = (opened: Instant, effect: string, { reason }: Aspect): readonly Phrase[] => {
  const seconds = numberOf(reason, 'seconds');
  const wanted = numberOf(reason, 'wanted');
  if (seconds === undefined) return [];
  if (reason.code === 'not-held-long-enough' && wanted !== undefined)
    return [sum('sum-between', { effect, seconds, wanted })];
  const code = HELD[reason.code];
  return code === undefined
    ? []
    : [sum(code, { effect, dwell: seconds, ...heldSum(opened, reason, seconds) })];
};

/** Only where the changes that the verdict carries bear it out: they may be those of another trial. */
const orderLine = (opened: Instant, subject: Subject, { reason }: Aspect): readonly Phrase[] => {
  const { effects } = subject.report.verdict;
  const of = (key: string): readonly [number, number] | undefined =>
    changedIn(
      opened,
      effects.find(({ name }) => name === reason.params[key]),
    );
  const [later, before] = [of('effect'), of('after')];
  if (later === undefined || before === undefined) return [];
  const names = { effect: String(reason.params['effect']), after: String(reason.params['after']) };
  const kept = before[1] <= later[0];
  const broken = later[1] <= before[0];
  if (reason.code === 'order-kept' && kept)
    return [sum('sum-order-kept', { ...names, first: before[1], second: later[0] })];
  if (reason.code === 'order-broken' && broken)
    return [sum('sum-order-broken', { ...names, first: later[1], second: before[0] })];
  if (reason.code !== 'order-undecided' || kept || broken) return [];
  const [from, to] = later;
  const [afterFrom, afterTo] = before;
  return [sum('sum-order-open', { ...names, from, to, afterFrom, afterTo })];
};

const releaseLine = ({ unit }: Subject, name: string, { outcome, reason }: Aspect): readonly Phrase[] => {
  const [value, allowed] = [intervalOf(reason, 'value'), intervalOf(reason, 'allowed')];
  if (value === undefined || allowed === undefined) return [];
  return [sum('sum-release', { effect: name, value, allowed, unit, place: placed(outcome, value, allowed) })];
};

/** Response, order, latch and release of each effect, as far as the verdict has figures for them. */
export const effectLines = (opened: Instant, subject: Subject): readonly Phrase[] => {
  const { aspects, effects } = subject.report.verdict;
  return subject.interlock.effects.flatMap(({ name }) => {
    const seen = effects.find((one) => one.name === name);
    const own = (kind: string): readonly Aspect[] => aspects.filter((one) => one.name === `${kind}:${name}`);
    return [
      ...responseLine(opened, seen),
      ...own('effect').flatMap((one) => [...timeLine(subject, name, one), ...heldLine(opened, name, one)]),
      ...own('order').flatMap((one) => orderLine(opened, subject, one)),
      ...own('held').flatMap((one) => heldLine(opened, name, one)),
      ...own('release').flatMap((one) => releaseLine(subject, name, one)),
    ];
  });
};
