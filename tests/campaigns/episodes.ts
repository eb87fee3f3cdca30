/** What a person who knows when the test was made takes from the readings: one episode for each excursion. */
import type { Reading } from '../../src/measure/index.ts';
import { ACTING, ARMED_AFTER, BASELINE, DWELL, effectsOf } from './books.ts';
import type { Drawn, Episode as Made } from './plants.ts';
import { idOf, type Name } from './polling.ts';
import type { Asked, Bounds, Changed, EffectCourse, Episode, Seen } from './reference.ts';

interface Read extends Seen {
  readonly known: boolean;
}

const seconds = (instant: number): number => instant / 1_000_000 - 1_000_000;

const turned = (value: Bounds, side: 'below' | 'above'): Bounds =>
  side === 'below' ? { low: value.low, high: value.high } : { low: -value.high, high: -value.low };

/** Good readings of one signal. */
const goodOf = (rows: readonly Reading[], name: Name): Read[] =>
  rows.flatMap(({ signal, at, response, value }) =>
    signal === idOf(name) && value !== undefined
      ? [{ earliest: seconds(at.earliest), latest: seconds(at.latest), response, ...value, known: true }]
      : [],
  );

/** The shortest time for which a finger presses a button. Common practice, no source. */
const SHORTEST_PRESS = 0.25;

/** Nobody can have pressed the button unseen in the span. */
const looked = (button: readonly Read[], from: number, to: number): boolean =>
  button.every((row, index) => {
    const next = button[index + 1];
    const apart = next === undefined || next.latest < from || row.latest > to;
    return apart || next.latest - row.earliest <= SHORTEST_PRESS;
  });

/** A press that brought a change about came no sooner than this. */
const pressFrom = (rows: readonly Read[], change: Read): number =>
  (rows[rows.indexOf(change) - 1] ?? change).earliest - SHORTEST_PRESS;

interface Seenable {
  readonly reset: readonly Read[];
  readonly start: readonly Read[];
}

const heldOf = (
  rows: readonly Read[],
  state: number,
  changed: Changed,
  clear: number,
  made: Made,
  buttons: Seenable,
): boolean | undefined => {
  const later = rows.filter((row) => row.latest > changed.by && row.latest <= made.reset[0]);
  const released = later.find((row) => row.low !== state);
  if (released !== undefined)
    return looked(buttons.reset, changed.after, released.latest) ? false : undefined;
  return later.some((row) => row.earliest >= clear + DWELL) ? true : undefined;
};

const courseOf = (
  rows: readonly Read[],
  state: number,
  made: Made,
  clear: number,
  buttons: Seenable,
): EffectCourse | undefined => {
  const reset = made.reset[0];
  let quiet: Read | undefined;
  for (const row of rows) {
    if (row.latest > reset) break;
    if (row.low !== state) {
      quiet = row;
      continue;
    }
    if (row.latest < made.from) continue;
    if (quiet === undefined) return undefined;
    const changed = {
      after: quiet.earliest,
      by: row.latest,
      afterResponse: quiet.response,
      byResponse: row.response,
    };
    const held = heldOf(rows, state, changed, clear, made, buttons);
    return { changed, quietUntil: quiet.earliest, ...(held !== undefined && { held }) };
  }
  return quiet === undefined ? undefined : { quietUntil: quiet.earliest };
};

/** From when on the cause was certainly clear, up to the reset; Infinity: never. */
const clearSince = (rows: readonly Seen[], clears: number, reset: number): number => {
  let since = Number.POSITIVE_INFINITY;
  for (const row of rows) {
    if (row.latest > reset) break;
    if (row.low < clears) since = Number.POSITIVE_INFINITY;
    else since = Math.min(since, row.latest);
  }
  return since;
};

