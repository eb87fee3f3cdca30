import type { Instant } from '../measure/index.ts';
import { type Case, newCase, newTracks, type State } from './state.ts';

/** What was said of trials that are over stands; what an interlock needs for the next is not known any more. */
const begunAnew = (state: State, one: Case, at: Instant): Case => {
  const { interlock, tested, recorded, method } = one;
  const { normalAt, book } = state.scene;
  const fresh = newCase(book, interlock, (signal) => normalAt(interlock.machine, signal), {
    tested,
    recorded,
    method,
  });
  const { ended, trials, adjustments, extra } = one;
  // Whether the cause was there meanwhile nobody knows.
  return Object.assign(fresh, { ended, trials, adjustments, extra, possibleUntil: at });
};

/**
 * The daemon had ended, and goes on with the window at `at`. Everything may have moved, tripped, been reset and started
 * meanwhile, so that nothing read before may be set against what is read from now on: histories, armed states, baselines,
 * latches. The judge stands as at the opening of a window before which nothing was read. Of what came before, trials that
 * were over keep their verdicts; revisions, settings and a learned normal are kept to be held against what is read next.
 */
export const beginAnew = (state: State, at: Instant): void => {
  const { scene, normals, standing, cases, running } = state;
  for (const machine of scene.book.machines)
    for (const signal of machine.constants ?? []) {
      const last = scene.tracks[signal]?.last;
      if (last !== undefined) standing.settings.set(signal, last);
    }
  newTracks(scene.book).forEach((track, signal) => {
    scene.tracks[signal] = track;
  });
  for (const normal of normals) {
    if (normal.learned === undefined) continue;
    normal.before = normal.learned;
    delete normal.learned;
    normal.references = normal.normal.nameplate ? { nameplate: normal.normal.nameplate } : {};
  }
  scene.beats.forEach((beat, machine) => {
    if (Number.isFinite(beat)) scene.beats[machine] = at;
  });
  standing.active.clear();
  running.clear();
  for (const one of [...cases]) cases[one.interlock.id] = begunAnew(state, one, at);
};
