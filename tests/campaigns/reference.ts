/**
 * A second judge, slow and exhaustive, that shares no code with the first: what could any judge conclude from these
 * readings?
 *
 * A hypothesis is a controller with level L and timer d: it acts when the cause has been below L for d, and its timer
 * starts again at each return (or goes on where it left off). A hypothesis survives where some course of the cause
 * goes through every reading's bounds at some instant of its span, is monotone between neighbouring readings, and
 * makes the controller act within (after, by] and not before. Only "below L or not" matters of a course, and a
 * monotone course crosses L at most once between two readings, at any instant. So for one L every reading is `above`
 * (its low bound is), `below` (its high bound is) or `either`, and the delays that survive are a union of intervals:
 * one for each pair of neighbours between which the last run below may have begun. L needs to be tried once between
 * two neighbouring bounds. Nothing is approximated but the order of overlapping spans.
 *
 * Times in seconds; values turned so that the cause falls.
 */

export interface Bounds {
  readonly low: number;
  readonly high: number;
}

/** A reading of the cause. */
export interface Seen extends Bounds {
  readonly earliest: number;
  readonly latest: number;
  /** Answer that it came with, where one answer is one instant; 0: none. */
  readonly response: number;
}

/** When an effect changed: after `after`, no later than `by`. */
export interface Changed {
  readonly after: number;
  readonly by: number;
  readonly afterResponse: number;
  readonly byResponse: number;
}

export interface EffectCourse {
  /** Absent: it had not changed up to `quietUntil`. */
  readonly changed?: Changed;
  readonly quietUntil: number;
  /** It follows the stop, whoever brings that about. */
  readonly follows?: boolean;
  /** Whether it stayed once the cause had cleared; absent where that was not seen. */
  readonly held?: boolean;
}

/** One excursion of the cause with the machine running and armed, from a quiet baseline on. */
export interface Episode {
  readonly seen: readonly Seen[];
  /** Lowest bound of the baseline: a level above it would have acted long since. */
  readonly quietBelow: number;
  /** In the order of the rule. */
  readonly effects: readonly EffectCourse[];
  /** The machine ran again and nobody was seen to start it: certainly nobody did, or somebody may have unseen. */
  readonly restarted: 'no' | 'certainly' | 'perhaps';
  /** Nobody can have stopped the machine in place of the interlock: a trip bit is seen, or the stop button is. */
  readonly handExcluded: boolean;
  /** People moved the cause slowly: response is reported, from the first effect on, not judged. */
  readonly slow: boolean;
}

export interface Asked {
  /** Band of the set point; each edge in doubt with normal. */
  readonly inner: Bounds;
  readonly outer: Bounds;
  /** Lowest level that the law or the hazard analysis allows, turned. */
  readonly limit?: number;
  /** Absent: the rule knows no delay; the first effect may take its time all the same. */
  readonly delay?: Bounds;
  readonly onReturn: 'resets' | 'accumulates';
  readonly within: readonly number[];
  /** Longest silence of the cause across which it still counts as monotone. */
  readonly longestGap: number;
  /** A contact has no level. */
  readonly contact: boolean;
}

export type Decided = 'pass' | 'fail' | 'undecidable';

export interface Answer {
  readonly outcome: Decided;
  readonly setPoint: Decided;
  readonly delay: Decided;
  readonly limit: Decided;
  readonly effects: readonly Decided[];
  readonly latches: readonly Decided[];
  /** Hulls of what survives; undefined where nothing does. */
  readonly level?: Bounds;
  readonly delays?: Bounds;
}

/** Levels within (low, high) with delays [from, to], and when each episode's last run below can have begun. */
export interface Cell extends Bounds {
  readonly from: number;
  readonly to: number;
  readonly begins: readonly Bounds[];
}

interface Piece {
  readonly from: number;
  readonly to: number;
  /** Instants at which the last run below can have begun. */
  readonly begin: Bounds;
}

