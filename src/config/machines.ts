import { type Interval, kindOfUnit, parseQuantity, type SignalId, unitsOf } from '../measure/index.ts';
import type { Condition, Machine, Normal } from '../rulebook/index.ts';
import type { SignalDef } from '../signal/index.ts';
import type { Place, Tell } from './fault.ts';
import type { Pack } from './packs.ts';
import { fraction, inUnit, micros } from './quantities.ts';
import type { Role } from './role.ts';
import type { MachineText } from './site-schema.ts';
import { nearest } from './suggest.ts';
import { type Path, placeAt, type Tree } from './tree.ts';
import type { Loose } from './walk.ts';

/** A machine while the site is being put together. */
export interface Draft {
  readonly index: number;
  readonly name: string;
  readonly text: Loose<MachineText>;
  readonly pack: Pack;
  /** Tag that each bound role lives in. */
  readonly tags: ReadonlyMap<string, string>;
  /** Site tree, for places. */
  readonly tree: Tree;
}

export const placeOf = (
  draft: Pick<Draft, 'name' | 'tree'>,
  path: Path = [],
  of: 'key' | 'value' = 'value',
) => placeAt(draft.tree, ['machines', draft.name, ...path], of);

/**
 * Tags of a machine by role: as said under `roles:`, else the tag that is called `machine.role`.
 * A required role that stays unbound is told.
 */
export const bind = (
  machine: Omit<Draft, 'tags'>,
  known: ReadonlySet<string>,
  tell: Tell,
): ReadonlyMap<string, string> => {
  const { name, text, pack } = machine;
  const bound = new Map<string, string>();
  for (const [role, tag] of Object.entries(text.roles ?? {})) {
    if (!pack.roles.has(role)) {
      const roles = [...pack.roles.keys()];
      tell(
        placeOf(machine, ['roles', role], 'key'),
        'unknown-role',
        { role, kind: pack.kind, known: roles },
        nearest(role, roles),
      );
    } else if (tag !== undefined && !known.has(tag)) {
      tell(placeOf(machine, ['roles', role]), 'unknown-tag', { tag }, nearest(tag, known));
    }
    if (tag !== undefined) bound.set(role, tag);
  }
  for (const role of pack.roles.values()) {
    const tag = `${name}.${role.name}`;
    if (bound.has(role.name) || Object.hasOwn(text.roles ?? {}, role.name)) continue;
    if (known.has(tag)) bound.set(role.name, tag);
    else if (!role.optional && role.derivation === undefined) {
      tell(placeOf(machine, [], 'key'), 'missing-role', {
        machine: name,
        role: role.name,
        kind: pack.kind,
        tag,
      });
    }
  }
  return bound;
};

/** Signals by tag name. */
export type SignalBook = ReadonlyMap<string, SignalDef>;

export const signalAt = (draft: Draft, signals: SignalBook, role: string): SignalDef | undefined =>
  signals.get(draft.tags.get(role) ?? '');

const measured = (draft: Draft, role: string, path: Path, tell: Tell): Role | undefined => {
  const found = draft.pack.roles.get(role);
  if (found !== undefined && found.states.length === 0) return found;
  const known = [...draft.pack.roles.values()]
    .filter(({ states }) => states.length === 0)
    .map((item) => item.name);
  tell(
    placeOf(draft, path, 'key'),
    'unknown-role',
    { role, kind: draft.pack.kind, known },
    nearest(role, known),
  );
  return undefined;
};

const inSignal = (
  draft: Draft,
  signal: SignalDef,
  text: string | undefined,
  path: Path,
  tell: Tell,
  difference = false,
): number | undefined => {
  if (text === undefined) return undefined;
  const value = inUnit(text, signal.unit, difference);
  if (value === undefined) {
    tell(placeOf(draft, path), 'wrong-unit', {
      unit: text,
      measures: '',
      wanted: signal.quantity,
      units: [signal.unit],
    });
  }
  return value;
};

