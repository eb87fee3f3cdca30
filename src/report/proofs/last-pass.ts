import { formatUtc } from '../../measure/index.ts';
import type { LastPass } from '../types.ts';
import type { History, WindowPast } from './history-types.ts';

const isPass = (one: WindowPast, name: string): boolean =>
  one.standing === 'closed' &&
  one.interlocks.some((past) => past.name === name && !past.demand && past.verdict.outcome === 'pass');

/**
 * When each interlock of a window that failed last passed before it: in a test that somebody made, from end to end. Null
 * where the log has no such pass.
 */
export const lastPassOf = ({ windows }: History, id: string): Readonly<Record<string, LastPass | null>> => {
  const at = windows.findIndex((one) => one.id === id);
  const failed = (windows[at]?.interlocks ?? []).filter(
    ({ verdict }) => verdict.outcome === 'fail' || verdict.asFound === 'fail',
  );
  return Object.fromEntries(
    failed.map(({ name }): [string, LastPass | null] => {
      const last = windows.slice(0, at).findLast((one) => isPass(one, name));
      if (last === undefined) return [name, null];
      const proved = last.interlocks.find((past) => past.name === name)?.verdict.proved ?? [];
      return [name, { utc: formatUtc(last.closed ?? last.opened), window: last.id, proved }];
    }),
  );
};