const EDGE = 1e-6;
/** Less than a scan of any controller. */
const AT_ONCE = 0.005;
/** What a controller without a timer takes all the same: two scans, an output, a relay. Common practice, no source. */
const REACTION = 0.5;
const ANYTIME: Bounds = { low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY };

/** A silence too long to be bridged is a reading that excludes nothing. */
const withGaps = (seen: readonly Seen[], longest: number): Seen[] => {
  const rows: Seen[] = [];
  for (const row of seen) {
    const before = rows.at(-1);
    if (before !== undefined && row.earliest - before.latest > longest) {
      const { latest } = row;
      const { earliest } = before;
      rows.push({
        earliest,
        latest,
        response: 0,
        low: Number.NEGATIVE_INFINITY,
        high: Number.POSITIVE_INFINITY,
      });
    }
    rows.push(row);
  }
  return rows;
};

/** Delays that a level leaves possible where the effect came. */
const piecesOfChange = (
  rows: readonly Seen[],
  level: number,
  changed: Changed,
  sums: boolean,
): readonly Piece[] => {
  // From the back: the first reading at or after each index that is certainly above ends the last run.
  const ends = new Float64Array(rows.length + 1).fill(Number.POSITIVE_INFINITY);
  for (let index = rows.length - 1; index >= 0; index -= 1) {
    const row = rows[index]!;
    ends[index] = row.low >= level ? row.latest : ends[index + 1]!;
  }
  const found: Piece[] = [];
  let block: number | undefined;
  let longest = Number.NEGATIVE_INFINITY;
  let least = 0;
  let most = 0;
  let open: number | undefined;
  for (let j = 0; j + 1 < rows.length; j += 1) {
    const row = rows[j]!;
    const next = rows[j + 1]!;
    if (row.earliest > changed.by) break;
    if (row.high < level) {
      block ??= row.latest;
      open ??= rows[j - 1]?.earliest ?? row.earliest;
      continue;
    }
    if (block !== undefined) {
      const length = Math.max(0, rows[j - 1]!.earliest - block);
      longest = Math.max(longest, length);
      least += length;
      block = undefined;
    }
    const certainlyAbove = row.low >= level;
    if (certainlyAbove && open !== undefined) {
      most += Math.max(0, row.latest - open);
      open = undefined;
    }
    if (!certainlyAbove) open ??= rows[j - 1]?.earliest ?? row.earliest;
    if (next.low >= level) continue;
    // The last run begins in (row.earliest, next.latest]; it lasts at least up to the change.
    const end = Math.min(changed.by, ends[j + 1]!);
    if (end <= changed.after) continue;
    const begin = { low: row.earliest, high: Math.min(next.latest, end) };
    const shortest = Math.max(0, changed.after - begin.high);
    const whole = end - begin.low;
    if (sums) {
      found.push({ from: least + shortest, to: most + end - (open ?? begin.low), begin });
    } else if (whole > longest) found.push({ from: Math.max(shortest, longest), to: whole, begin });
  }
  return found;
};

/** Delays that a level leaves possible where nothing came up to `until`. */
const piecesOfQuiet = (
  rows: readonly Seen[],
  level: number,
  until: number,
  sums: boolean,
): readonly Piece[] => {
  let block: number | undefined;
  let end = 0;
  let longest = Number.NEGATIVE_INFINITY;
  let sum = 0;
  const close = (): void => {
    if (block === undefined) return;
    const length = Math.max(0, Math.min(end, until) - block);
    longest = Math.max(longest, length);
    sum += length;
    block = undefined;
  };
  for (const row of rows) {
    if (row.latest > until) break;
    if (row.high < level) {
      block ??= row.latest;
      end = row.earliest;
    } else close();
  }
  // Where it is certainly below to the last, it has been since then.
  const begin = { low: Number.NEGATIVE_INFINITY, high: block ?? until };
  close();
  const from = sums ? sum : longest;
  return [{ from, to: Number.POSITIVE_INFINITY, begin }];
};

