import type { Effect } from '../../rulebook/index.ts';
import { formatNumber } from '../../words/index.ts';

/** A mark in a cell of a cause-and-effect sheet; times in seconds, absent where the cell tells none. */
export interface MarkRead {
  readonly least?: number;
  readonly most?: number;
  /** What is there must stay as it is. */
  readonly stays: boolean;
}

const SECONDS: Readonly<Record<string, number>> = { ms: 0.001, s: 1, min: 60 };

/** Whole µs: `0.1 × 3` is told apart from `0.3` by nobody. */
const rounded = (seconds: number): number => Math.round(seconds * 1e6) / 1e6;

/** `X ≤ 1.5 s`, `X 0.5 … 1.5 s`, and `stays` for an effect that must not come. */
export const markText = ({ becomes, within, notBefore }: Effect): string => {
  const most = `${formatNumber(within / 1e6)} s`;
  const time = notBefore > 0 ? `${formatNumber(notBefore / 1e6)} … ${most}` : `≤ ${most}`;
  return `${becomes.kind === 'stays' ? 'stays' : 'X'} ${time}`;
};

const MARK =
  /^(?:(x|✓|✔|●|•|yes|stays)\s*)?(?:(?:≤|<=)?\s*(?:(\d+(?:[.,]\d+)?)\s*(?:…|\.\.\.|-|–|to)\s*)?(\d+(?:[.,]\d+)?)\s*(ms|s|sec|min)?)?$/i;

const numberOf = (text: string | undefined): number | undefined =>
  text === undefined ? undefined : Number(text.replace(',', '.'));

/**
 * What a cell says: `undefined` where it is blank or says no (`-`, `no`), `'unreadable'` where it is neither that nor a
 * mark with or without a time. A bare number is a time in seconds; `1,5` is `1.5`.
 */
export const readMark = (cell: string | number | boolean | null): MarkRead | undefined | 'unreadable' => {
  if (cell === null || cell === false) return undefined;
  if (cell === true) return { stays: false };
  if (typeof cell === 'number')
    return Number.isFinite(cell) && cell >= 0 ? { most: rounded(cell), stays: false } : 'unreadable';
  const text = cell.trim();
  if (/^(?:-|–|no|0)?$/i.test(text)) return undefined;
  const found = MARK.exec(text);
  if (found === null) return 'unreadable';
  const [, word, low, high, unit = 's'] = found;
  const factor = SECONDS[unit.toLowerCase() === 'sec' ? 's' : unit.toLowerCase()] ?? 1;
  const [least, most] = [numberOf(low), numberOf(high)];
  return {
    ...(least !== undefined && { least: rounded(least * factor) }),
    ...(most !== undefined && { most: rounded(most * factor) }),
    stays: word?.toLowerCase() === 'stays',
  };
};
