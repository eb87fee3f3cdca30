import type { Reason } from '../measure/index.ts';
import { SECOND } from '../measure/index.ts';
import { type Condition, causeRoots, causeSignals, type Interlock } from '../rulebook/index.ts';
import { longestDelay } from './aspect.ts';
import { authenticity } from './authenticity.ts';
import { nested } from './nested.ts';
import { nameOf, type Output, type Scene } from './scene.ts';
import { couldHaveBeen, mayHideAPress } from './track.ts';
import { gapOfCause, initiating, type Trial } from './trial.ts';

/** A heartbeat that stands still for longer says that the controller is not scanning. */
const HEARTBEAT = 5 * SECOND;
/** A trip bit that is slower than this after the command did not cause it. */
const TRIP_BIT = SECOND;

const stateOf = (scene: Scene, signal: number, state: number): string =>
  scene.book.signals[signal]?.states[state] ?? String(state);

const add = (into: Map<string, Reason>, code: string, params: Reason['params']): void => {
  const key = `${code} ${Object.values(params).join(' ')}`;
  if (!into.has(key)) into.set(key, { code, params });
};

/** Conditions (a button, a bypass) that may have been active in the span; unknown counts as possible. */
const possible = (scene: Scene, conditions: readonly Condition[], from: number, to: number): Condition[] =>
  conditions.filter(({ signal, state }) => {
    const track = scene.tracks[signal];
    return track !== undefined && couldHaveBeen(track, state, from, to);
  });

/** From where on an interlock's cause may have been in its trip region; undefined: certainly not now. */
const activeAfter = (scene: Scene, other: Interlock): number | undefined => {
  const track = scene.tracks[other.cause.signal];
  if (track?.last === undefined) return Number.NEGATIVE_INFINITY;
  const position = scene.positionOf(other);
  if (position === undefined) {
    if (track.absent === undefined) return undefined;
    return track.gaps.at(-1)?.from ?? Number.NEGATIVE_INFINITY;
  }
  return position.possible ? (position.reachedAfter ?? Number.NEGATIVE_INFINITY) : undefined;
};

const sharesEffect = (one: Interlock, other: Interlock): boolean =>
  one.effects.some((a) =>
    other.effects.some(
      (b) =>
        a.signal === b.signal &&
        a.becomes.kind === 'state' &&
        b.becomes.kind === 'state' &&
        a.becomes.state === b.becomes.state,
    ),
  );

/** The least time that an interlock takes to act once its cause is there. */
const leastDelay = (other: Interlock): number => {
  const own = other.delay ? other.delay.time - other.delay.tolerance : 0;
  return Math.max(0, own) + (other.cause.kind === 'no-pulses' ? other.cause.after : 0);
};

/** A stopped machine's speed falls without anybody moving its sensor. */
const isArmed = (scene: Scene, other: Interlock): boolean =>
  other.armed.when.every(({ signal, state }) => scene.tracks[signal]?.runs.at(-1)?.state === state);

/** Certainly not armed at any time of the span: such an interlock brings nothing about. */
const neverArmed = (scene: Scene, other: Interlock, from: number, to: number): boolean =>
  other.armed.when.some(({ signal, state }) => {
    const track = scene.tracks[signal];
    return track !== undefined && !couldHaveBeen(track, state, from, to);
  });

/** One sensor behind both: where it moves, the other moves with it by right. */
const sharesSensor = ({ book }: Scene, one: Interlock, other: Interlock): boolean => {
  const roots = causeRoots(book, one.cause);
  return [...causeRoots(book, other.cause)].some((signal) => roots.has(signal));
};

const competing = (scene: Scene, trial: Trial, by: number): void => {
  for (const other of scene.book.interlocks) {
    if (other.id === trial.interlock.id || nested(trial.interlock, other)) continue;
    const shares = sharesEffect(trial.interlock, other);
    const replaced = trial.method !== 'real' && trial.method !== 'unstated';
    const elsewhere = replaced && !sharesSensor(scene, trial.interlock, other) && isArmed(scene, other);
    if (!shares && !elsewhere) continue;
    const since = activeAfter(scene, other);
    if (since === undefined || since + leastDelay(other) >= by) continue;
    if (neverArmed(scene, other, trial.leftAfter, by)) continue;
    if (shares) add(trial.doubts, 'competing-cause', { interlock: other.name });
    else if (since > trial.leftAfter)
      add(trial.cautions, 'siblings-moved', { signal: nameOf(scene, other.cause.signal) });
  }
};

/** The interlock is about this very condition: a stop button under test, what must happen while bypassed. */
const isSubject = ({ interlock }: Trial, signal: number): boolean =>
  causeSignals(interlock.cause).some((id) => id === signal) ||
  interlock.armed.when.some((one) => one.signal === signal) ||
  interlock.effects.some((effect) => effect.signal === signal);

/** Signals that show what the interlock did. */
const ownEffects = ({ interlock }: Trial): readonly number[] => interlock.effects.map(({ signal }) => signal);

