import type { InterlockId } from '../rulebook/index.ts';
import { excludeStop } from './attribution.ts';
import { end, tell } from './cases.ts';
import { takeClockStep } from './clock-stepped.ts';
import { forgetLearned, learn } from './normals.ts';
import { beginAnew } from './restarted.ts';
import { recorded } from './standing.ts';
import { type Case, newCase, type State, UNTESTED } from './state.ts';
import type { Trial } from './trial.ts';
import type { Mark, Stimulus, WindowVerdict } from './types.ts';
import { concludeWindow } from './window.ts';

const openTrials = (state: State): readonly [Case, Trial][] =>
  state.cases.flatMap((one): [Case, Trial][] => (one.trial ? [[one, one.trial]] : []));

/** Every interlock is watched anew: those that the window names as tested, the others for demands. */
const beginCases = (state: State, stimuli: readonly Stimulus[], demand: boolean): void => {
  const { book, tracks, normalAt } = state.scene;
  const methods = new Map<InterlockId, Stimulus>(stimuli.map((one) => [one.interlock, one]));
  for (const interlock of book.interlocks) {
    const stimulus = methods.get(interlock.id);
    const about =
      stimulus === undefined
        ? { ...UNTESTED, recorded: demand }
        : { tested: true, recorded: demand, method: stimulus.method };
    const one = newCase(book, interlock, (signal) => normalAt(interlock.machine, signal), about);
    one.follower.advance(tracks, one.referencesNow(tracks));
    one.possibleUntil = state.cases[interlock.id]?.possibleUntil ?? one.possibleUntil;
    state.cases[interlock.id] = one;
  }
  state.running.clear();
};

const openWindow = (state: State, mark: Mark & { code: 'window-opened' }): void => {
  for (const [one, trial] of openTrials(state)) end(state, one, trial, 'unfinished');
  state.window = mark.window;
  state.doubts = [];
  for (const normal of state.normals) {
    forgetLearned(normal);
    learn(normal, state.scene.tracks);
  }
  beginCases(state, mark.stimuli, mark.stimuli.length === 0);
};

/** The verdict over the trials of an interlock that are over. */
export const concludeCase = (state: State, one: Case): WindowVerdict =>
  concludeWindow({
    interlock: one.interlock,
    unit: one.unit,
    trials: one.ended,
    adjustments: one.adjustments,
    waits: one.waits,
    doubts: state.doubts,
    extra: one.extra,
  });

const closeWindow = (state: State): void => {
  for (const one of state.cases) {
    if (one.trial) end(state, one, one.trial, 'unfinished');
    const acted = one.recorded && one.ended.length > 0;
    if (!one.tested && !acted) continue;
    const verdict = concludeCase(state, one);
    tell(state, one, { kind: 'window', verdict }, verdict.trial);
  }
  state.window = '';
  beginCases(state, [], false);
};

const takeRevision = (state: State, mark: Mark & { code: 'revision' }): void => {
  const before = state.revisions.get(mark.machine);
  state.revisions.set(mark.machine, mark.text);
  if (before === undefined || before === mark.text || state.window === '') return;
  state.doubts.push({ code: 'revision-changed', params: { from: before, to: mark.text } });
};

const abort = (state: State, mark: Mark & { code: 'trial-aborted' }): void => {
  const one = state.cases[mark.interlock];
  if (one?.trial === undefined) return;
  one.trial.doubts.set('aborted', { code: 'trial-aborted', params: { by: mark.by, text: mark.text } });
  end(state, one, one.trial, 'aborted');
};

/** What happened beside the readings. */
export const takeMark = (state: State, mark: Mark): void => {
  state.now = Math.max(state.now, mark.at);
  switch (mark.code) {
    case 'window-opened':
      openWindow(state, mark);
      return;
    case 'window-closed':
      closeWindow(state);
      return;
    case 'now':
      return;
    case 'attested':
      for (const [one, trial] of openTrials(state)) {
        if (one.interlock.machine !== mark.machine) continue;
        trial.attested.set(mark.what, mark.by);
        if (mark.what === 'no-stop-pressed') excludeStop(trial);
      }
      return;
    case 'observed': {
      const one = state.cases[mark.interlock];
      const trial = one?.trial ?? one?.ended.at(-1)?.trial;
      if (trial !== undefined) trial.observed = mark;
      return;
    }
    case 'adjusted': {
      const one = state.cases[mark.interlock];
      if (one) one.adjustments += 1;
      recorded(state.standing, one?.interlock.machine, mark.at);
      return;
    }
    case 'earlier-normal':
      state.earlier.set(mark.interlock, { value: mark.value, window: mark.window });
      return;
    case 'trial-aborted':
      abort(state, mark);
      return;
    case 'bypassed': {
      const one = state.cases[mark.interlock];
      if (one?.trial) one.trial.doubts.set('bypassed', { code: 'attested-bypass', params: { by: mark.by } });
      else state.doubts.push({ code: 'attested-bypass', params: { by: mark.by } });
      return;
    }
    case 'clock-stepped':
      takeClockStep(state, mark);
      return;
    case 'revision':
      takeRevision(state, mark);
      recorded(state.standing, mark.machine, mark.at);
      return;
    case 'interrupted':
      for (const [one, trial] of openTrials(state)) {
        const seconds = (mark.at - mark.from) / 1_000_000;
        trial.doubts.set('interrupted', { code: 'interrupted', params: { seconds } });
        end(state, one, trial, 'interrupted');
      }
      if (mark.restarted === true) beginAnew(state, mark.at);
      return;
    default:
      mark satisfies never;
  }
};
