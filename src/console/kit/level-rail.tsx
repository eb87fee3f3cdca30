import type { Interval } from '../../measure/index.ts';

interface LevelRailProps {
  /** What is read or was measured; undefined: nothing. */
  readonly value: Interval | undefined;
  /** Where it is to act, or what is allowed. */
  readonly allowed?: Interval | undefined;
  readonly normal?: Interval | undefined;
  readonly limit?: Interval | undefined;
  /** The same in words: each with a sample of how it is drawn. */
  readonly words: readonly { readonly kind: 'now' | 'allowed' | 'normal' | 'limit'; readonly text: string }[];
}

type Ends = readonly [low: number, high: number];

/** Bounds that JSON has no number for come as null. */
const ends = (interval: Interval | undefined): readonly number[] =>
  interval === undefined ? [] : [interval.low, interval.high].filter((one) => Number.isFinite(one));

/** What is drawn: the levels always, the value as far as it does not squeeze them to nothing. */
const rangeOf = ({ value, allowed, normal, limit }: LevelRailProps): Ends => {
  const levels = [...ends(allowed), ...ends(normal), ...ends(limit)];
  const all = levels.length === 0 ? ends(value) : levels;
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const span = high - low || Math.abs(high) || 1;
  const far = ends(value).map((one) => Math.min(Math.max(one, low - span), high + span));
  const [from, to] = [Math.min(low, ...far), Math.max(high, ...far)];
  return [from - (to - from) * 0.08, to + (to - from) * 0.08];
};

const placed = (interval: Interval, [from, to]: Ends): { left: string; width: string } => {
  const at = (value: number | null, other: number): number => {
    const share = ((value ?? other) - from) / (to - from);
    return 100 * Math.min(1, Math.max(0, share));
  };
  const [left, right] = [at(interval.low, from), at(interval.high, to)];
  // What lies beyond the edge stands at the edge, whole.
  return { left: `min(${left}%, 100% - 8px)`, width: `${right - left}%` };
};

/** A rail with the places that count and a block that is as wide as the reading is doubtful. Its words say it all. */
export const LevelRail = (props: LevelRailProps) => {
  const { value, allowed, normal, limit, words } = props;
  const drawn = [...ends(value), ...ends(allowed), ...ends(normal), ...ends(limit)].length > 0;
  const range = drawn ? rangeOf(props) : ([0, 1] as const);
  return (
    <div class="level-rail">
      {drawn && (
        <div class="rail-of" aria-hidden="true">
          {normal !== undefined && <i class="normal" style={placed(normal, range)} />}
          {allowed !== undefined && <i class="allowed" style={placed(allowed, range)} />}
          {limit !== undefined && <i class="limit" style={placed(limit, range)} />}
          {value !== undefined && <i class="now" style={placed(value, range)} />}
        </div>
      )}
      <ul class="row">
        {words.map(({ kind, text }) => (
          <li key={kind} class="row">
            <i class={`sample ${kind}`} aria-hidden="true" />
            <span>{text}</span>
          </li>
        ))}
      </ul>
    </div>
  );
};