const forcedSignals = (scene: Scene, trial: Trial, by: number): void => {
  for (const signal of [...causeSignals(trial.interlock.cause), ...ownEffects(trial)]) {
    const track = scene.tracks[signal];
    const forced = track !== undefined && track.forcedAt >= trial.leftAfter && track.forcedAt <= by;
    if (forced && (trial.method !== 'forced' || signal !== trial.interlock.cause.signal))
      add(trial.doubts, 'forced-during-trial', { signal: nameOf(scene, signal) });
  }
};

const hands = (scene: Scene, trial: Trial, by: number): void => {
  const machine = scene.book.machines[trial.interlock.machine];
  if (machine === undefined) return;
  const doubt = (conditions: readonly Condition[], code: string): void => {
    for (const { signal } of possible(scene, conditions, trial.leftAfter, by)) {
      if (!isSubject(trial, signal)) add(trial.doubts, code, { signal: nameOf(scene, signal) });
    }
  };
  doubt(machine.bypasses, 'bypass-during-trial');
  doubt(machine.forces, 'forced-during-trial');
  forcedSignals(scene, trial, by);
  // Where the command's end is part of the cause, a stop by hand is how it is tried.
  const commands = new Set<number>(machine.running.map(({ signal }) => signal));
  if (causeSignals(trial.interlock.cause).some((signal) => commands.has(signal))) return;
  doubt(machine.stops, 'stop-by-hand');
  // A trip bit tells a trip from a stop; without one, a stop that nobody could see is not excluded.
  if (machine.tripped.length === 0 && !trial.attested.has('no-stop-pressed')) {
    for (const { signal } of machine.stops) {
      const track = scene.tracks[signal];
      if (track !== undefined && mayHideAPress(track) && !isSubject(trial, signal))
        add(trial.cautions, 'press-not-excluded', { signal: nameOf(scene, signal) });
    }
  }
};

/** The arming condition went away before the effect can have begun; what the effect itself changes is no loss of it. */
const disarmed = (scene: Scene, trial: Trial, before: number): void => {
  const { armed, effects } = trial.interlock;
  for (const { signal, state } of armed.when) {
    if (effects.some((effect) => effect.signal === signal)) continue;
    const run = scene.tracks[signal]?.runs.at(-1);
    if (run !== undefined && run.state !== state && run.from <= before && run.from > trial.clearUntil) {
      add(trial.doubts, 'arming-lost', { signal: nameOf(scene, signal) });
    }
  }
};

const evidence = (scene: Scene, trial: Trial, from: number, to: number): void => {
  const cause = scene.tracks[trial.interlock.cause.signal];
  const gap = cause && gapOfCause(trial, cause, from, to);
  if (cause !== undefined && gap !== undefined) {
    const seconds = Math.round((gap.to - gap.from) / 1_000) / 1_000;
    const params = { signal: cause.def.name, absence: gap.why, seconds };
    // Told once, with its length as far as it is known.
    trial.doubts.set(`evidence-gap ${cause.def.name}`, { code: 'evidence-gap', params });
  }
  for (const signal of [...causeSignals(trial.interlock.cause), ...ownEffects(trial)]) {
    const at = scene.tracks[signal]?.doubtfulAt ?? Number.NEGATIVE_INFINITY;
    if (at >= from && at <= to) add(trial.doubts, 'uncertain-value', { signal: nameOf(scene, signal) });
  }
  const machine = scene.book.machines[trial.interlock.machine];
  const beat = scene.beats[trial.interlock.machine] ?? Number.NEGATIVE_INFINITY;
  if (machine?.heartbeat !== undefined && Number.isFinite(beat) && to - beat > HEARTBEAT) {
    add(trial.doubts, 'heartbeat-still', { signal: nameOf(scene, machine.heartbeat) });
  }
};

/** The longest time for which a cause that has gone again explains an output. */
const slowest = (other: Interlock): number => TRIP_BIT + longestDelay(other);

/** An output that went to an acting state which no active cause explains. */
const unlistedAt = (scene: Scene, trial: Trial, { machine, signal }: Output): void => {
  const run = scene.tracks[signal]?.runs.at(-1);
  // What may have changed since counts; only what certainly came before does not.
  if (run === undefined || run.from <= trial.leftAfter || !Number.isFinite(run.after)) return;
  if (trial.interlock.effects.some((effect) => effect.signal === signal)) return;
  if (trial.explained.get(signal) === run.from) return;
  trial.explained.set(signal, run.from);
  const listing = scene.listing(signal, run.state);
  if (listing.length === 0) return;
  if (listing.some((other) => scene.possibleUntil(other) >= run.after - slowest(other))) return;
  if (possible(scene, machine.stops, trial.leftAfter, run.from).length > 0) return;
  add(trial.cautions, machine.index === trial.interlock.machine ? 'unlisted-change' : 'other-machine-acted', {
    signal: nameOf(scene, signal),
    state: stateOf(scene, signal, run.state),
    machine: machine.name,
  });
};

