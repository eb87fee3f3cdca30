import type { Interval, SignalId } from '../measure/index.ts';
import { type Book, type Interlock, type References, tagsOf } from '../rulebook/index.ts';
import { type NormalState, referencesOf } from './normals.ts';
import type { Position } from './position.ts';
import type { Track } from './track.ts';

/** All that the judge knows of the plant at an instant, whichever interlock asks. */
export interface Scene {
  readonly book: Book;
  readonly tracks: readonly Track[];
  readonly normalOf: (interlock: Interlock) => NormalState | undefined;
  /** Where the cause of an interlock is now. */
  readonly positionOf: (interlock: Interlock) => Position | undefined;
  /** Last change of each machine's heartbeat (latest instant), by machine. */
  readonly beats: readonly number[];
}

export const nameOf = (scene: Scene, signal: number): string =>
  scene.book.signals[signal]?.name ?? `#${signal}`;

const NOTHING: References = {};

/** Finds what the levels of an interlock refer to; gives the same object as long as nothing changes. */
export const referencesFor = (interlock: Interlock, normal: NormalState | undefined) => {
  const tags = tagsOf(interlock);
  let base: References = NOTHING;
  let last: References = NOTHING;
  return (tracks: readonly Track[]): References => {
    const now = normal === undefined ? NOTHING : referencesOf(normal, tracks);
    if (tags.length === 0) return now;
    const rows = tags.map((tag) => (tracks[tag]?.absent === undefined ? tracks[tag]?.last : undefined));
    const same = tags.every((tag, index) => {
      const known = last.tags?.[tag];
      return known?.low === rows[index]?.low && known?.high === rows[index]?.high;
    });
    if (same && base === now) return last;
    const values: Record<SignalId, Interval> = {};
    tags.forEach((tag, index) => {
      const row = rows[index];
      if (row !== undefined) values[tag] = { low: row.low, high: row.high };
    });
    base = now;
    last = { ...now, tags: values };
    return last;
  };
};