/** False, and told, for a nameplate in a unit that the role cannot have, whatever its tag says. */
const plateFits = (draft: Draft, role: Role, text: string, tell: Tell): boolean => {
  const unit = parseQuantity(text)?.unit ?? '';
  const kind = kindOfUnit(unit);
  if (kind === undefined || role.kinds.includes(kind)) return true;
  const units = role.kinds.flatMap(unitsOf);
  const params = { unit, measures: kind, wanted: role.kinds.join(' or '), units };
  tell(placeOf(draft, ['nameplate', role.name]), 'wrong-unit', params);
  return false;
};

const LEARNED = { kind: 'learned', over: 10_000_000, steady: 0.01 } as const;

const fromOf = (
  draft: Draft,
  signal: SignalDef,
  role: string,
  signals: SignalBook,
  tell: Tell,
): Normal['from'] => {
  const said = draft.text.normal?.[role];
  if (said === undefined || said === 'learned') return LEARNED;
  const path = ['normal', role];
  if (said.declared !== undefined && said.tag !== undefined) tell(placeOf(draft, path, 'key'), 'one-normal');
  if (said.declared !== undefined) {
    const value = inSignal(draft, signal, said.declared, [...path, 'declared'], tell) ?? 0;
    const half = inSignal(draft, signal, said.tolerance, [...path, 'tolerance'], tell, true) ?? 0;
    return { kind: 'declared', value: { low: value - half, high: value + half } };
  }
  if (said.tag === undefined) {
    return {
      kind: 'learned',
      over: micros(said['learned-over'], LEARNED.over),
      steady: fraction(said.steady, LEARNED.steady),
    };
  }
  const tag = signals.get(said.tag);
  const place = placeOf(draft, [...path, 'tag']);
  if (tag === undefined) tell(place, 'unknown-tag', { tag: said.tag }, nearest(said.tag, signals.keys()));
  else if (tag.unit !== signal.unit)
    tell(place, 'normal-other-unit', { tag: tag.name, unit: tag.unit, wanted: signal.unit });
  return { kind: 'tag', signal: tag?.id ?? signal.id };
};

interface Against {
  readonly tag?: string | undefined;
  readonly factor?: number | undefined;
}

/** What must give the normal too: a measured tag other than those that it is taken from, and a factor. */
const againstOf = (
  draft: Draft,
  signal: SignalDef,
  role: string,
  signals: SignalBook,
  tell: Tell,
): Normal['against'] => {
  const said = draft.text.normal?.[role];
  if (said === undefined || said === 'learned' || said.against === undefined) return undefined;
  const { against } = said;
  const many = Array.isArray(against);
  const list = (many ? against : [against]) as readonly (Against | undefined)[];
  return list.flatMap((one, index) => {
    const place = (key: string): Place =>
      placeOf(draft, ['normal', role, 'against', ...(many ? [index] : []), key]);
    const { tag, factor } = one ?? {};
    if (tag === undefined || factor === undefined) return [];
    const found = signals.get(tag);
    if (factor <= 0) tell(place('factor'), 'not-positive', { key: 'factor' });
    if (found === undefined) tell(place('tag'), 'unknown-tag', { tag }, nearest(tag, signals.keys()));
    else if (found.unit === '') tell(place('tag'), 'against-a-state', { tag });
    else if (found === signal || tag === said.tag) tell(place('tag'), 'against-itself', { tag });
    return found === undefined ? [] : [{ signal: found.id, factor }];
  });
};

