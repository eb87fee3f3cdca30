import { SECOND } from '../measure/index.ts';
import type {
  Armed,
  Condition,
  Decision,
  Interlock,
  InterlockId,
  Level,
  Limit,
  Release,
  Repeat,
} from '../rulebook/index.ts';
import type { SignalDef } from '../signal/index.ts';
import { causeOf } from './cause-build.ts';
import { leavesOf } from './cause-text.ts';
import { effectsOf } from './effect-build.ts';
import { bandTexts, type LevelTexts, levelTexts } from './interlock-levels.ts';
import { CONDITION } from './leaves.ts';
import { levelOf, type Site, type Work } from './level-build.ts';
import { listOf } from './look.ts';
import { type Draft, placeOf, signalAt } from './machines.ts';
import { relatives } from './presence.ts';
import { micros } from './quantities.ts';
import { relationOf } from './relations.ts';
import type { Role } from './role.ts';
import { upkeepOf } from './upkeep.ts';

const conditionOf = (work: Work, text: string): readonly Condition[] => {
  const found = CONDITION.exec(text);
  const { relation, role: name } = relationOf(found?.[1] ?? '');
  const owners = relation === undefined ? [work.draft] : relatives(work.draft, work.site.drafts, relation);
  return owners.flatMap((draft): readonly Condition[] => {
    const role = draft.pack.roles.get(name);
    const signal = role && signalAt(draft, work.site.signals, role.name);
    if (role !== undefined && signal !== undefined)
      return [{ signal: signal.id, state: role.states.indexOf(found?.[2] ?? '') }];
    if (role?.optional === true && !draft.tags.has(role.name)) {
      const params = {
        interlock: `${work.draft.name}.${work.look.name}`,
        role: `${draft.name}.${role.name}`,
      };
      work.site.warn(placeOf(work.draft, [], 'key'), 'condition-left-out', params);
    }
    return [];
  });
};

const armedOf = (work: Work): Armed => {
  const { armed } = work.look.text;
  return {
    when: listOf(armed?.when).flatMap((text) => conditionOf(work, text)),
    after: micros(armed?.after, 0),
  };
};

/** What belongs to a cause that is a single level. */
interface Single {
  readonly role: Role;
  readonly signal: SignalDef;
  readonly texts: LevelTexts;
}

const singleOf = (work: Work): Single | undefined => {
  const { cause } = work.look.text;
  const role = work.draft.pack.roles.get(cause?.signal ?? '');
  const signal = role && signalAt(work.draft, work.site.signals, role.name);
  const texts = cause && levelTexts(cause, role, work.look.text);
  return role === undefined || signal === undefined || texts === undefined
    ? undefined
    : { role, signal, texts };
};

const limitOf = (work: Work, { role, signal, texts }: Single): Limit | undefined => {
  const { limit } = work.look.text;
  const level = levelOf(work, texts.limit?.level, signal, role);
  if (limit === undefined || texts.limit === undefined || level === undefined) return undefined;
  return {
    side: texts.limit.key,
    level,
    inclusive: limit.inclusive ?? true,
    judgedAt: limit['judged-at'] ?? 'level',
    basis: limit.basis ?? '',
  };
};

const apart = (work: Work, { role, signal }: Single, text: LevelTexts['tolerance']): Level | undefined =>
  levelOf(work, text, signal, role, work.draft, true);

const releaseOf = (work: Work, one: Single): Release | undefined => {
  const at = levelOf(work, one.texts.release?.at, one.signal, one.role);
  const tolerance = apart(work, one, one.texts.release?.tolerance);
  return at === undefined || tolerance === undefined ? undefined : { at, tolerance };
};

const repeatOf = (work: Work, one: Single): Repeat | undefined => {
  const trials = work.look.text.repeat?.trials;
  const within = apart(work, one, one.texts.repeat);
  return trials === undefined || within === undefined ? undefined : { trials, within };
};

const decisionOf = ({ look }: Work): Decision | undefined => {
  const { decision } = look.text;
  if (decision === undefined) return undefined;
  if (typeof decision === 'string') return { rule: decision };
  const r = decision['guard-band'];
  return r === undefined ? undefined : { rule: 'guard-band', r };
};

const delayOf = ({ look }: Work): Interlock['delay'] => {
  const { delay } = look.text;
  if (delay === undefined) return undefined;
  return {
    time: micros(delay.time, 0),
    tolerance: micros(delay.tolerance, 0),
    onReturn: delay['on-return'] ?? 'resets',
  };
};

const said = <K extends string, T>(key: K, value: T | undefined): Partial<Record<K, T>> =>
  value === undefined ? {} : ({ [key]: value } as Record<K, T>);

const WORDS = (name: string): string => name.replaceAll('-', ' ');

/** One interlock of one machine; undefined where it has faults (and has been told). */
const interlockOf = (work: Work, id: InterlockId): Interlock | undefined => {
  const { text, name } = work.look;
  const cause = causeOf(work, text.cause);
  const [first, ...rest] = effectsOf(work);
  if (cause === undefined || first === undefined) return undefined;
  const single = singleOf(work);
  return {
    id,
    name: `${work.draft.name}.${name}`,
    machine: work.draft.index,
    hazard: text.hazard ?? '',
    title: text.title ?? WORDS(name),
    cause,
    ...said('delay', delayOf(work)),
    ...said('limit', single && limitOf(work, single)),
    ...said('release', single && releaseOf(work, single)),
    ...said('repeat', single && repeatOf(work, single)),
    ...said('decision', decisionOf(work)),
    armed: armedOf(work),
    effects: [first, ...rest],
    baseline: micros(text.baseline, 2 * SECOND),
    dwell: micros(text.dwell, SECOND),
    ...said('processSafetyTime', micros(text['process-safety-time'], undefined)),
    ...said('upkeep', upkeepOf(work.look, work.draft)),
  };
};

/**
 * The packs' interlocks over all machines, in the order of the site and the pack. `kept`: those that each machine has,
 * by its name.
 */
export const expand = (site: Site, kept: ReadonlyMap<string, ReadonlySet<string>>): readonly Interlock[] => {
  const built: Interlock[] = [];
  for (const draft of site.drafts) {
    for (const [name, text] of Object.entries(draft.pack.text.interlocks ?? {})) {
      if (text === undefined || kept.get(draft.name)?.has(name) !== true) continue;
      const look = { pack: draft.pack, name, text, tell: site.tell, warn: site.warn };
      const interlock = interlockOf({ draft, site, look }, built.length as InterlockId);
      if (interlock !== undefined) built.push(interlock);
    }
  }
  return built;
};

/** Roles whose levels refer to normal: they need one. */
export const percentageRoles = (draft: Draft, kept: ReadonlySet<string>): ReadonlySet<string> => {
  const roles = new Set<string>();
  for (const [name, text] of Object.entries(draft.pack.text.interlocks ?? {})) {
    for (const { cause, path } of kept.has(name) ? leavesOf(text?.cause) : []) {
      const role = draft.pack.roles.get(cause.signal ?? '');
      const texts = levelTexts(cause, role, path.length === 1 ? text : {});
      const { near, far } = bandTexts(cause, role);
      const levels = [
        texts?.setPoint,
        texts?.tolerance,
        texts?.clears,
        texts?.limit?.level,
        texts?.release?.at,
        near,
        far,
      ];
      if (role !== undefined && levels.some((level) => level?.of === 'normal')) roles.add(role.name);
    }
  }
  return roles;
};