/** The effect that tells when the controller acted. */
const leading = (episode: Episode): EffectCourse | undefined => episode.effects.find((one) => one.changed);

const rowOf = (rows: readonly Seen[], response: number): Seen | undefined =>
  response === 0 ? undefined : rows.find((row) => row.response === response);

/** Where one answer is one instant, its values are those on which a controller without delay acts, or did not. */
const sharing = (
  rows: readonly Seen[],
  level: number,
  changed: Changed,
  pieces: readonly Piece[],
): readonly Piece[] => {
  const shows = rowOf(rows, changed.byResponse);
  const before = rowOf(rows, changed.afterResponse);
  if (shows !== undefined && shows.low >= level) return [];
  const waited = before !== undefined && before.high < level;
  return waited ? pieces.map((piece) => ({ ...piece, from: Math.max(piece.from, 2 * EDGE) })) : pieces;
};

/** The cause moved by more than a quarter of the band between two readings, not long before the effect. */
const hasJumped = (episode: Episode, changed: Changed, { inner, outer, delay }: Asked): boolean => {
  const from = changed.after - (delay?.high ?? 0) - REACTION;
  const last = episode.seen.filter((row) => row.latest > from && row.earliest <= changed.by);
  const most = 0.25 * (inner.high - outer.low);
  return last.some((row, index) => {
    const before = last[index - 1] ?? row;
    return Math.max(row.low - before.high, before.low - row.high) > most;
  });
};

/** It then stood no farther beyond the band than the band is wide. */
const stoodNear = (episode: Episode, changed: Changed, { inner, outer }: Asked): boolean =>
  episode.seen.some(
    (row) =>
      row.latest >= changed.after &&
      row.earliest <= changed.by &&
      row.high >= 2 * outer.low - inner.high - EDGE,
  );

/** An input filter takes the longer the less a jump goes beyond the level: up to the usual reaction is allowed for. */
const loosened = (
  episode: Episode,
  changed: Changed,
  asked: Asked,
  pieces: readonly Piece[],
): readonly Piece[] =>
  !asked.contact && hasJumped(episode, changed, asked) && stoodNear(episode, changed, asked)
    ? pieces.map((piece) => ({ ...piece, from: Math.max(0, piece.from - REACTION) }))
    : pieces;

const piecesOf = (episode: Episode, rows: readonly Seen[], level: number, asked: Asked): readonly Piece[] => {
  if (level > episode.quietBelow) return [];
  const changed = leading(episode)?.changed;
  const sums = asked.onReturn === 'accumulates';
  if (changed === undefined) {
    const until = Math.min(...episode.effects.map((one) => one.quietUntil));
    return piecesOfQuiet(rows, level, until, sums);
  }
  const exact = piecesOfChange(rows, level, changed, sums);
  const pieces = asked.delay === undefined ? sharing(rows, level, changed, exact) : exact;
  return loosened(episode, changed, asked, pieces);
};

const breaksOf = (episodes: readonly (readonly Seen[])[], highest: number): number[] => {
  const all = new Set<number>();
  for (const rows of episodes) {
    for (const row of rows) {
      if (Number.isFinite(row.low) && row.low < highest) all.add(row.low);
      if (Number.isFinite(row.high) && row.high < highest) all.add(row.high);
    }
  }
  return [...all, highest].sort((a, b) => a - b);
};

interface Stretch {
  readonly from: number;
  readonly to: number;
}

const intersect = (a: readonly Stretch[], b: readonly Stretch[]): Stretch[] =>
  a.flatMap((one) =>
    b.flatMap((other) => {
      const from = Math.max(one.from, other.from);
      const to = Math.min(one.to, other.to);
      // The ends are not reached: what only touches has nothing in common.
      return from + EDGE < to ? [{ from, to }] : [];
    }),
  );