/** All outputs at the first look; after that those that have changed, since what did not is explained or came before. */
const unlisted = (scene: Scene, trial: Trial, changed: readonly number[]): void => {
  if (trial.looked) {
    for (const place of changed) {
      const output = scene.outputs[place];
      if (output !== undefined) unlistedAt(scene, trial, output);
    }
    return;
  }
  trial.looked = true;
  for (const output of scene.outputs) unlistedAt(scene, trial, output);
};

/** A command that dropped while the trip bit stayed healthy was stopped by somebody, not by the interlock. */
const hides = (scene: Scene, signal: number): boolean => {
  const track = scene.tracks[signal];
  return track === undefined || mayHideAPress(track);
};

const tripBit = (scene: Scene, trial: Trial): void => {
  const machine = scene.book.machines[trial.interlock.machine];
  const command = trial.watches.find(
    (watch) => watch.effect.class === 'command' && watch.changed && !watch.wasThere,
  );
  if (machine === undefined || command?.changed === undefined) return;
  for (const { signal, state } of machine.tripped) {
    const track = scene.tracks[signal];
    const run = track?.runs.at(-1);
    if (track?.last === undefined || run === undefined) continue;
    const silent = run.state !== state && track.last.earliest > command.changed.by + TRIP_BIT;
    const was = couldHaveBeen(track, state, trial.leftAfter, trial.now);
    if (!silent || was) continue;
    add(trial.cautions, 'trip-bit-silent', { signal: nameOf(scene, signal) });
    // Where a person may have stopped it unseen, there was nothing left to trip.
    const unseen = machine.stops.length === 0 || machine.stops.some((one) => hides(scene, one.signal));
    if (unseen && !trial.attested.has('no-stop-pressed')) trial.stoppedUnseen = true;
  }
  if (machine.tripped.length === 0 && machine.stops.length === 0 && !trial.attested.has('no-stop-pressed')) {
    add(trial.cautions, 'hand-stop-not-excluded', { machine: machine.name });
  }
};

/** Feedback before command, motion before either: the machine stopped for another reason. */
const order = (trial: Trial): void => {
  const command = trial.watches.find((watch) => watch.effect.class === 'command' && watch.changed);
  if (command?.changed === undefined) return;
  for (const watch of trial.watches) {
    const later = watch.effect.class === 'feedback' || watch.effect.class === 'motion';
    if (later && !watch.effect.cascade && watch.changed && watch.changed.by <= command.changed.after) {
      add(trial.cautions, 'order-broken', { effect: watch.effect.name, after: command.effect.name });
    }
  }
};

/** When something that had to stay may first have changed; what follows from that takes no arming away. */
const firstDeparture = (trial: Trial): number =>
  Math.min(
    trial.now,
    ...trial.watches.flatMap(({ changed }) => (changed === undefined ? [] : [changed.after])),
  );

/** Somebody attests that no stop was pressed: that was all that could not be excluded. */
export const excludeStop = (trial: Trial): void => {
  for (const [key, { code }] of trial.cautions) {
    if (code === 'hand-stop-not-excluded' || code === 'press-not-excluded') trial.cautions.delete(key);
  }
};

/** Asked again at the end, when gaps have closed: the span from the cause's way to the effect must be seen. */
export const attributeEnd = (scene: Scene, trial: Trial): void => {
  const first = initiating(trial)?.changed;
  if (first === undefined) return;
  const since = Math.max(trial.reached?.after ?? trial.leftAfter, trial.leftAfter);
  evidence(scene, trial, Math.min(first.after - longestDelay(trial.interlock), since), first.by);
};

/** Whether somebody silenced, reset or started it when an effect went away while its cause was there. */
const excuse = (scene: Scene, trial: Trial): void => {
  const machine = scene.book.machines[trial.interlock.machine];
  if (machine === undefined) return;
  const buttons = [...(machine.silences ?? []), ...machine.resets, ...machine.starts];
  for (const watch of trial.watches) {
    const { released, releasedWhile } = watch;
    if (released === undefined || releasedWhile !== true || watch.excused !== undefined) continue;
    watch.excused = possible(scene, buttons, released.after - TRIP_BIT, released.by).length > 0;
  }
};

/**
 * Everything that could have brought the effect about beside the cause, up to the effect; or taken it away. `changed`: places
 * in `scene.outputs` that show another state since this instant, ascending; undefined where the instant read no output.
 */
export const attribute = (scene: Scene, trial: Trial, changed: readonly number[] | undefined): void => {
  const first = initiating(trial)?.changed;
  if (changed !== undefined) {
    unlisted(scene, trial, changed);
    excuse(scene, trial);
  }
  tripBit(scene, trial);
  order(trial);
  if (first === undefined) {
    if (trial.watches.some((watch) => watch.missedAt !== undefined)) return;
    hands(scene, trial, trial.now);
    disarmed(scene, trial, firstDeparture(trial));
    evidence(scene, trial, trial.reached?.by ?? trial.now, trial.now);
    return;
  }
  if (trial.settledAttribution) return;
  hands(scene, trial, first.by);
  competing(scene, trial, first.by);
  disarmed(scene, trial, first.after);
  authenticity(scene, trial, first.by);
  evidence(scene, trial, first.after - longestDelay(trial.interlock), first.by);
  trial.settledAttribution = true;
};
