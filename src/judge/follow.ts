import type { Cause, References } from '../rulebook/index.ts';
import { bandPosition, newBandMemory } from './cause-band.ts';
import { contactPosition } from './cause-contact.ts';
import { groupPosition } from './cause-group.ts';
import { levelPosition, newLevelMemory } from './cause-level.ts';
import { newPulseMemory, pulsesPosition } from './cause-pulses.ts';
import { newRestartMemory, restartPosition } from './cause-restart.ts';
import { sensorFaultPosition } from './cause-sensor-fault.ts';
import { silentPosition } from './cause-silent.ts';
import { newStuckMemory, stuckPosition } from './cause-stuck.ts';
import { bandEdgesOf, edgesOf } from './levels.ts';
import type { Position } from './position.ts';
import { type Row, rowAt } from './rows.ts';
import { historyOf, type Track } from './track.ts';

/** Follows one cause from reading to reading; says where it is. */
export interface Follower {
  /** Undefined while the signal has no value, or the level's reference is unknown. */
  readonly position: Position | undefined;
  /** Every level that it is made of has its reference. */
  readonly levelled: boolean;
  /** Takes the newest reading of the cause's signals, if there is one. */
  advance(tracks: readonly Track[], references: References): void;
}

/** A cause of which each reading tells by itself, without the way that led there. */
const direct = (signal: number, look: (track: Track) => Position | undefined): Follower => {
  let position: Position | undefined;
  return {
    get position() {
      return position;
    },
    levelled: true,
    advance(tracks) {
      const track = tracks[signal];
      position = track === undefined ? undefined : look(track);
    },
  };
};

/** A cause that remembers its way: takes each reading once, and again from the start when its levels have changed. */
const remembering = <Memory, Levels>(
  signal: number,
  fresh: () => Memory,
  levelsOf: (references: References) => Levels | undefined,
  take: (memory: Memory, row: Row, levels: Levels, track: Track) => Position,
): Follower => {
  let position: Position | undefined;
  let memory = fresh();
  let levels: Levels | undefined;
  let known: References | undefined;
  let taken = 0;
  /** All but the newest, which has its turn behind them. */
  const again = (track: Track): void => {
    memory = fresh();
    if (levels === undefined) return;
    const rows = historyOf(track);
    for (let index = 0; index < rows.length - 1; index += 1) take(memory, rowAt(rows, index), levels, track);
  };
  return {
    get position() {
      return position;
    },
    get levelled() {
      return levels !== undefined;
    },
    advance(tracks, references) {
      const track = tracks[signal];
      const row = track?.last;
      if (track === undefined || row === undefined) return;
      if (known !== references) {
        known = references;
        levels = levelsOf(references);
        again(track);
        taken = 0;
      }
      if (levels === undefined) position = undefined;
      else if (track.taken !== taken) position = take(memory, row, levels, track);
      if (track.absent !== undefined) position = undefined;
      taken = track.taken;
    },
  };
};

const HELD = {};
const always = (): object => HELD;

const group = (cause: Cause & { kind: 'group' }): Follower => {
  const members = cause.of.map(newFollower);
  let position: Position | undefined;
  return {
    get position() {
      return position;
    },
    get levelled() {
      return members.every((member) => member.levelled);
    },
    advance(tracks, references) {
      members.forEach((member, index) => {
        const signal = cause.of[index]?.signal;
        const own = signal === undefined ? undefined : references.members?.[signal];
        member.advance(tracks, own ?? references);
      });
      position = groupPosition(
        cause,
        members.map((member) => member.position),
      );
    },
  };
};

export function newFollower(cause: Cause): Follower {
  const { signal } = cause;
  switch (cause.kind) {
    case 'level':
      return remembering(
        signal,
        newLevelMemory,
        (references) => edgesOf(cause, references),
        (memory, row, edges) => levelPosition(cause, memory, row, edges),
      );
    case 'band':
      return remembering(
        signal,
        newBandMemory,
        (references) => bandEdgesOf(cause, references),
        (memory, row, edges) => bandPosition(cause, memory, row, edges),
      );
    case 'contact':
      return direct(signal, (track) => (track.absent ? undefined : contactPosition(cause, track)));
    case 'no-pulses':
      return remembering(signal, newPulseMemory, always, (memory, row, _, track) =>
        pulsesPosition(cause, memory, row, track.def.quantity === 'count'),
      );
    case 'stuck':
      return remembering(signal, newStuckMemory, always, (memory, row) => stuckPosition(cause, memory, row));
    case 'restart':
      return remembering(signal, newRestartMemory, always, (memory, row) => restartPosition(memory, row));
    case 'sensor-fault':
      return direct(signal, sensorFaultPosition);
    case 'silent':
      return direct(signal, (track) => silentPosition(cause, track));
    case 'group':
      return group(cause);
    default:
      return cause satisfies never;
  }
}
