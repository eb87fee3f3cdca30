import { instant, type Readings, type Reason } from '../measure/index.ts';
import type { Book, Interlock, InterlockId } from '../rulebook/index.ts';
import { attribute } from './attribution.ts';
import { concludeTrial } from './conclude.ts';
import { edgesOf, turn } from './levels.ts';
import { learn, type NormalState, newNormal } from './normals.ts';
import { clearNow, waitsOf } from './readiness.ts';
import { edgesNow, referencesNow, type Scene } from './scene.ts';
import { newTrack, runNow, type Track, take } from './track.ts';
import { beginTrial, followTrial, isOver, settleQuiet, type Trial } from './trial.ts';
import type { Aspect, Engine, Finding, Input, Mark, Method } from './types.ts';
import { type Watchers, watchersOf } from './watchers.ts';
import { concludeWindow, type Ended } from './window.ts';

/** Raised whenever the same input could give other findings. */
export const ENGINE: Engine = 2;

/** One interlock under test. */
interface Case {
  readonly interlock: Interlock;
  readonly method: Method;
  readonly unit: string;
  /** Since when the cause has certainly been clear; latest and earliest instants of the newest clear reading. */
  clearSince?: number;
  clearEarliest: number;
  clearLatest: number;
  /** Lowest value (turned) of the baseline, taken when the interlock first became ready. */
  quietBelow: number;
  ready: boolean;
  waits: readonly Reason[];
  told: string;
  trial?: Trial;
  ended: Ended[];
  /** The last trial is over, and its machine has not been started again. */
  aftermath?: Trial;
  adjustments: number;
  excursion: boolean;
  extra: Aspect[];
}

/** Everything the judge remembers. Changed by `step` alone. */
export interface State {
  readonly scene: Scene & { readonly beats: number[] };
  readonly watchers: Watchers;
  readonly normals: readonly NormalState[];
  cases: Map<InterlockId, Case>;
  /** Interlocks with a running trial. */
  readonly running: Set<number>;
  window: string;
  doubts: Reason[];
  revisions: Map<number, string>;
  /** Readings of one instant are taken together, so that their order inside an answer means nothing. */
  pending: { latest: number; touched: Set<number> };
  now: number;
  findings: Finding[];
}

/** A judge that has seen nothing. */
export const start = (book: Book): State => {
  const normals = book.machines.flatMap((machine) =>
    machine.normals.map((normal) => newNormal(normal, machine)),
  );
  const tracks: Track[] = book.signals.map(newTrack);
  const normalOf = (interlock: Interlock): NormalState | undefined =>
    normals.find(
      (one) => one.machine.index === interlock.machine && one.normal.signal === interlock.cause.signal,
    );
  return {
    scene: { book, tracks, normalOf, beats: book.machines.map(() => Number.NEGATIVE_INFINITY) },
    watchers: watchersOf(book, normals),
    normals,
    cases: new Map(),
    running: new Set(),
    window: '',
    doubts: [],
    revisions: new Map(),
    pending: { latest: Number.NEGATIVE_INFINITY, touched: new Set() },
    now: Number.NEGATIVE_INFINITY,
    findings: [],
  };
};

/** A finding before it has its instant, interlock and trial. */
type Said<One = Finding> = One extends Finding ? Omit<One, 'at' | 'interlock' | 'trial'> : never;

const tell = (state: State, one: Case, said: Said, trial: number): void => {
  const at = instant(Number.isFinite(state.now) ? state.now : 0);
  state.findings.push({ at, interlock: one.interlock.id, trial, ...said });
};

const event = (state: State, one: Case, trial: number, code: string, params: Reason['params'] = {}): void =>
  tell(state, one, { kind: 'event', reason: { code, params } }, trial);

/** The baseline's lowest value: what a level must lie under, else the interlock would have acted already. */
const lowestOf = (state: State, one: Case): number => {
  const { cause, baseline } = one.interlock;
  const track = state.scene.tracks[cause.signal];
  if (cause.kind !== 'level' || track === undefined) return Number.POSITIVE_INFINITY;
  const rows = track.rows.filter((row) => row.latest >= state.now - baseline);
  return Math.min(...rows.map((row) => turn(row, cause.side).low), Number.POSITIVE_INFINITY);
};

