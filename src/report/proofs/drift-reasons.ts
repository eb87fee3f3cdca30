import type { Interval, Reason } from '../../measure/index.ts';
import type { Interlock } from '../../rulebook/index.ts';
import { bandsOf, isShare, referencesOf } from '../levels.ts';
import { type Drift, driftOf, pointsOf, tooConstant } from './drift.ts';
import type { Known } from './proofs.ts';

/** Set point ± tolerance in percent of normal. */
const shareOf = ({ cause }: Interlock): Interval | undefined =>
  cause.kind === 'level'
    ? {
        low: 100 * (cause.setPoint.factor - cause.tolerance.factor),
        high: 100 * (cause.setPoint.factor + cause.tolerance.factor),
      }
    : undefined;

/** Told only where the slope is certainly not 0: everything drifts within its doubt. */
const told = (code: 'drift-trip' | 'drift-response', unit: string, drift: Drift | undefined): Reason[] => {
  if (drift === undefined || (drift.slope.low <= 0 && drift.slope.high >= 0)) return [];
  const { slope, earliest, latest } = drift;
  return [
    {
      code,
      params: {
        slope,
        unit,
        ...(earliest !== undefined && { earliest }),
        ...(latest !== undefined && { latest }),
      },
    },
  ];
};

const tripDrift = ({ book, evidence }: Known, interlock: Interlock): Reason[] => {
  const own = evidence.get(interlock.name) ?? [];
  if (isShare(interlock)) {
    const allowed = shareOf(interlock);
    return allowed ? told('drift-trip', '%', driftOf(pointsOf(own, 'tripPercent'), allowed)) : [];
  }
  const references = referencesOf(book.machines[interlock.machine], interlock.cause.signal);
  const { allowed } = bandsOf(interlock, references);
  const unit = book.signals[interlock.cause.signal]?.unit ?? '';
  return allowed ? told('drift-trip', unit, driftOf(pointsOf(own, 'tripPoint'), allowed)) : [];
};

/** The first effect answers for the response; how late it may come is said of it. */
const responseDrift = ({ evidence }: Known, interlock: Interlock): Reason[] => {
  const own = evidence.get(interlock.name) ?? [];
  const within = interlock.effects[0].within / 1e6;
  const allowed = { low: Number.NEGATIVE_INFINITY, high: within };
  return told('drift-response', 's', driftOf(pointsOf(own, 'response'), allowed));
};

/** What the years say: a drift that is certain, with the dates at which the tolerance is left, and what is too alike. */
export const driftReasons = (known: Known, interlock: Interlock): readonly Reason[] => {
  const constant = tooConstant(known.evidence.get(interlock.name) ?? []);
  return [
    ...tripDrift(known, interlock),
    ...responseDrift(known, interlock),
    ...(constant ? [constant] : []),
  ];
};
