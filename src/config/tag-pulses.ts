import { type Interval, MILLISECOND, type Micros, SECOND } from '../measure/index.ts';
import type { CountType, Decoding, Pulses } from '../signal/index.ts';
import { inUnit, micros } from './quantities.ts';
import { clash, says, type TagDesk, tellAlone, tellMissing } from './tag-use.ts';

/** Where a count begins again at 0. */
const ROLLOVERS: Readonly<Record<CountType, number>> = {
  uint16: 65_536,
  uint32: 4_294_967_296,
  bcd16: 10_000,
  bcd32: 100_000_000,
};

const countType = (desk: TagDesk): CountType | undefined => {
  const { type = 'uint16' } = desk.tag;
  if (Object.hasOwn(ROLLOVERS, type)) return type as CountType;
  desk.tell(desk.at.of('type'), 'pulse-type', { type });
  return undefined;
};

/** Belt between two pulses, in m: as it is said, or around the pulley by its targets. Slip is not in it. */
const beltPerPulse = (desk: TagDesk): number | undefined => {
  const { tag } = desk;
  if (clash(desk, 'length-per-pulse', 'pulley')) return undefined;
  const diameter = inUnit(tag.pulley, 'm');
  if (diameter === undefined) {
    if (!says(desk, 'pulley')) tellMissing(desk, 'length-per-pulse');
    return inUnit(tag['length-per-pulse'], 'm');
  }
  tellMissing(desk, 'targets-per-revolution');
  const targets = tag['targets-per-revolution'];
  return targets === undefined ? undefined : (Math.PI * diameter) / targets;
};

/** What one pulse a second is worth, in the unit of the tag; undefined where it cannot be said (and has been told). */
export const perPulse = (desk: TagDesk, unit: string): number | undefined => {
  const rate = inUnit('1 pulses/s', unit);
  if (rate !== undefined) return rate;
  const belt = inUnit('1 m/s', unit);
  if (belt !== undefined) {
    const length = beltPerPulse(desk);
    return length === undefined ? undefined : belt * length;
  }
  tellAlone(desk, ['pulley'], 'a speed of a belt');
  const targets = desk.tag['targets-per-revolution'];
  const turning = inUnit('1 rev/s', unit);
  if (turning === undefined) desk.tell(desk.at.of('unit'), 'pulses-no-speed', { unit });
  else tellMissing(desk, 'targets-per-revolution');
  return targets === undefined || turning === undefined ? undefined : turning / targets;
};

/** What goes with pulses only, and with which. */
export const pulseKeys = (desk: TagDesk): void => {
  const { pulses } = desk.tag;
  if (pulses !== 'count' && pulses !== 'gate-count') tellAlone(desk, ['gate'], 'pulses: count or gate-count');
  if (pulses !== 'count') tellAlone(desk, ['rollover'], 'pulses: count');
  if (pulses !== 'period') tellAlone(desk, ['tick'], 'pulses: period');
  if (pulses === undefined) tellAlone(desk, ['targets-per-revolution', 'length-per-pulse'], 'pulses');
};

/** Pulses as a count, a count of each gate, or a period; undefined where they cannot be read (and that was told). */
export const pulseDecoding = (desk: TagDesk, unit: string): Decoding | undefined => {
  const { tag } = desk;
  const type = countType(desk);
  const unitsPerPulsePerSecond = type === undefined ? undefined : perPulse(desk, unit);
  if (type === undefined || unitsPerPulsePerSecond === undefined) return undefined;
  const faults = (tag.faults ?? []).filter((raw) => raw !== undefined);
  const pulses: Pulses = {
    type,
    order: tag.order ?? 'ABCD',
    unitsPerPulsePerSecond,
    ...(faults.length > 0 && { faults }),
  };
  if (tag.pulses === 'period') {
    tellMissing(desk, 'tick');
    return { as: 'pulse-period', ...pulses, tick: micros(tag.tick, MILLISECOND) };
  }
  if (tag.pulses === 'gate-count') {
    tellMissing(desk, 'gate');
    return { as: 'pulse-gate', ...pulses, gate: micros(tag.gate, SECOND) };
  }
  const rollover = tag.rollover ?? ROLLOVERS[type];
  return { as: 'pulse-count', ...pulses, rollover, gate: micros(tag.gate, 2 * SECOND) };
};

/** Told where a counter could go round between two questions at the highest plausible speed: then nothing is counted. */
export const tellTooShort = (
  desk: TagDesk,
  decoding: Decoding | undefined,
  plausible: Interval | undefined,
  poll: Micros,
): void => {
  if (decoding?.as !== 'pulse-count' || plausible === undefined) return;
  const { rollover, unitsPerPulsePerSecond } = decoding;
  const most = Math.ceil((plausible.high / unitsPerPulsePerSecond) * (poll / SECOND)) + 2;
  if (most < rollover) return;
  const at = desk.at.of(says(desk, 'rollover') ? 'rollover' : 'pulses');
  desk.tell(at, 'rollover-too-short', { rollover, most, milliseconds: poll / MILLISECOND });
};