const tellWaits = (state: State, one: Case): void => {
  const { blocking, advice } = waitsOf(state.scene, one.interlock, one.clearSince, state.now);
  const ready = blocking.length === 0;
  if (ready && !one.ready) one.quietBelow = Math.min(one.quietBelow, lowestOf(state, one));
  one.ready = ready;
  one.waits = [...blocking, ...advice];
  if (one.waits.length === 0 && one.told === '') return;
  const key = one.waits
    .map(({ code, params }) => `${code} ${String(params['signal'] ?? params['effect'] ?? '')}`)
    .join();
  if (key === one.told) return;
  one.told = key;
  tell(state, one, { kind: 'waits', reasons: one.waits }, 0);
};

const begin = (state: State, one: Case): void => {
  const references = referencesNow(state.scene, one.interlock);
  one.trial = beginTrial(
    one.interlock,
    one.ended.length + 1,
    one.method,
    state.scene.tracks,
    references,
    edgesOf(one.interlock, references),
    { earliest: one.clearEarliest, latest: one.clearLatest, quietBelow: one.quietBelow },
  );
  delete one.aftermath;
  state.running.add(one.interlock.id);
  event(state, one, one.trial.number, 'trial-began');
};

/** The share of the way from the baseline to the band that counts as moved, not as noise. */
const MOVED = 0.25;

const hasMoved = (state: State, one: Case): boolean => {
  const { cause } = one.interlock;
  const row = state.scene.tracks[cause.signal]?.last;
  const edges = edgesNow(state.scene, one.interlock);
  if (cause.kind !== 'level' || row === undefined || edges === undefined) return false;
  const edge = one.quietBelow - MOVED * (one.quietBelow - edges.inner.low);
  return turn(row, cause.side).high < edge;
};

/** An effect came although the cause, on its way, is still in its clear band: the interlock may act too early. */
const beginEarly = (state: State, one: Case): boolean => {
  const runs = one.interlock.effects.flatMap(({ signal, becomes }) => {
    const track = state.scene.tracks[signal];
    const run = track && runNow(track);
    return becomes.kind === 'state' && run?.state === becomes.state && run.from > one.clearLatest
      ? [run]
      : [];
  });
  const after = Math.min(...runs.map((run) => run.after));
  if (!Number.isFinite(after) || !hasMoved(state, one)) return false;
  one.clearEarliest = after;
  one.clearLatest = after;
  begin(state, one);
  return true;
};

/** Waiting: the cause is clear, or it moves before everything was ready and nothing can be said of it. */
const wait = (state: State, one: Case): void => {
  const clear = clearNow(state.scene, one.interlock);
  const row = state.scene.tracks[one.interlock.cause.signal]?.last;
  if (clear === true && row !== undefined) {
    if (one.ready && beginEarly(state, one)) return;
    one.clearSince ??= row.latest;
    one.clearEarliest = row.earliest;
    one.clearLatest = row.latest;
    one.excursion = false;
  } else if (clear === false && one.ready) {
    begin(state, one);
    return;
  } else if (clear === false) {
    if (!one.excursion && one.clearSince !== undefined) event(state, one, 0, 'moved-unready');
    one.excursion = true;
    delete one.clearSince;
  }
  watchRestart(state, one);
  tellWaits(state, one);
};

const pressed = (
  state: State,
  conditions: readonly { signal: number; state: number }[],
  since: number,
): number | undefined => {
  let found: number | undefined;
  for (const { signal, state: active } of conditions) {
    const run = state.scene.tracks[signal]?.runs.findLast((one) => one.state === active && one.from > since);
    if (run !== undefined) found = Math.min(found ?? run.after, run.after);
  }
  return found;
};

const followHands = (state: State, trial: Trial): void => {
  const machine = state.scene.book.machines[trial.interlock.machine];
  const since = Math.min(...trial.watches.map((watch) => watch.changed?.by ?? Number.POSITIVE_INFINITY));
  if (machine === undefined || !Number.isFinite(since)) return;
  const reset = pressed(state, machine.resets, since);
  const started = pressed(state, machine.starts, since);
  if (reset !== undefined) trial.resetAt = reset;
  if (started !== undefined) trial.startAt = started;
};

