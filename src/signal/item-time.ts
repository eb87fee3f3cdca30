import { type Instant, type Span, spanOf } from '../measure/index.ts';
import { type ServerTime, samplingOf, whenSpoken, whenStamped } from './server-time.ts';
import type { Item, SignalDef } from './types.ts';

/** What is known of an item from what it told before; changed in place. */
export interface ItemPast {
  /** Of its last value; a later one is of no earlier instant. */
  earliest: number;
  latest: number;
  /** Latest instant of the last change that it told. */
  changed: number;
  /** It has told nothing since it was lost: the next word is of what is, not of a change. */
  lost: boolean;
}

/**
 * Sampled and told at the next publishing, which came at once. Where the server's clock is known its word says how long
 * it was on its way, and stands earlier.
 */
const promptly = (time: ServerTime, def: SignalDef, item: Item, received: Instant): Span => {
  const sampling = samplingOf(time, def.id);
  const spoken = item.serverTime && whenSpoken(time, item.serverTime, received);
  const sampled = Math.min(received - time.publishing, spoken?.low ?? received);
  return spanOf(sampled - sampling - def.age, received);
};

/**
 * The instant of a change: its source time, by the clock that it is of; else as told promptly. A source time that lies
 * behind its arrival, or farther before it than a prompt word would, shows that the clock was set, or the word late on
 * its way: then it may be either.
 */
const changedAt = (
  time: ServerTime,
  def: SignalDef,
  item: Item,
  received: Instant,
  past: ItemPast | undefined,
): Span => {
  // What comes first was so before anybody asked: when that began is of no use, and its clock may have been set since.
  const first = past === undefined || past.lost;
  const stamped = item.sourceTime && whenStamped(time, item.sourceTime, received);
  if (first || stamped === undefined) return promptly(time, def, item, received);
  const earliest = stamped.low - def.age;
  const latest = Math.min(stamped.high, received);
  const usual = received - time.publishing - samplingOf(time, def.id) - def.age;
  if (earliest <= received && latest >= usual) return spanOf(earliest, latest);
  return spanOf(Math.min(earliest, promptly(time, def, item, received).earliest), received);
};

/**
 * A repeated item was still so when the server spoke, less one sampling interval: no later, for a change may have been
 * on its way, and its own reading must not come before this one. Without a clock, the word may have been on its way for
 * one publishing interval.
 */
const stillAt = (time: ServerTime, def: SignalDef, item: Item, received: Instant): Span => {
  const sampling = samplingOf(time, def.id);
  const spoken = item.serverTime && whenSpoken(time, item.serverTime, received);
  const mayBe = spoken !== undefined && spoken.low <= received;
  const prompt = received - time.publishing;
  const low = mayBe ? spoken.low : prompt;
  const high = mayBe ? Math.min(spoken.high, received) : prompt;
  return spanOf(low - sampling - def.age, high - sampling);
};

/** When what an item tells was so: true at some instant of the span. */
export const spanOfItem = (
  time: ServerTime,
  def: SignalDef,
  item: Item,
  received: Instant,
  past: ItemPast | undefined,
): Span => {
  const at =
    item.unchanged === true ? stillAt(time, def, item, received) : changedAt(time, def, item, received, past);
  if (past === undefined || (past.earliest <= at.earliest && past.latest <= at.latest)) return at;
  // The clock becomes known better or worse between two words; their order stays.
  return spanOf(Math.max(at.earliest, past.earliest), Math.max(at.latest, past.latest));
};
