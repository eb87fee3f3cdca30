import type { Book, Interlock, References } from '../rulebook/index.ts';
import { type Edges, edgesOf } from './levels.ts';
import { type NormalState, referencesOf } from './normals.ts';
import type { Track } from './track.ts';

/** All that the judge knows of the plant at an instant, whichever interlock asks. */
export interface Scene {
  readonly book: Book;
  readonly tracks: readonly Track[];
  readonly normalOf: (interlock: Interlock) => NormalState | undefined;
  /** Last change of each machine's heartbeat (latest instant), by machine. */
  readonly beats: readonly number[];
}

export const nameOf = (scene: Scene, signal: number): string =>
  scene.book.signals[signal]?.name ?? `#${signal}`;

/** What the percentages of an interlock refer to now. */
export const referencesNow = (scene: Scene, interlock: Interlock): References =>
  referencesOf(scene.normalOf(interlock), scene.tracks);

/** The levels of an interlock as they stand now; undefined for a contact, or while normal is not known. */
export const edgesNow = (scene: Scene, interlock: Interlock): Edges | undefined =>
  edgesOf(interlock, referencesNow(scene, interlock));
