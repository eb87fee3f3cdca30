import type { Interval } from '../measure/index.ts';
import type { Level } from '../rulebook/index.ts';
import type { SignalDef } from '../signal/index.ts';
import type { Tell } from './fault.ts';
import type { Nominal } from './interlock-levels.ts';
import { type LevelText, levelIn } from './level-text.ts';
import type { Look } from './look.ts';
import { type Draft, placeOf, type SignalBook, signalAt } from './machines.ts';
import { inUnit } from './quantities.ts';
import type { Role } from './role.ts';

/** What an interlock is expanded with. */
export interface Site {
  readonly drafts: readonly Draft[];
  readonly signals: SignalBook;
  readonly tell: Tell;
  readonly warn: Tell;
}

/** An interlock of a machine while it is being expanded. */
export interface Work {
  readonly draft: Draft;
  readonly site: Site;
  readonly look: Look;
}

const exact = (value: number | undefined): Interval | undefined =>
  value === undefined ? undefined : { low: value, high: value };

/** What is known of a role's references before anything was measured. */
export const nominalOf = (draft: Draft, role: Role, unit: string): Nominal => {
  const plateOf = (name: string): Interval | undefined =>
    exact(inUnit(draft.text.nameplate?.[name], unit, role.difference));
  const said = draft.text.normal?.[role.name];
  const declared =
    said === undefined || said === 'learned' ? undefined : inUnit(said.declared, unit, role.difference);
  const nameplate = plateOf(role.name);
  return { normal: exact(declared) ?? nameplate, nameplate, roleOf: plateOf };
};

/** kelvin and degrees Celsius are one unit where differences are compared. */
const sameUnit = (one: string, other: string, role: Role): boolean =>
  one === other || (role.difference && [one, other].every((unit) => unit === 'K' || unit === 'degC'));

const nameplateMissing = (work: Work, role: Role, owner: Draft): void => {
  const plates = owner.text.nameplate;
  const misspelt = Object.keys(plates ?? {}).some((name) => !owner.pack.roles.has(name));
  if (plates?.[role.name] !== undefined || misspelt) return;
  const params = { machine: owner.name, role: role.name, interlock: work.look.name };
  work.site.tell(placeOf(owner, ['nameplate'], 'key'), 'nameplate-missing', params);
};

/**
 * A level of the interlock in the unit of the signal it is compared with. Told where the nameplate that it refers to
 * is missing, or the tag that it refers to has another unit.
 */
export const levelOf = (
  work: Work,
  text: LevelText | undefined,
  signal: SignalDef,
  role: Role,
  owner: Draft = work.draft,
  apart = role.difference,
): Level | undefined => {
  if (text === undefined) return undefined;
  if (text.of === 'nameplate') nameplateMissing(work, role, owner);
  if (text.role === undefined) return levelIn(text, signal.unit, apart);
  const tag = signalAt(work.draft, work.site.signals, text.role);
  if (tag === undefined) return undefined;
  if (!sameUnit(tag.unit, signal.unit, role)) {
    const params = {
      interlock: work.look.name,
      signal: signal.name,
      wanted: signal.unit,
      tag: tag.name,
      unit: tag.unit,
    };
    work.site.tell(placeOf(work.draft, ['roles', text.role], 'key'), 'reference-other-unit', params);
  }
  return levelIn(text, signal.unit, apart, tag.id);
};
