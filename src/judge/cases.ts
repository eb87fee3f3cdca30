import { instant, type Reason, SECOND, scale } from '../measure/index.ts';
import type { Condition } from '../rulebook/index.ts';
import { attribute, attributeEnd } from './attribution.ts';
import { concludeTrial } from './conclude.ts';
import type { Watch } from './effects.ts';
import { edgesOf, turn } from './levels.ts';
import { isReady, waitsOf } from './readiness.ts';
import { highAt, latestAt, lowAt } from './rows.ts';
import { nameOf } from './scene.ts';
import type { Case, State } from './state.ts';
import { historyOf, mayHideAPress, type Run, runNow, valueNow } from './track.ts';
import { beginTrial, followTrial, isOver, settleEnd, type Trial } from './trial.ts';
import type { Finding } from './types.ts';

/** A finding before it has its instant, interlock and trial. */
type Said<One = Finding> = One extends Finding ? Omit<One, 'at' | 'interlock' | 'trial' | 'demand'> : never;

export const tell = (state: State, one: Case, said: Said, trial: number): void => {
  const at = instant(Number.isFinite(state.now) ? state.now : 0);
  const { id } = one.interlock;
  state.findings.push({ at, interlock: id, trial, ...(!one.tested && { demand: true as const }), ...said });
};

const event = (state: State, one: Case, trial: number, code: string, params: Reason['params'] = {}): void =>
  tell(state, one, { kind: 'event', reason: { code, params } }, trial);

/** The baseline's lowest value: what a level must lie under, else the interlock would have acted already. */
const lowestOf = (state: State, one: Case): number => {
  const { cause, baseline } = one.interlock;
  const track = state.scene.tracks[cause.signal];
  if (cause.kind === 'contact') return 1;
  if ((cause.kind !== 'level' && cause.kind !== 'band') || track === undefined)
    return Number.POSITIVE_INFINITY;
  const rows = historyOf(track);
  let lowest = Number.POSITIVE_INFINITY;
  for (let index = rows.length - 1; index >= 0 && latestAt(rows, index) >= state.now - baseline; index -= 1)
    lowest = Math.min(lowest, cause.side === 'below' ? lowAt(rows, index) : -highAt(rows, index));
  return lowest;
};

/** What an interlock waits for is put into words when it turns ready or unready, and this often. */
const SAY_EVERY = SECOND;

const tellWaits = (state: State, one: Case): void => {
  const { blocking, advice } = waitsOf(state.scene, one, state.now);
  one.waits = [...blocking, ...advice];
  one.saidAt = state.now;
  if (one.waits.length === 0 && one.told === '') return;
  const key = one.waits
    .map(({ code, params }) => `${code} ${String(params['signal'] ?? params['effect'] ?? '')}`)
    .join();
  if (key === one.told) return;
  one.told = key;
  tell(state, one, { kind: 'waits', reasons: one.waits }, 0);
};

const keepReady = (state: State, one: Case): void => {
  const ready = isReady(state.scene, one, state.now);
  const turned = ready !== one.ready;
  if (ready && turned) {
    one.quietBelow = lowestOf(state, one);
    one.readySince = state.now;
  }
  one.ready = ready;
  if (one.tested && (turned || state.now - one.saidAt >= SAY_EVERY)) tellWaits(state, one);
};

const begin = (state: State, one: Case): void => {
  const references = one.referencesNow(state.scene.tracks);
  one.trials += 1;
  one.trial = beginTrial(
    one.interlock,
    one.trials,
    one.method,
    state.scene.tracks,
    references,
    edgesOf(one.interlock.cause, references),
    {
      earliest: one.clearEarliest,
      latest: one.clearLatest,
      since: one.readySince,
      quietBelow: one.quietBelow,
    },
  );
  const earlier = state.earlier.get(one.interlock.id);
  if (earlier !== undefined) one.trial.earlier = earlier;
  one.trial.against = (state.scene.normalOf(one.interlock)?.normal.against ?? []).map(
    ({ signal, factor }) => {
      const row = valueNow(state.scene.tracks[signal]);
      return { signal: nameOf(state.scene, signal), value: row && scale(row, factor) };
    },
  );
  one.aftermath = undefined;
  state.running.add(one.interlock.id);
  event(state, one, one.trial.number, 'trial-began');
};

/** The share of the way from the baseline to the band that counts as moved, not as noise. */
const MOVED = 0.25;