/** Undefined where the machine was not certainly running, armed and quiet before the excursion. */
const episodeOf = (
  drawn: Drawn,
  made: Made,
  all: Readonly<Record<Name, readonly Read[]>>,
): Episode | undefined => {
  const { side, clears, kind } = drawn.design;
  const before = made.from - ARMED_AFTER - BASELINE;
  const ready = (name: Name, state: number): boolean => {
    const rows = all[name].filter((row) => row.latest >= before && row.latest < made.from);
    return rows.length > 0 && rows.every((row) => row.low === state);
  };
  if (!ready('running', 1) || !ready('run', 1) || !ready('tripped', 0)) return undefined;
  const seen = all.cause
    .filter((row) => row.latest >= made.from - BASELINE && row.latest <= made.reset[0])
    .map((row) => ({ ...row, ...turned(row, side) }));
  const baseline = seen.filter((row) => row.latest < made.from);
  if (baseline.length === 0) return undefined;
  const edge = kind === 'contact' ? 0 : turned({ low: clears, high: clears }, side).low;
  const clear = clearSince(seen, edge, made.reset[0]);
  const effects = effectsOf(drawn).map((name) => courseOf(all[name], ACTING[name], made, clear, all));
  if (effects.some((one) => one === undefined)) return undefined;
  const names = effectsOf(drawn);
  const courses = (effects as EffectCourse[]).map((one, index) =>
    names[index] === 'running' ? { ...one, follows: true } : one,
  );
  const stopped = courses[0]!.changed;
  const ran =
    stopped &&
    all.run.find((row) => row.earliest > stopped.by && row.latest < made.start[0] && row.low === 1);
  const certain = ran !== undefined && looked(all.start, pressFrom(all.run, ran), ran.latest);
  const restarted = ran === undefined ? 'no' : (certain && 'certainly') || 'perhaps';
  const { shows } = drawn.design;
  const acted = courses.find((one) => one.changed)?.changed;
  const seenStop = acted === undefined || looked(all.stop, acted.after - SHORTEST_PRESS, acted.by);
  const saidSo = shows.tripped && courses[names.indexOf('tripped')]?.changed !== undefined;
  const handExcluded = saidSo || (shows.stop && seenStop);
  const quietBelow = Math.min(...baseline.map((row) => row.low));
  return { seen, quietBelow, effects: courses, restarted, handExcluded, slow: made.kind === 'ramp' };
};

export const episodesOf = (drawn: Drawn, rows: readonly Reading[]): Episode[] => {
  const of = (name: Name): Read[] => goodOf(rows, name);
  const all = {
    cause: of('cause'),
    run: of('run'),
    running: of('running'),
    tripped: of('tripped'),
    stop: of('stop'),
    reset: of('reset'),
    start: of('start'),
    bypass: [],
    other: [],
  };
  return drawn.stimulus.episodes.flatMap((made) => episodeOf(drawn, made, all) ?? []);
};

/** The shortest time for which a cause goes away and comes back. Common practice, no source. */
const SHORTEST_RETURN = 0.4;

/** What the design asks, in the terms of the reference. */
export const askedOf = (drawn: Drawn): Asked => {
  const { design, made, polling } = drawn;
  const stride = polling.every + polling.answer + polling.cached + made.scan;
  const { side, setPoint, tolerance, normal, normalDoubt, limit, delay, within } = design;
  const share = normal === 0 ? 0 : normalDoubt / normal;
  const edge = (value: number): Bounds =>
    turned({ low: value * (1 - share), high: value * (1 + share) }, side);
  const towards = side === 'below' ? 1 : -1;
  return {
    inner: edge(setPoint + towards * tolerance),
    outer: edge(setPoint - towards * tolerance),
    ...(limit !== undefined && { limit: side === 'below' ? limit : -limit }),
    ...(delay && { delay: { low: delay.time - delay.tolerance, high: delay.time + delay.tolerance } }),
    onReturn: delay?.onReturn ?? 'resets',
    within: effectsOf(drawn).map((name) => within[name]),
    longestGap: Math.min(1, Math.max(SHORTEST_RETURN, 1.5 * stride)),
    contact: design.kind === 'contact',
  };
};