const hull = (bounds: readonly Bounds[]): Bounds | undefined =>
  bounds.length === 0
    ? undefined
    : {
        low: Math.min(...bounds.map((one) => one.low)),
        high: Math.max(...bounds.map((one) => one.high)),
      };

/** Joins what touches, so that intersecting stays cheap. */
const merged = (pieces: readonly Stretch[]): Stretch[] => {
  const kept: Stretch[] = [];
  for (const { from, to } of [...pieces].sort((a, b) => a.from - b.from)) {
    const before = kept.at(-1);
    if (before === undefined || from > before.to) kept.push({ from, to });
    else kept[kept.length - 1] = { from: before.from, to: Math.max(before.to, to) };
  }
  return kept;
};

const beginsOf = (pieces: readonly Piece[], { from, to }: Stretch): Bounds =>
  hull(pieces.filter((one) => one.from <= to && one.to >= from).map((one) => one.begin)) ?? ANYTIME;

/** Every (level, delay) that all episodes leave possible. */
export const survivors = (episodes: readonly Episode[], asked: Asked): Cell[] => {
  const all = episodes.map((one) => withGaps(one.seen, asked.longestGap));
  const highest = Math.min(...episodes.map((one) => one.quietBelow));
  const cells: Cell[] = [];
  const breaks = breaksOf(all, highest);
  breaks.forEach((high, index) => {
    if (asked.contact && index === 0) return;
    const low = breaks[index - 1] ?? Number.NEGATIVE_INFINITY;
    const level = index === 0 ? high - 1 : (low + high) / 2;
    const pieces: (readonly Piece[])[] = [];
    let left: Stretch[] = [{ from: 0, to: Number.POSITIVE_INFINITY }];
    for (const [at, episode] of episodes.entries()) {
      const found = piecesOf(episode, all[at]!, level, asked);
      pieces.push(found);
      left = intersect(left, merged(found));
      if (left.length === 0) return;
    }
    for (const stretch of left) {
      cells.push({ low, high, ...stretch, begins: pieces.map((one) => beginsOf(one, stretch)) });
    }
  });
  return cells;
};

const decide = (
  cells: readonly Cell[],
  inside: (cell: Cell) => boolean,
  outside: (cell: Cell) => boolean,
): Decided => {
  if (cells.length === 0) return 'undecidable';
  if (cells.every(inside)) return 'pass';
  return cells.every(outside) ? 'fail' : 'undecidable';
};

interface Rule {
  readonly inside: (cell: Cell) => boolean;
  readonly outside: (cell: Cell) => boolean;
}

const ALWAYS: Rule = { inside: () => true, outside: () => false };

const unusual = ({ delay }: Asked, usual: number, cell: Cell): boolean =>
  delay === undefined && cell.from > usual + EDGE;

/** What a rule without a delay is taken to need, unless the readings show that it took its time. */
const usualOf = ({ within }: Asked, cells: readonly Cell[], slow: boolean): number =>
  slow && cells.some((cell) => cell.from <= AT_ONCE) ? Math.min(REACTION, within[0]!) : within[0]!;

/**
 * Where the rule knows no delay, levels that would have needed more than the usual reaction need not lie in the band,
 * unless the cause jumped on its way in every episode: then it may have taken as long as the effect is allowed to.
 */
const setPointRule = (asked: Asked, usual: number): Rule => {
  const { inner, outer, contact } = asked;
  if (contact) return ALWAYS;
  return {
    inside: (cell) =>
      unusual(asked, usual, cell) || (cell.low >= outer.high - EDGE && cell.high <= inner.low + EDGE),
    outside: (cell) => cell.high <= outer.low + EDGE || cell.low >= inner.high - EDGE,
  };
};

const delayRule = ({ delay }: Asked): Rule =>
  delay === undefined
    ? ALWAYS
    : {
        inside: (cell) => cell.from >= delay.low - EDGE && cell.to <= delay.high + EDGE,
        outside: (cell) => cell.to <= delay.low + EDGE || cell.from >= delay.high - EDGE,
      };