/** After a trial the machine must stay stopped until somebody starts it. */
const watchRestart = (state: State, one: Case): void => {
  const trial = one.aftermath;
  const machine = state.scene.book.machines[one.interlock.machine];
  if (trial === undefined || machine === undefined || machine.starts.length === 0) return;
  for (const watch of trial.watches) {
    const { effect } = watch;
    if (effect.class !== 'command' || effect.becomes.kind !== 'state' || !watch.changed || watch.wasThere)
      continue;
    const track = state.scene.tracks[effect.signal];
    const run = track && runNow(track);
    if (run === undefined || run.state === effect.becomes.state || run.from <= watch.changed.by) continue;
    if (pressed(state, machine.starts, watch.changed.by) === undefined) {
      const reason = { code: 'restarted-without-start', params: { effect: effect.name } };
      one.extra.push({ name: `restart:${effect.name}`, outcome: 'fail', reason });
      event(state, one, trial.number, reason.code, reason.params);
    }
    delete one.aftermath;
    return;
  }
};

const end = (state: State, one: Case, trial: Trial, standing: Trial['standing']): void => {
  trial.standing = standing;
  const cause = state.scene.tracks[one.interlock.cause.signal];
  if (cause !== undefined) settleQuiet(trial, cause);
  const allowance = state.scene.normalOf(one.interlock)?.normal.allowance;
  const verdict = concludeTrial(trial, one.unit, allowance);
  one.ended.push({ trial, verdict, adjustments: one.adjustments });
  delete one.trial;
  state.running.delete(one.interlock.id);
  one.ready = false;
  if (trial.clearSince === undefined) delete one.clearSince;
  else one.clearSince = trial.clearSince;
  one.clearEarliest = cause?.last?.earliest ?? one.clearEarliest;
  one.clearLatest = cause?.last?.latest ?? one.clearLatest;
  one.aftermath = trial;
  tell(state, one, { kind: 'trial', verdict }, trial.number);
};

const tellChanges = (state: State, one: Case, trial: Trial, before: readonly string[]): void => {
  for (const watch of trial.watches) {
    const now = marksOf(trial, watch.index);
    if (now !== before[watch.index]) event(state, one, trial.number, now, { effect: watch.effect.name });
  }
};

const marksOf = (trial: Trial, index: number): string => {
  const watch = trial.watches.find((candidate) => candidate.index === index);
  if (watch?.released) return 'effect-released';
  if (watch?.missedAt !== undefined && !watch.changed) return 'effect-overdue';
  return watch?.changed && !watch.wasThere ? 'effect-came' : '';
};

const pursue = (state: State, one: Case, trial: Trial): void => {
  const before = one.interlock.effects.map((_, index) => marksOf(trial, index));
  const reached = trial.reached !== undefined;
  followTrial(trial, state.scene.tracks, state.now);
  followHands(state, trial);
  attribute(state.scene, trial);
  if (!reached && trial.reached !== undefined) event(state, one, trial.number, 'cause-reached');
  tellChanges(state, one, trial, before);
  if (isOver(trial, state.scene.tracks)) end(state, one, trial, 'complete');
};

/** Interlocks that the signals of the last instant concern, in the order of the book. */
const concerned = (state: State): number[] => {
  const { touched } = state.pending;
  const { causes, trials, isOutput } = state.watchers;
  const found = new Set<number>();
  let output = false;
  for (const signal of touched) {
    for (const id of causes[signal] ?? []) found.add(id);
    output ||= isOutput[signal] === true;
    if (state.running.size === 0) continue;
    for (const id of trials[signal] ?? []) if (state.running.has(id)) found.add(id);
  }
  // Any output may be a cross-trip: every running trial looks.
  if (output) for (const id of state.running) found.add(id);
  return [...found].sort((a, b) => a - b);
};

/** Judges everything of the last instant. */
const settleInstant = (state: State): void => {
  const { touched, latest } = state.pending;
  if (touched.size === 0) return;
  state.now = latest;
  if (state.window !== '') {
    for (const signal of touched) {
      for (const normal of state.watchers.normals[signal] ?? []) learn(normal, state.scene.tracks);
    }
    for (const id of concerned(state)) {
      const one = state.cases.get(id as InterlockId);
      if (one?.trial) pursue(state, one, one.trial);
      else if (one) wait(state, one);
    }
  }
  touched.clear();
};

const takeReadings = (state: State, readings: Readings): void => {
  for (let index = 0; index < readings.length; index += 1) {
    const latest = readings.latest[index] ?? 0;
    if (latest !== state.pending.latest) settleInstant(state);
    const signal = readings.signal[index] ?? 0;
    const track = state.scene.tracks[signal];
    if (track === undefined) continue;
    const before = track.last?.low;
    take(track, readings, index);
    state.pending.latest = latest;
    state.pending.touched.add(signal);
    if (track.last !== undefined && track.last.low !== before) {
      for (const machine of state.watchers.heartbeats[signal] ?? []) state.scene.beats[machine] = latest;
    }
  }
};

