import type { Cause } from '../rulebook/index.ts';
import type { SignalDef } from '../signal/index.ts';
import { groupOf } from './cause-text.ts';
import { bandSide, bandTexts, clearsOf, levelTexts } from './interlock-levels.ts';
import { levelOf, nominalOf, type Work } from './level-build.ts';
import { checkLevels } from './level-check.ts';
import { placeOf, signalAt } from './machines.ts';
import type { CauseText, SingleText } from './pack-schema.ts';
import { inUnit, micros } from './quantities.ts';
import type { Role } from './role.ts';
import type { Path } from './tree.ts';
import type { Loose } from './walk.ts';

type Single = Loose<SingleText>;

const levelCause = (
  work: Work,
  cause: Single,
  path: Path,
  role: Role,
  signal: SignalDef,
): Cause | undefined => {
  checkLevels(work.look, cause, path, role, signal.unit, nominalOf(work.draft, role, signal.unit));
  const texts = levelTexts(cause, role);
  if (texts === undefined) return undefined;
  const setPoint = levelOf(work, texts.setPoint, signal, role);
  const tolerance = levelOf(work, texts.tolerance, signal, role, work.draft, true);
  if (setPoint === undefined || tolerance === undefined) return undefined;
  const clears = levelOf(work, texts.clears, signal, role) ?? clearsOf(texts.side, setPoint, tolerance);
  return { kind: 'level', signal: signal.id, side: texts.side, setPoint, tolerance, clears };
};

const bandCause = (work: Work, cause: Single, role: Role, signal: SignalDef): Cause | undefined => {
  const texts = bandTexts(cause, role);
  const near = levelOf(work, texts.near, signal, role);
  const far = levelOf(work, texts.far, signal, role);
  const side = near === undefined || far === undefined ? undefined : bandSide(near, far);
  if (near === undefined || far === undefined || side === undefined) return undefined;
  return { kind: 'band', signal: signal.id, side, near, far, hold: micros(cause.hold, 0) };
};

/** A sensor's fault shows over Modbus only where the tag says which raw values mean one, or a current tells it. */
const warnUnseen = (work: Work, signal: SignalDef): void => {
  const { address, decoding } = signal;
  const told = 'faults' in decoding && (decoding.faults ?? []).length > 0;
  const looped = 'curve' in decoding && decoding.curve?.as === 'loop';
  if (address.kind !== 'modbus' || told || looped) return;
  const params = { interlock: `${work.draft.name}.${work.look.name}`, tag: signal.name };
  work.site.warn(placeOf(work.draft, [], 'key'), 'sensor-fault-unseen', params);
};

const single = (work: Work, cause: Single, path: Path): Cause | undefined => {
  const role = work.draft.pack.roles.get(cause.signal ?? '');
  const def = role && signalAt(work.draft, work.site.signals, role.name);
  if (role === undefined || def === undefined) return undefined;
  const signal = def.id;
  if (cause.is !== undefined) return { kind: 'contact', signal, state: role.states.indexOf(cause.is) };
  if (cause['no-pulses-for'] !== undefined)
    return { kind: 'no-pulses', signal, after: micros(cause['no-pulses-for'], 0) };
  if (cause['silent-for'] !== undefined)
    return { kind: 'silent', signal, after: micros(cause['silent-for'], 0) };
  if (cause['stuck-for'] !== undefined) {
    const within = inUnit(cause.within, def.unit, true);
    return within === undefined
      ? undefined
      : { kind: 'stuck', signal, within, after: micros(cause['stuck-for'], 0) };
  }
  if (cause.restarts !== undefined) return { kind: 'restart', signal };
  if (cause['sensor-fault'] !== undefined) {
    warnUnseen(work, def);
    return { kind: 'sensor-fault', signal };
  }
  if (cause.between !== undefined) return bandCause(work, cause, role, def);
  return levelCause(work, cause, path, role, def);
};

/** The cause on the machine's own signals; undefined where something of it has faults (and has been told). */
export const causeOf = (
  work: Work,
  cause: Loose<CauseText> | undefined,
  path: Path = ['cause'],
): Cause | undefined => {
  if (cause === undefined) return undefined;
  const group = groupOf(cause);
  if (group === undefined) return single(work, cause, path);
  const members = group.members.map((member, index) => causeOf(work, member, [...path, group.key, index]));
  const of = members.filter((member) => member !== undefined);
  const [lead] = of;
  if (lead === undefined || of.length < members.length) return undefined;
  return { kind: 'group', signal: lead.signal, need: group.need, of };
};
