import { SECOND } from '../measure/index.ts';
import type {
  Armed,
  Cause,
  Condition,
  Effect,
  Interlock,
  InterlockId,
  Level,
  Limit,
} from '../rulebook/index.ts';
import type { SignalDef } from '../signal/index.ts';
import type { Place, Tell } from './fault.ts';
import { checkBecomes, checkLevels, type Look, listOf, relationOf } from './interlock-check.ts';
import { clearsOf, levelTexts, type Nominal } from './interlock-levels.ts';
import { CONDITION } from './leaves.ts';
import { type LevelText, levelIn, parseLevel } from './level-text.ts';
import { type Draft, placeOf, type SignalBook, signalAt } from './machines.ts';
import type { EffectText } from './pack-schema.ts';
import type { Role } from './packs.ts';
import { inUnit, micros } from './quantities.ts';
import { placeAt } from './tree.ts';
import type { Loose } from './walk.ts';

/** What an interlock is expanded with. */
export interface Site {
  readonly drafts: readonly Draft[];
  readonly signals: SignalBook;
  readonly tell: Tell;
  readonly warn: Tell;
}

interface Work {
  readonly draft: Draft;
  readonly site: Site;
  readonly look: Look;
}

const place = (work: Work): Place => placeOf(work.draft, [], 'key');

const nominalOf = (draft: Draft, role: string, unit: string): Nominal => {
  const plate = inUnit(draft.text.nameplate?.[role], unit);
  const said = draft.text.normal?.[role];
  const declared = said === undefined || said === 'learned' ? undefined : inUnit(said.declared, unit);
  const normal = declared ?? plate;
  return {
    ...(normal === undefined ? {} : { normal: { low: normal, high: normal } }),
    ...(plate === undefined ? {} : { nameplate: { low: plate, high: plate } }),
  };
};

/** A level of the interlock in the unit of the machine's signal; told where its nameplate is missing. */
const levelOf = (
  work: Work,
  text: LevelText | undefined,
  signal: SignalDef,
  role: string,
  owner: Draft,
  difference = false,
): Level | undefined => {
  const level = text === undefined ? undefined : levelIn(text, signal.unit, difference);
  const misspelt = Object.keys(owner.text.nameplate ?? {}).some((name) => !owner.pack.roles.has(name));
  const missing = owner.text.nameplate?.[role] === undefined && !misspelt;
  if (level?.of === 'nameplate' && missing) {
    const params = { machine: owner.name, role, interlock: work.look.name };
    work.site.tell(placeOf(owner, ['nameplate'], 'key'), 'nameplate-missing', params);
  }
  return level;
};

const causeOf = (work: Work, role: Role, signal: SignalDef): Cause | undefined => {
  const { cause } = work.look.text;
  if (cause?.is !== undefined)
    return { kind: 'contact', signal: signal.id, state: role.states.indexOf(cause.is) };
  if (cause?.['no-pulses-for'] !== undefined) {
    return { kind: 'no-pulses', signal: signal.id, after: micros(cause['no-pulses-for'], 0) };
  }
  const texts = levelTexts(work.look.text);
  if (texts === undefined) return undefined;
  const setPoint = levelOf(work, texts.setPoint, signal, role.name, work.draft);
  const tolerance = levelOf(work, texts.tolerance, signal, role.name, work.draft, true);
  if (setPoint === undefined || tolerance === undefined) return undefined;
  const clears =
    levelOf(work, texts.clears, signal, role.name, work.draft) ?? clearsOf(texts.side, setPoint, tolerance);
  return { kind: 'level', signal: signal.id, side: texts.side, setPoint, tolerance, clears };
};

const limitOf = (work: Work, role: Role, signal: SignalDef): Limit | undefined => {
  const { limit } = work.look.text;
  const texts = levelTexts(work.look.text)?.limit;
  const level = levelOf(work, texts?.level, signal, role.name, work.draft);
  if (limit === undefined || texts === undefined || level === undefined) return undefined;
  return {
    side: texts.key,
    level,
    inclusive: limit.inclusive ?? true,
    judgedAt: limit['judged-at'] ?? 'level',
    basis: limit.basis ?? '',
  };
};