const hasMoved = (state: State, one: Case): boolean => {
  const { cause } = one.interlock;
  const row = state.scene.tracks[cause.signal]?.last;
  if (cause.kind !== 'level' || row === undefined) return false;
  const edges = edgesOf(cause, one.referencesNow(state.scene.tracks));
  if (edges === undefined) return false;
  const edge = one.quietBelow - MOVED * (one.quietBelow - edges.inner.low);
  return turn(row, cause.side).high < edge;
};

/** An effect came although the cause, on its way, is still in its clear band: the interlock may act too early. */
const beginEarly = (state: State, one: Case): boolean => {
  let after = Number.POSITIVE_INFINITY;
  for (const { signal, becomes } of one.interlock.effects) {
    if (becomes.kind !== 'state') continue;
    const track = state.scene.tracks[signal];
    const run = track && runNow(track);
    if (run?.state === becomes.state && run.from > one.clearLatest) after = Math.min(after, run.after);
  }
  if (!Number.isFinite(after) || !hasMoved(state, one)) return false;
  one.clearEarliest = after;
  one.clearLatest = after;
  begin(state, one);
  return true;
};

/** Waiting: the cause is clear, or it moves before everything was ready and nothing can be said of it. */
const wait = (state: State, one: Case): void => {
  const { position } = one.follower;
  const track = state.scene.tracks[one.interlock.cause.signal];
  if (position?.clear === true && track !== undefined) {
    if (one.ready && beginEarly(state, one)) return;
    one.clearSince ??= track.newsLatest;
    one.clearEarliest = track.newsEarliest;
    one.clearLatest = track.newsLatest;
    one.excursion = false;
  } else if (position?.clear === false && one.ready) {
    begin(state, one);
    return;
  } else if (position?.clear === false) {
    if (one.tested && !one.excursion && one.clearSince !== undefined) event(state, one, 0, 'moved-unready');
    one.excursion = true;
    one.clearSince = undefined;
  }
  watchAftermath(state, one);
  keepReady(state, one);
};

/** The earliest press of a button since an instant. */
export const pressed = (
  state: State,
  conditions: readonly Condition[],
  since: number,
): number | undefined => {
  let found: number | undefined;
  for (const { signal, state: active } of conditions) {
    const run = state.scene.tracks[signal]?.runs.find((one) => one.state === active && one.from > since);
    if (run !== undefined) found = Math.min(found ?? run.after, run.after);
  }
  return found;
};

const followHands = (state: State, trial: Trial): void => {
  const machine = state.scene.book.machines[trial.interlock.machine];
  let since = Number.POSITIVE_INFINITY;
  for (const watch of trial.watches) since = Math.min(since, watch.changed?.by ?? since);
  if (machine === undefined || !Number.isFinite(since)) return;
  const reset = pressed(state, machine.resets, since);
  const started = pressed(state, machine.starts, since);
  if (reset !== undefined) trial.resetAt = reset;
  if (started !== undefined) trial.startAt = started;
  const hidden = hiddenPress(state, [...machine.resets, ...machine.starts]);
  // Up to the release; a press that could not be seen stays possible, however often the button is read later.
  const holds = trial.watches.some(
    ({ changed, released }) => changed !== undefined && (released === undefined || released.by >= state.now),
  );
  if (hidden !== undefined && holds) trial.hidden = String(hidden.params['signal']);
};

const hiddenPress = (state: State, buttons: readonly Condition[]): Reason | undefined => {
  const hidden = buttons.find(({ signal }) => {
    const track = state.scene.tracks[signal];
    return track !== undefined && mayHideAPress(track);
  });
  return hidden && { code: 'press-not-excluded', params: { signal: nameOf(state.scene, hidden.signal) } };
};

/** Something that nobody asked for, after a trial: a fail, unless a press may have been missed. */
const tellAftermath = (
  state: State,
  one: Case,
  name: string,
  reason: Reason,
  buttons: readonly Condition[],
): void => {
  const unseen = hiddenPress(state, buttons);
  const told = unseen ?? reason;
  one.extra.push({ name, outcome: unseen ? 'inconclusive' : 'fail', reason: told });
  event(state, one, one.aftermath?.number ?? 0, told.code, told.params);
};

/** The newest press of a button since an instant. */
const lastPressed = (state: State, conditions: readonly Condition[], since: number): Run | undefined => {
  let found: Run | undefined;
  for (const { signal, state: active } of conditions) {
    const run = state.scene.tracks[signal]?.runs.findLast(
      (each) => each.state === active && each.from > since,
    );
    if (run !== undefined && (found === undefined || run.from > found.from)) found = run;
  }
  return found;
};