const limitRule = (asked: Asked, usual: number): Rule => {
  const { limit } = asked;
  if (limit === undefined) return ALWAYS;
  return {
    inside: (cell) => unusual(asked, usual, cell) || cell.low >= limit - EDGE,
    outside: (cell) => cell.high <= limit + EDGE,
  };
};

/** From the cause crossing the level to an effect, in one episode, for one surviving cell. */
const responseOf = (
  episodes: readonly Episode[],
  at: number,
  index: number,
  cell: Cell,
  sums: boolean,
): Bounds => {
  const episode = episodes[at]!;
  const first = leading(episode)?.changed;
  const begin = cell.begins[at]!;
  if (first === undefined) {
    const low = Math.max(0, episode.effects[index]!.quietUntil - begin.high);
    return { low, high: Number.POSITIVE_INFINITY };
  }
  // A timer that sums may have begun long before its last run.
  const start = sums
    ? begin
    : { low: Math.max(begin.low, first.after - cell.to), high: Math.min(begin.high, first.by - cell.from) };
  const { changed, quietUntil } = episode.effects[index]!;
  const after = changed?.after ?? quietUntil;
  return {
    low: Math.max(0, after - start.high),
    high: (changed?.by ?? Number.POSITIVE_INFINITY) - start.low,
  };
};

/** On a ramp: the lag behind the first effect, and what the delay, or the reaction that nobody measured, may be. */
const reported = (
  episode: Episode,
  index: number,
  { delay, within }: Asked,
  cells: readonly Cell[],
): number => {
  const first = leading(episode)?.changed;
  const own = episode.effects[index]!.changed;
  if (!episode.slow || first === undefined || own === undefined) return Number.POSITIVE_INFINITY;
  const took = cells.length > 0 && cells.every((cell) => cell.from > AT_ONCE);
  const guessed = took ? Math.max(...cells.map((cell) => cell.to)) : REACTION;
  const before = delay?.high ?? Math.min(guessed, within[0]!);
  return (own === first ? 0 : own.by - first.after) + before;
};

/** How far an effect certainly came behind the first one. What a program does itself need not follow a stop by hand. */
const laggedBy = (episode: Episode, index: number): number => {
  const first = leading(episode)?.changed;
  const { changed, quietUntil, follows } = episode.effects[index]!;
  return first === undefined || (!episode.handExcluded && follows !== true)
    ? 0
    : (changed?.after ?? quietUntil) - first.by;
};

/** A timer that sums had begun before: it may have been beyond, and certainly was not any more, before it acted. */
const charged = (episode: Episode, { inner, onReturn }: Asked): boolean => {
  const first = leading(episode)?.changed;
  if (onReturn !== 'accumulates' || first === undefined) return false;
  const before = episode.seen.filter((row) => row.earliest <= first.by);
  const entered = before.findIndex((row) => row.low < inner.high);
  return entered >= 0 && before.slice(entered).some((row) => row.low >= inner.high);
};

/** One episode in which it certainly came in time is enough; one in which it certainly did not is a fail. */
const effectDecided = (
  episodes: readonly Episode[],
  cells: readonly Cell[],
  index: number,
  asked: Asked,
): Decided => {
  const within = asked.within[index]!;
  const sums = asked.onReturn === 'accumulates';
  if (episodes.some((one) => laggedBy(one, index) > within + EDGE)) return 'fail';
  let passed = false;
  for (const at of episodes.keys()) {
    const all = hull(cells.map((cell) => responseOf(episodes, at, index, cell, sums)));
    if (all === undefined) continue;
    if (all.low > within + EDGE) return 'fail';
    const soon = all.high <= within + EDGE && !charged(episodes[at]!, asked);
    if (soon || reported(episodes[at]!, index, asked, cells) <= within + EDGE) passed = true;
  }
  return passed ? 'pass' : 'undecidable';
};