const armedOf = (work: Work): Armed => {
  const when = listOf(work.look.text.armed?.when).flatMap((text): readonly Condition[] => {
    const found = CONDITION.exec(text);
    const role = work.draft.pack.roles.get(found?.[1] ?? '');
    if (role === undefined) return [];
    const signal = signalAt(work.draft, work.site.signals, role.name);
    if (signal === undefined) {
      leftOut(work, 'condition-left-out', role, work.draft.tags.has(role.name));
      return [];
    }
    return [{ signal: signal.id, state: role.states.indexOf(found?.[2] ?? '') }];
  });
  return { when, after: micros(work.look.text.armed?.after, 0) };
};

/** An optional role that nobody bound is a warning; a bound one whose tag has faults has been told already. */
const leftOut = (work: Work, code: string, role: Role, bound: boolean, machine = work.draft.name): void => {
  if (bound || !role.optional) return;
  work.site.warn(place(work), code, {
    interlock: `${work.draft.name}.${work.look.name}`,
    role: `${machine}.${role.name}`,
  });
};

interface Target {
  readonly draft: Draft;
  readonly role: Role;
  readonly signal: SignalDef;
  readonly related: boolean;
}

const relatives = (work: Work, relation: 'feeder' | 'receiver'): readonly Draft[] => {
  const { drafts } = work.site;
  if (relation === 'feeder') return drafts.filter(({ name }) => work.draft.text['fed-by']?.includes(name));
  return drafts.filter(({ text }) => text['fed-by']?.includes(work.draft.name));
};

const targetsOf = (work: Work, effect: Loose<EffectText>, index: number): readonly Target[] => {
  const said = relationOf(effect.signal ?? '');
  const { relation } = said;
  const owners = relation === undefined ? [work.draft] : relatives(work, relation);
  if (owners.length === 0) {
    work.site.warn(place(work), 'no-related-machine', {
      interlock: `${work.draft.name}.${work.look.name}`,
      relation: relation ?? '',
    });
  }
  return owners.flatMap((draft): readonly Target[] => {
    const role = draft.pack.roles.get(said.role);
    if (role === undefined) {
      if (relation !== undefined) {
        const at = placeAt(work.look.pack.tree, ['interlocks', work.look.name, 'effects', index, 'signal']);
        work.site.tell(at, 'unknown-signal', {
          signal: effect.signal ?? '',
          kind: draft.pack.kind,
          known: [...draft.pack.roles.keys()],
        });
      }
      return [];
    }
    if (relation !== undefined) checkBecomes(work.look, effect, role, index);
    const signal = signalAt(draft, work.site.signals, role.name);
    if (signal === undefined) {
      leftOut(work, 'effect-left-out', role, draft.tags.has(role.name), draft.name);
      return [];
    }
    return [{ draft, role, signal, related: relation !== undefined }];
  });
};

const becomesOf = (work: Work, effect: Loose<EffectText>, target: Target): Effect['becomes'] | undefined => {
  const { role, signal } = target;
  if (effect.stays !== undefined) return { kind: 'stays', state: role.states.indexOf(effect.stays) };
  const found = /^(below|above)\s+(.+)$/.exec(effect.becomes ?? '');
  if (found === null) return { kind: 'state', state: role.states.indexOf(effect.becomes ?? '') };
  const read = parseLevel(found[2] ?? '', undefined);
  if ('fault' in read) return undefined;
  const level = levelOf(work, read, signal, role.name, target.draft);
  return level === undefined
    ? undefined
    : { kind: 'level', side: found[1] === 'below' ? 'below' : 'above', level };
};

const CLASSES: Readonly<Record<string, Effect['class']>> = {
  alarm: 'alarm',
  trip: 'trip',
  command: 'command',
  feedback: 'feedback',
};

