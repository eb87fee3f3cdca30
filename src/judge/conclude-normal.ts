import { atMost, divide, lessThan } from '../measure/index.ts';
import { aspect } from './aspect.ts';
import type { Trial } from './trial.ts';
import type { Aspect } from './types.ts';

/** Agreement of the controller's normal with the nameplate. */
export const normalAspect = (trial: Trial, allowance: number | undefined): Aspect[] => {
  const { normal, nameplate } = trial.references;
  const { cause } = trial.interlock;
  if (cause.kind !== 'level' || cause.setPoint.of !== 'normal' || normal === undefined) return [];
  if (nameplate === undefined) return [aspect('normal', 'pass', 'no-nameplate', { basis: '' })];
  const share = divide(normal, nameplate);
  const limit = allowance ?? 0.05;
  const params = { normal, nameplate, allowance: limit * 100 };
  if (share === undefined) return [aspect('normal', 'inconclusive', 'normal-undecided', params)];
  if (atMost(1 - limit, share.low) && atMost(share.high, 1 + limit))
    return [aspect('normal', 'pass', 'normal-agrees', params)];
  const off = lessThan(share.high, 1 - limit) || lessThan(1 + limit, share.low);
  return off
    ? [aspect('normal', 'fail', 'normal-disagrees', params)]
    : [aspect('normal', 'inconclusive', 'normal-undecided', params)];
};