const newCase = (state: State, id: InterlockId, method: Method): Case | undefined => {
  const interlock = state.scene.book.interlocks[id];
  if (interlock === undefined) return undefined;
  return {
    interlock,
    method,
    unit: state.scene.book.signals[interlock.cause.signal]?.unit ?? '',
    clearEarliest: Number.NEGATIVE_INFINITY,
    clearLatest: Number.NEGATIVE_INFINITY,
    quietBelow: Number.POSITIVE_INFINITY,
    ready: false,
    waits: [],
    told: '-',
    ended: [],
    adjustments: 0,
    excursion: false,
    extra: [],
  };
};

const openWindow = (state: State, mark: Mark & { code: 'window-opened' }): void => {
  state.window = mark.window;
  state.doubts = [];
  state.cases = new Map();
  for (const normal of state.normals) {
    delete normal.learned;
    learn(normal, state.scene.tracks);
  }
  for (const { interlock, method } of mark.stimuli) {
    const one = newCase(state, interlock, method);
    if (one) state.cases.set(interlock, one);
  }
};

const closeWindow = (state: State): void => {
  for (const one of state.cases.values()) {
    if (one.trial) end(state, one, one.trial, 'unfinished');
    const verdict = concludeWindow({
      interlock: one.interlock,
      unit: one.unit,
      trials: one.ended,
      adjustments: one.adjustments,
      waits: one.waits,
      doubts: state.doubts,
      extra: one.extra,
    });
    tell(state, one, { kind: 'window', verdict }, verdict.trial);
  }
  state.cases = new Map();
  state.window = '';
};

const openTrials = (state: State): readonly [Case, Trial][] =>
  [...state.cases.values()].flatMap((one): [Case, Trial][] => (one.trial ? [[one, one.trial]] : []));

const takeMark = (state: State, mark: Mark): void => {
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
        if (one.interlock.machine === mark.machine) trial.attested.set(mark.what, mark.by);
      }
      return;
    case 'adjusted': {
      const one = state.cases.get(mark.interlock);
      if (one) one.adjustments += 1;
      return;
    }
    case 'trial-aborted': {
      const one = state.cases.get(mark.interlock);
      if (one?.trial === undefined) return;
      one.trial.doubts.set('aborted', { code: 'trial-aborted', params: { by: mark.by, text: mark.text } });
      end(state, one, one.trial, 'aborted');
      return;
    }
    case 'bypassed': {
      const one = state.cases.get(mark.interlock);
      if (one?.trial) one.trial.doubts.set('bypassed', { code: 'attested-bypass', params: { by: mark.by } });
      else state.doubts.push({ code: 'attested-bypass', params: { by: mark.by } });
      return;
    }
    case 'clock-stepped':
      for (const [, trial] of openTrials(state)) {
        trial.doubts.set('clock', { code: 'clock-stepped', params: { by: mark.by / 1_000_000 } });
      }
      return;
    case 'revision':
      takeRevision(state, mark);
      return;
    case 'interrupted':
      for (const [one, trial] of openTrials(state)) {
        trial.doubts.set('interrupted', {
          code: 'interrupted',
          params: { seconds: (mark.at - mark.from) / 1_000_000 },
        });
        end(state, one, trial, 'interrupted');
      }
      return;
    default:
      mark satisfies never;
  }
};

const takeRevision = (state: State, mark: Mark & { code: 'revision' }): void => {
  const before = state.revisions.get(mark.machine);
  state.revisions.set(mark.machine, mark.text);
  if (before === undefined || before === mark.text || state.window === '') return;
  state.doubts.push({ code: 'revision-changed', params: { from: before, to: mark.text } });
};

/**
 * Takes readings or a mark; returns what there is to say. Changes `state` in place, nothing else. The same
 * findings come out for any chunking of the readings.
 */
export const step = (state: State, input: Input): readonly Finding[] => {
  state.findings = [];
  if ('readings' in input) takeReadings(state, input.readings);
  else {
    settleInstant(state);
    takeMark(state, input.mark);
  }
  return state.findings;
};

/** What each interlock of the open window waits for now. */
export const waitsNow = (
  state: State,
): ReadonlyMap<InterlockId, { readonly waits: readonly Reason[]; readonly trial: number }> =>
  new Map(
    [...state.cases].map(([id, one]) => [
      id,
      { waits: one.trial ? [] : one.waits, trial: one.trial?.number ?? 0 },
    ]),
  );