/** The run after the effect's, where the signal has left the state that it had to keep. */
const departed = (state: State, { effect, changed, wasThere, released }: Watch): Run | undefined => {
  if (effect.becomes.kind !== 'state' || changed === undefined || wasThere || released) return undefined;
  const track = state.scene.tracks[effect.signal];
  const run = track && runNow(track);
  return run === undefined || run.state === effect.becomes.state || run.from <= changed.by ? undefined : run;
};

/**
 * After a trial what is latched must stay until somebody resets it, and the machine stopped until somebody starts it:
 * a start that was pressed before the reset, and held, is none.
 */
const watchAftermath = (state: State, one: Case): void => {
  const trial = one.aftermath;
  const machine = state.scene.book.machines[one.interlock.machine];
  if (trial === undefined || machine === undefined) return;
  for (const watch of trial.watches) {
    const { effect, changed } = watch;
    const run = changed && departed(state, watch);
    if (changed === undefined || run === undefined) continue;
    const reset = lastPressed(state, machine.resets, changed.by);
    const start = lastPressed(state, machine.starts, reset?.after ?? changed.by);
    if (effect.class === 'command' && machine.starts.length > 0 && start === undefined) {
      const reason = { code: 'restarted-without-start', params: { effect: effect.name } };
      tellAftermath(state, one, `restart:${effect.name}`, reason, machine.starts);
    } else if (
      effect.until === 'reset' &&
      machine.resets.length > 0 &&
      reset === undefined &&
      start === undefined
    ) {
      const reason = { code: 'gone-without-reset', params: { effect: effect.name } };
      tellAftermath(state, one, `held:${effect.name}`, reason, machine.resets);
    } else if (effect.class !== 'command') continue;
    one.aftermath = undefined;
    return;
  }
};

/** A demand's trials are told and forgotten; a window keeps its own until it closes. */
export const end = (state: State, one: Case, trial: Trial, standing: Trial['standing']): void => {
  trial.standing = standing;
  const cause = state.scene.tracks[one.interlock.cause.signal];
  if (cause !== undefined) settleEnd(trial, cause);
  attributeEnd(state.scene, trial);
  const allowance = state.scene.normalOf(one.interlock)?.normal.allowance;
  const verdict = concludeTrial(trial, one.unit, allowance);
  if (one.tested || one.recorded) one.ended.push({ trial, verdict, adjustments: one.adjustments });
  one.trial = undefined;
  state.running.delete(one.interlock.id);
  one.ready = false;
  one.clearSince = trial.clearSince;
  one.clearEarliest = cause?.newsEarliest ?? one.clearEarliest;
  one.clearLatest = cause?.newsLatest ?? one.clearLatest;
  one.aftermath = trial;
  tell(state, one, { kind: 'trial', verdict }, trial.number);
};

const marksOf = (trial: Trial, index: number): string => {
  const watch = trial.watches[index];
  if (watch?.released) return 'effect-released';
  if (watch?.missedAt !== undefined && !watch.changed) return 'effect-overdue';
  return watch?.changed && !watch.wasThere ? 'effect-came' : '';
};

const pursue = (state: State, one: Case, trial: Trial, outputs: boolean): void => {
  const before = trial.watches.map((_, index) => marksOf(trial, index));
  const reached = trial.reached !== undefined;
  followTrial(trial, state.scene.tracks, one.follower.position, state.now);
  followHands(state, trial);
  attribute(state.scene, trial, outputs ? state.turn.changed.list : undefined);
  if (!reached && trial.reached !== undefined) event(state, one, trial.number, 'cause-reached');
  trial.watches.forEach(({ effect }, index) => {
    const now = marksOf(trial, index);
    if (now !== '' && now !== before[index]) event(state, one, trial.number, now, { effect: effect.name });
  });
  if (isOver(trial, state.scene.tracks)) end(state, one, trial, 'complete');
};

/** Looks where the cause is now. */
export const follow = (state: State, one: Case): void => {
  const { tracks } = state.scene;
  one.follower.advance(tracks, one.trial?.references ?? one.referencesNow(tracks));
  const { position } = one.follower;
  const lost = tracks[one.interlock.cause.signal]?.absent !== undefined;
  if (position === undefined ? lost : position.possible) one.possibleUntil = state.now;
};

/** Takes the instant that has just been read into account. `outputs`: an output of some machine was among it. */
export const advance = (state: State, one: Case, caused: boolean, outputs: boolean): void => {
  if (one.trial === undefined && caused) wait(state, one);
  // A trial that begins with this instant has seen it too.
  if (one.trial !== undefined) pursue(state, one, one.trial, outputs);
};
