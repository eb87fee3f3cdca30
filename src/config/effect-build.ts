import type { Effect } from '../rulebook/index.ts';
import type { SignalDef } from '../signal/index.ts';
import { levelOfEffect } from './effect-check.ts';
import { levelOf, type Work } from './level-build.ts';
import { listOf } from './look.ts';
import { type Draft, signalAt } from './machines.ts';
import type { EffectText } from './pack-schema.ts';
import { relatives } from './presence.ts';
import { inUnit, micros } from './quantities.ts';
import { relationOf } from './relations.ts';
import type { Role } from './role.ts';
import type { Loose } from './walk.ts';

interface Target {
  readonly draft: Draft;
  readonly role: Role;
  readonly signal: SignalDef;
  readonly related: boolean;
}

const targetsOf = (work: Work, effect: Loose<EffectText>): readonly Target[] => {
  const { relation, role: name } = relationOf(effect.signal ?? '');
  const owners = relation === undefined ? [work.draft] : relatives(work.draft, work.site.drafts, relation);
  return owners.flatMap((draft): readonly Target[] => {
    const role = draft.pack.roles.get(name);
    const signal = role && signalAt(draft, work.site.signals, role.name);
    if (role === undefined || signal === undefined) return [];
    return [{ draft, role, signal, related: relation !== undefined }];
  });
};

const rounded = (value: number): number => Math.round(value * 1e12) / 1e12;

const becomesOf = (work: Work, effect: Loose<EffectText>, target: Target): Effect['becomes'] | undefined => {
  const { role, signal, draft } = target;
  if (effect.stays !== undefined) return { kind: 'stays', state: role.states.indexOf(effect.stays) };
  const found = levelOfEffect(effect.becomes, role);
  if (found === undefined) return { kind: 'state', state: role.states.indexOf(effect.becomes ?? '') };
  const level = levelOf(work, found.level, signal, role, draft);
  if (level === undefined) return undefined;
  if (level.of !== 'nameplate') return { kind: 'level', side: found.side, level };
  // The nameplate of the effect's own signal: the judge knows that of the cause only.
  const plate = inUnit(draft.text.nameplate?.[role.name], signal.unit, role.difference);
  if (plate === undefined) return undefined;
  const offset = rounded(level.factor * plate + level.offset);
  return { kind: 'level', side: found.side, level: { of: 'absolute', factor: 0, offset } };
};

const CLASSES: Readonly<Record<string, Effect['class']>> = {
  alarm: 'alarm',
  trip: 'trip',
  command: 'command',
  feedback: 'feedback',
};

/** The effects on the signals of this machine and of related ones; those on roles that nobody bound are not there. */
export const effectsOf = (work: Work): readonly Effect[] => {
  const built: Effect[] = [];
  const indexes = new Map<string, number[]>();
  for (const effect of work.look.text.effects ?? []) {
    if (effect === undefined) continue;
    for (const target of targetsOf(work, effect)) {
      const becomes = becomesOf(work, effect, target);
      if (becomes === undefined) continue;
      const key = effect.signal ?? '';
      indexes.set(key, [...(indexes.get(key) ?? []), built.length]);
      built.push({
        name: `${target.draft.name}.${target.role.name}`,
        signal: target.signal.id,
        becomes,
        class: effect.class ?? (target.related ? 'feed' : (CLASSES[target.role.purpose] ?? 'motion')),
        within: micros(effect.within ?? effect.for, 0),
        notBefore: micros(effect['not-before'], 0),
        after: listOf(effect.after).flatMap((name) => indexes.get(name) ?? []),
        until: effect.until ?? 'unstated',
        cascade: effect.via === 'cascade',
      });
    }
  }
  return built;
};