const latchDecided = (episodes: readonly Episode[], index: number): Decided => {
  const all = episodes.map((one) => one.effects[index]!.held);
  if (all.includes(false)) return 'fail';
  return all.includes(true) ? 'pass' : 'undecidable';
};

/** A rule that knows no delay still lets the first effect take its time, and no longer. */
const inTime = (cells: readonly Cell[], { delay, within }: Asked): readonly Cell[] =>
  delay !== undefined
    ? cells
    : cells.flatMap((cell) => {
        const to = Math.min(cell.to, within[0]!);
        return cell.from < to ? [{ ...cell, to }] : [];
      });

/** The episode as it was if a hand stopped the machine: up to then the interlock had not. */
const byHand = (episode: Episode): Episode =>
  episode.handExcluded
    ? episode
    : {
        ...episode,
        effects: episode.effects.map(({ changed, quietUntil, follows }) => ({
          quietUntil: changed?.after ?? quietUntil,
          ...(follows === true && { follows }),
        })),
      };

/** The least inconclusive answer that these readings allow. */
export const refer = (episodes: readonly Episode[], asked: Asked): Answer => {
  const names = asked.within.map((_, index) => index);
  const unknown: Answer = {
    outcome: 'undecidable',
    setPoint: 'undecidable',
    delay: 'undecidable',
    limit: 'undecidable',
    effects: names.map(() => 'undecidable'),
    latches: names.map(() => 'undecidable'),
  };
  if (episodes.length === 0) return unknown;
  const every = survivors(episodes, asked);
  const cells = inTime(every, asked);
  const usual = usualOf(
    asked,
    cells,
    episodes.some((one) => one.slow),
  );
  const rules = [setPointRule(asked, usual), delayRule(asked), limitRule(asked, usual)] as const;
  const [setPoint, delay, limit] = rules.map((rule) => decide(cells, rule.inside, rule.outside)) as [
    Decided,
    Decided,
    Decided,
  ];
  // A judge may know more than each aspect alone: no pair that is left conforms in all of them.
  const conforms = (cell: Cell): boolean => !rules.some((rule) => rule.outside(cell));
  const conforming = cells.filter(conforms);
  const effects = names.map((index) => effectDecided(episodes, conforming, index, asked));
  const latches = names.map((index) => latchDecided(episodes, index));
  const acted = episodes.some((one) => leading(one) !== undefined);
  // Where a hand may have done it, only what certainly did not come is known; where nothing acted, no hand did.
  const own = episodes.every((one) => one.handExcluded || leading(one) === undefined);
  const levels = own ? [setPoint, delay, limit] : [];
  const rest = [...effects, ...latches];
  // Nor was it the interlock where a hand did it: nothing that conforms waits so long.
  const still = episodes.map(byHand);
  const unmoved = own ? [] : survivors(still, asked);
  const waiting = inTime(unmoved, asked).filter(conforms);
  const late = names.some((index) => effectDecided(still, waiting, index, asked) === 'fail');
  const neither = unmoved.length > 0 && (waiting.length === 0 || late);
  const none = every.length > 0 && conforming.length === 0 && (own || neither);
  const restarted = episodes.some((one) => one.restarted === 'certainly');
  const stayed = episodes.every((one) => one.restarted === 'no');
  const failed = none || restarted || [...levels, ...rest].includes('fail');
  const passed = acted && stayed && own && [...levels, ...rest].every((one) => one === 'pass');
  const level = hull(cells);
  const delays = hull(cells.map((cell) => ({ low: cell.from, high: cell.to })));
  return {
    outcome: (failed && 'fail') || (passed && 'pass') || 'undecidable',
    setPoint,
    delay,
    limit,
    effects,
    latches,
    ...(level && { level }),
    ...(delays && { delays }),
  };
};