/** Normals of the roles that have a nameplate or a normal of their own, or that percentages refer to. */
export const normalsOf = (
  draft: Draft,
  signals: SignalBook,
  percentages: ReadonlySet<string>,
  tell: Tell,
  warn: Tell,
): readonly Normal[] => {
  const { nameplate = {}, normal = {} } = draft.text;
  const plates = new Map<string, string>();
  for (const [name, text] of Object.entries(nameplate)) {
    const role = measured(draft, name, ['nameplate', name], tell);
    if (role !== undefined && text !== undefined && plateFits(draft, role, text, tell))
      plates.set(name, text);
  }
  for (const role of Object.keys(normal)) measured(draft, role, ['normal', role], tell);
  const roles = new Set([...Object.keys(nameplate), ...Object.keys(normal), ...percentages]);
  return [...roles].flatMap((role) => {
    const signal = signalAt(draft, signals, role);
    if (signal === undefined || signal.unit === '') return [];
    const apart = draft.pack.roles.get(role)?.difference ?? false;
    const plate = inSignal(draft, signal, plates.get(role), ['nameplate', role], tell, apart);
    if (nameplate[role] === undefined && percentages.has(role)) {
      warn(placeOf(draft, [], 'key'), 'normal-not-checked', { machine: draft.name, role });
    }
    const against = againstOf(draft, signal, role, signals, tell);
    const exact: Interval | undefined = plate === undefined ? undefined : { low: plate, high: plate };
    return [
      {
        signal: signal.id,
        from: fromOf(draft, signal, role, signals, tell),
        ...(exact === undefined ? {} : { nameplate: exact }),
        allowance: fraction(draft.text.allowance, 0.05),
        ...(against === undefined || against.length === 0 ? {} : { against }),
      },
    ];
  });
};

/** A field that stands only where it lists something. */
const listed = <K extends string, T>(key: K, list: readonly T[]): Partial<Record<K, readonly T[]>> =>
  list.length === 0 ? {} : ({ [key]: list } as Record<K, readonly T[]>);

const OUTPUTS: readonly Role['purpose'][] = ['command', 'alarm', 'trip'];

/** What the judge must know of a machine, from what its signals are for. The second state is the active one. */
export const machineOf = (
  draft: Draft,
  signals: SignalBook,
  normals: readonly Normal[],
  feeds: readonly number[],
): Machine => {
  const bound = [...draft.pack.roles.values()].flatMap((role) => {
    const signal = signalAt(draft, signals, role.name);
    return signal === undefined ? [] : [{ role, id: signal.id }];
  });
  const having = (purpose: Role['purpose']): readonly SignalId[] =>
    bound.filter(({ role }) => role.purpose === purpose).map(({ id }) => id);
  const active = (purpose: Role['purpose']): readonly Condition[] =>
    having(purpose).map((id) => ({ signal: id, state: 1 }));
  const [heartbeat] = having('heartbeat');
  const [revision] = having('revision');
  const mirrors = bound.flatMap(({ role, id }) => {
    const shown = bound.find((other) => other.role.name === role.mirrors);
    return shown === undefined ? [] : [{ raw: id, shown: shown.id }];
  });
  const stopsWithin = micros(draft.text['stops-within'], undefined);
  const bypassLimit = micros(draft.text['bypass-limit'], undefined);
  return {
    index: draft.index,
    name: draft.name,
    title: draft.text.title ?? draft.name,
    kind: draft.pack.kind,
    roles: Object.fromEntries(bound.map(({ role, id }) => [role.name, id])),
    normals,
    stops: active('stop'),
    resets: active('reset'),
    starts: active('start'),
    bypasses: active('bypass'),
    forces: active('force'),
    tripped: active('trip'),
    running: active('command'),
    outputs: bound.filter(({ role }) => OUTPUTS.includes(role.purpose)).map(({ id }) => id),
    ...listed('silences', active('silence')),
    ...listed('feedbacks', active('feedback')),
    ...listed('motions', having('motion')),
    ...(stopsWithin === undefined ? {} : { stopsWithin }),
    ...(bypassLimit === undefined ? {} : { bypassLimit }),
    ...listed('mirrors', mirrors),
    ...listed('constants', having('constant')),
    ...(heartbeat === undefined ? {} : { heartbeat }),
    ...(revision === undefined ? {} : { revision }),
    feeds,
  };
};
