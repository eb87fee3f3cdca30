import type { Aspect, EffectSeen } from '../../judge/index.ts';
import { type Instant, SECOND } from '../../measure/index.ts';
import { formatBand, formatInterval, formatNumber, formatSeconds } from '../../words/index.ts';
import type { Subject } from '../facts.ts';
import { intervalOf, known, numberOf, placed } from './figures.ts';

/** Between which seconds after the opening an effect changed. */
const changedIn = (opened: Instant, seen: EffectSeen | undefined): readonly [number, number] | undefined =>
  seen?.changed && [(seen.changed.earliest - opened) / SECOND, (seen.changed.latest - opened) / SECOND];

/** From the bounds of the change and of the response back to when the cause reached its set point. */
const responseLine = (opened: Instant, seen: EffectSeen | undefined): string[] => {
  const changed = changedIn(opened, seen);
  if (seen === undefined || changed === undefined || !known(seen.response)) return [];
  const { low, high } = seen.response;
  const [after, by] = changed.map((t) => t.toFixed(3)) as [string, string];
  const reachedAfter = (changed[1] - high).toFixed(3);
  const result = `response ${formatInterval(seen.response, 's')}`;
  const told = `${seen.name} changed after ${after} s and by ${by} s; the cause reached its set point after ${reachedAfter} s`;
  if (low <= 0)
    return [`${told}, perhaps only with the change itself: 0 … ${by} − ${reachedAfter} = ${result}.`];
  const reachedBy = (changed[0] - low).toFixed(3);
  return [`${told} and by ${reachedBy} s: ${after} − ${reachedBy} … ${by} − ${reachedAfter} = ${result}.`];
};

const timeLine = (subject: Subject, name: string, { outcome, reason }: Aspect): string[] => {
  const [within, notBefore] = [numberOf(reason, 'within'), numberOf(reason, 'notBefore') ?? 0];
  const response = intervalOf(reason, 'response');
  if (reason.code === 'effect-missing') {
    const deadline = numberOf(reason, 'deadline');
    return deadline === undefined
      ? []
      : [`${name}: at most ${formatSeconds(deadline)}, and it had not come when that had certainly passed.`];
  }
  if (within === undefined || response === undefined) return [];
  const declared = subject.interlock.effects.find((one) => one.name === name)?.notBefore ?? 0;
  const from = Math.max(notBefore, declared / SECOND);
  const allowed = { low: from, high: within };
  const asked = from > 0 ? formatBand(allowed, 's') : `at most ${formatSeconds(within)}`;
  const ramp = reason.code === 'effect-time-reported' ? ', counted from the trip level itself' : '';
  return [
    `${name}: ${formatInterval(response, 's')}${ramp}, against ${asked}: ${placed(outcome, response, allowed)}.`,
  ];
};

/**
 * From when the cause was clear to when the effect was last seen held; '' in verdicts from before these were kept, and where
 * the cause did not clear.
 */
const heldSum = (opened: Instant, reason: Aspect['reason'], seconds: number): string => {
  const [clear, held] = [numberOf(reason, 'clear'), numberOf(reason, 'held')];
  if (clear === undefined) return '';
  const at = (time: number): string => ((time - opened) / SECOND).toFixed(3);
  const asked = `clear by ${at(clear)} s, to be seen held until ${at(clear)} + ${formatNumber(seconds)} = ${at(clear + seconds * SECOND)} s`;
  if (held === undefined) return `; ${asked}, and not seen held behind its clearing at all`;
  return `; ${asked}, seen held until ${at(held)} s, ${((held - clear) / SECOND).toFixed(3)} s behind its clearing`;
};

const HELD: Readonly<Record<string, (dwell: string) => string>> = {
  'held-until-reset': (dwell) =>
    `asked to stay for ${dwell} after the cause had cleared, without reset or start; it stayed for at least ${dwell}`,
  'latch-not-tested': (dwell) =>
    `asked to stay for ${dwell} after the cause had cleared, without reset or start; so long was not seen`,
  stayed: (dwell) => `asked to stay as it was for ${dwell}; seen unbroken for at least ${dwell}`,
  'stay-not-seen': (dwell) => `asked to stay as it was for ${dwell}; not seen unbroken for so long`,
};

/** A latch, or what must stay: how long was asked for, and whether that was seen. */
const heldLine = (opened: Instant, name: string, { reason }: Aspect): string[] => {
  const seconds = numberOf(reason, 'seconds');
  const wanted = numberOf(reason, 'wanted');
  if (seconds === undefined) return [];
  if (reason.code === 'not-held-long-enough' && wanted !== undefined)
    return [
      `${name}: the value was held between its two levels for ${formatSeconds(seconds)} at most, of ${formatSeconds(wanted)} asked for.`,
    ];
  const told = HELD[reason.code]?.(formatSeconds(seconds));
  return told === undefined ? [] : [`${name}: ${told}${heldSum(opened, reason, seconds)}.`];
};

/** Only where the changes that the verdict carries bear it out: they may be those of another trial. */
const orderLine = (opened: Instant, subject: Subject, { reason }: Aspect): string[] => {
  const { effects } = subject.report.verdict;
  const of = (key: string): readonly [number, number] | undefined =>
    changedIn(
      opened,
      effects.find(({ name }) => name === reason.params[key]),
    );
  const [later, before] = [of('effect'), of('after')];
  if (later === undefined || before === undefined) return [];
  const { effect, after } = reason.params;
  const kept = before[1] <= later[0];
  const broken = later[1] <= before[0];
  if (reason.code === 'order-kept' && kept)
    return [
      `${after} changed by ${before[1].toFixed(3)} s, ${effect} after ${later[0].toFixed(3)} s: in this order.`,
    ];
  if (reason.code === 'order-broken' && broken)
    return [
      `${effect} changed by ${later[1].toFixed(3)} s, ${after} after ${before[0].toFixed(3)} s: not in the order asked for.`,
    ];
  if (reason.code !== 'order-undecided' || kept || broken) return [];
  const span = ([from, to]: readonly [number, number]): string => `${from.toFixed(3)} … ${to.toFixed(3)} s`;
  return [`${effect} changed in ${span(later)}, ${after} in ${span(before)}: they overlap, not decided.`];
};

const releaseLine = ({ unit }: Subject, name: string, { outcome, reason }: Aspect): string[] => {
  const [value, allowed] = [intervalOf(reason, 'value'), intervalOf(reason, 'allowed')];
  if (value === undefined || allowed === undefined) return [];
  return [
    `${name} went away at ${formatInterval(value, unit)}, against ${formatBand(allowed, unit)}: ${placed(outcome, value, allowed)}.`,
  ];
};

/** Response, order, latch and release of each effect, as far as the verdict has figures for them. */
export const effectLines = (opened: Instant, subject: Subject): string[] => {
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
