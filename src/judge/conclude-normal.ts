import { atMost, divide, lessThan } from '../measure/index.ts';
import { aspect } from './aspect.ts';
import type { Trial } from './trial.ts';
import type { Aspect } from './types.ts';

/** Where the site says nothing. Common practice, no source. */
const ALLOWANCE = 0.05;

/** A normal moves by no more than this between two tests. Common practice, no source. */
const MOVES = 0.03;

/** Whether normal is still what it was when the interlock last passed: it may have been learned anew on a slipping belt. */
const earlierAspect = ({ earlier, references: { normal } }: Trial): Aspect[] => {
  if (earlier === undefined || normal === undefined) return [];
  const share = divide(normal, earlier.value);
  const params = { normal, earlier: earlier.value, window: earlier.window, allowance: MOVES * 100 };
  const moved = share === undefined || lessThan(share.high, 1 - MOVES) || lessThan(1 + MOVES, share.low);
  return [
    moved
      ? aspect('normal:earlier', 'inconclusive', 'normal-moved', params)
      : aspect('normal:earlier', 'pass', 'normal-as-before', params),
  ];
};

/** Whether the machine runs as fast as its drive says: on a slipping belt it does not. */
const againstAspects = ({ against, references: { normal } }: Trial, limit: number): Aspect[] =>
  against.map(({ signal, value }) => {
    const name = `normal:${signal}`;
    const share = normal && value && divide(normal, value);
    if (normal === undefined || value === undefined || share === undefined)
      return aspect(name, 'inconclusive', 'normal-without-reference', { signal });
    const params = { normal, signal, reference: value, allowance: limit * 100 };
    if (atMost(1 - limit, share.low) && atMost(share.high, 1 + limit))
      return aspect(name, 'pass', 'normal-agrees-with', params);
    return lessThan(share.high, 1 - limit) || lessThan(1 + limit, share.low)
      ? aspect(name, 'fail', 'normal-differs-from', params)
      : aspect(name, 'inconclusive', 'normal-unsure-against', params);
  });

/** Agreement of the controller's normal with the nameplate, with the drive, and with what it was before. */
export const normalAspects = (trial: Trial, allowance: number | undefined): Aspect[] => {
  const { cause } = trial.interlock;
  if (cause.kind !== 'level' || cause.setPoint.of !== 'normal') return [];
  const limit = allowance ?? ALLOWANCE;
  return [...plateAspect(trial, limit), ...againstAspects(trial, limit), ...earlierAspect(trial)];
};

const plateAspect = (trial: Trial, limit: number): Aspect[] => {
  const { normal, nameplate } = trial.references;
  if (normal === undefined) return [];
  if (nameplate === undefined) return [aspect('normal', 'pass', 'no-nameplate', { basis: '' })];
  const share = divide(normal, nameplate);
  const params = { normal, nameplate, allowance: limit * 100 };
  if (share === undefined) return [aspect('normal', 'inconclusive', 'normal-undecided', params)];
  if (atMost(1 - limit, share.low) && atMost(share.high, 1 + limit))
    return [aspect('normal', 'pass', 'normal-agrees', params)];
  const off = lessThan(share.high, 1 - limit) || lessThan(1 + limit, share.low);
  return off
    ? [aspect('normal', 'fail', 'normal-disagrees', params)]
    : [aspect('normal', 'inconclusive', 'normal-undecided', params)];
};