const effectsOf = (work: Work): readonly Effect[] => {
  const built: Effect[] = [];
  const indexes = new Map<string, number[]>();
  work.look.text.effects?.forEach((effect, position) => {
    if (effect === undefined) return;
    for (const target of targetsOf(work, effect, position)) {
      const becomes = becomesOf(work, effect, target);
      if (becomes === undefined) continue;
      const key = effect.signal ?? '';
      indexes.set(key, [...(indexes.get(key) ?? []), built.length]);
      built.push({
        name: `${target.draft.name}.${target.role.name}`,
        signal: target.signal.id,
        becomes,
        class: effect.class ?? (target.related ? 'feed' : (CLASSES[target.role.purpose] ?? 'motion')),
        within: micros(effect.within, 0),
        notBefore: micros(effect['not-before'], 0),
        after: listOf(effect.after).flatMap((name) => indexes.get(name) ?? []),
        until: effect.until ?? 'unstated',
        cascade: effect.via === 'cascade',
      });
    }
  });
  return built;
};

const delayOf = (work: Work): Interlock['delay'] => {
  const { delay } = work.look.text;
  if (delay === undefined) return undefined;
  return {
    time: micros(delay.time, 0),
    tolerance: micros(delay.tolerance, 0),
    onReturn: delay['on-return'] ?? 'resets',
  };
};

const WORDS = (name: string): string => name.replaceAll('-', ' ');

/** One interlock of one machine; undefined where it is left out (warned) or where it has faults (told). */
const interlockOf = (work: Work, id: InterlockId): Interlock | undefined => {
  const { text, name } = work.look;
  const role = work.draft.pack.roles.get(text.cause?.signal ?? '');
  if (role === undefined) return undefined;
  const signal = signalAt(work.draft, work.site.signals, role.name);
  if (signal === undefined) {
    leftOut(work, 'interlock-left-out', role, work.draft.tags.has(role.name));
    return undefined;
  }
  checkLevels(work.look, signal.unit, nominalOf(work.draft, role.name, signal.unit));
  const cause = causeOf(work, role, signal);
  const [first, ...rest] = effectsOf(work);
  if (first === undefined) {
    const wanted = (text.effects?.length ?? 0) > 0;
    if (wanted)
      work.site.warn(place(work), 'interlock-without-effects', { interlock: `${work.draft.name}.${name}` });
  }
  if (cause === undefined || first === undefined) return undefined;
  const delay = delayOf(work);
  const limit = limitOf(work, role, signal);
  return {
    id,
    name: `${work.draft.name}.${name}`,
    machine: work.draft.index,
    hazard: text.hazard ?? '',
    title: text.title ?? WORDS(name),
    cause,
    ...(delay === undefined ? {} : { delay }),
    ...(limit === undefined ? {} : { limit }),
    armed: armedOf(work),
    effects: [first, ...rest],
    baseline: micros(text.baseline, 2 * SECOND),
    dwell: micros(text.dwell, SECOND),
  };
};

/** The packs' interlocks over all machines, in the order of the site and the pack. */
export const expand = (site: Site): readonly Interlock[] => {
  const built: Interlock[] = [];
  for (const draft of site.drafts) {
    for (const [name, text] of Object.entries(draft.pack.text.interlocks ?? {})) {
      if (text === undefined) continue;
      const look: Look = { pack: draft.pack, name, text, tell: site.tell, warn: site.warn };
      const interlock = interlockOf({ draft, site, look }, built.length as InterlockId);
      if (interlock !== undefined) built.push(interlock);
    }
  }
  return built;
};

/** Roles whose levels refer to normal, machine by machine: they need one. */
export const percentageRoles = (draft: Draft): ReadonlySet<string> => {
  const roles = new Set<string>();
  for (const text of Object.values(draft.pack.text.interlocks ?? {})) {
    const texts = text === undefined ? undefined : levelTexts(text);
    const levels = [texts?.setPoint, texts?.tolerance, texts?.clears, texts?.limit?.level];
    const role = text?.cause?.signal;
    if (role !== undefined && levels.some((level) => level?.of === 'normal')) roles.add(role);
  }
  return roles;
};
