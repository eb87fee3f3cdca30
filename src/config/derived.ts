import { kindOfUnit, type SignalId } from '../measure/index.ts';
import type { Derivation, SignalDef } from '../signal/index.ts';
import { type DerivationText, derivationOf, isDifference } from './derivation.ts';
import type { Place, Tell } from './fault.ts';
import { type Draft, placeOf } from './machines.ts';
import { inUnit } from './quantities.ts';
import type { TagText } from './site-schema.ts';
import { nearest } from './suggest.ts';
import { placeAt, type Tree } from './tree.ts';
import type { Loose } from './walk.ts';

/** Signals while derived ones are added to them; ids go on behind the last. */
export interface Growing {
  readonly byName: Map<string, SignalDef>;
  next: number;
}

/** `gear`: what makes the two agree at their nameplates. */
const fromOf = (text: DerivationText, inputs: readonly SignalDef[], gear: number): Derivation | undefined => {
  const of = inputs.map(({ id }) => id);
  const [first, second] = of;
  if (first === undefined) return undefined;
  if (text.as === 'rate') return { as: 'rate', of: [first], over: text.over, per: text.per };
  if (text.as === 'mean' || text.as === 'spread') return { as: text.as, of };
  if (text.as === 'rank') return { as: 'rank', of, rank: text.rank };
  if (second === undefined) return undefined;
  if (text.as === 'ratio') return { as: 'ratio', of: [first, second], scale: 100 / gear };
  if (text.as === 'slip') return { as: 'slip', of: [first, second], gear };
  return { as: 'difference', of: [first, second] };
};

/** A difference of degrees Celsius is told in kelvin, so that nobody takes it for a temperature. */
const unitOf = (text: DerivationText, unit: string): string => {
  if (text.as === 'ratio' || text.as === 'slip') return '%';
  return unit === 'degC' && isDifference(text.as, false) ? 'K' : unit;
};

const largest = (values: readonly number[]): number =>
  values.reduce((most, value) => Math.max(most, value), 0);

/** Inputs of one unit; where the gear comes from nameplates each may have its own, because units cancel. */
const oneUnit = (
  inputs: readonly SignalDef[],
  byPlates: boolean,
  name: string,
  place: Place,
  tell: Tell,
): boolean => {
  const units = [...new Set(inputs.map(({ unit }) => unit))];
  if (byPlates || units.length < 2) return true;
  tell(place, 'derived-units-differ', { signal: name, units });
  return false;
};

/** Adds a signal that is worked out from others. Its doubt is theirs, carried through the arithmetic. */
const grow = (
  growing: Growing,
  name: string,
  text: DerivationText,
  inputs: readonly SignalDef[],
  gear = 1,
): void => {
  const from = fromOf(text, inputs, gear);
  if (from === undefined || inputs.length < text.inputs.length) return;
  const unit = unitOf(text, inputs[0]?.unit ?? '');
  growing.byName.set(name, {
    id: growing.next as SignalId,
    name,
    source: -1,
    address: { kind: 'derived', from },
    decoding: { as: 'value', scale: 1, offset: 0, inverted: false },
    quantity: kindOfUnit(unit) ?? 'count',
    unit,
    states: [],
    resolution: 0,
    accuracy: 0,
    age: largest(inputs.map(({ age }) => age)),
    agedAfter: largest(inputs.map(({ agedAfter }) => agedAfter)),
  });
  growing.next += 1;
};

const DERIVED_KEYS = ['difference', 'ratio', 'slip', 'rate', 'mean', 'rank', 'spread'] as const;
const ALLOWED: readonly string[] = [...DERIVED_KEYS, 'gear', 'over', 'per', 'of'];

/** The tag of a site is worked out from others. */
export const isDerivedTag = (tag: Loose<TagText> | undefined): boolean =>
  tag !== undefined && DERIVED_KEYS.some((key) => Object.hasOwn(tag, key));

/** The tags that it is worked out from. */
export const inputsOfTag = (tag: Loose<TagText>): readonly string[] =>
  DERIVED_KEYS.flatMap((key) => {
    const said = key === 'rank' ? tag.of : tag[key];
    return typeof said === 'string' ? [said] : (said ?? []);
  }).filter((input) => input !== undefined);

interface TagWork {
  readonly tags: ReadonlyMap<string, Loose<TagText>>;
  readonly growing: Growing;
  readonly tree: Tree;
  readonly tell: Tell;
  /** Every tag of the site, also one that could not be read. */
  readonly known: ReadonlySet<string>;
  readonly told: Set<string>;
}

const growTag = (work: TagWork, name: string, way: readonly string[]): void => {
  const { growing, tell } = work;
  const tag = work.tags.get(name);
  const key = placeAt(work.tree, ['tags', name], 'key');
  if (way.includes(name)) tell(key, 'derived-circle', { way: [...way, name] });
  if (tag === undefined || growing.byName.has(name) || work.told.has(name)) return;
  work.told.add(name);
  const of = (field: string): Place => placeAt(work.tree, ['tags', name, field]);
  const keyOf = (field: string): Place => placeAt(work.tree, ['tags', name, field], 'key');
  const text = derivationOf(tag, { key, of, keyOf }, tell);
  for (const field of Object.keys(tag))
    if (!ALLOWED.includes(field)) tell(keyOf(field), 'derived-has-none', { key: field });
  if (text === undefined) return;
  if (text.as === 'slip' && !Object.hasOwn(tag, 'gear')) tell(key, 'missing-key', { key: 'gear' });
  const inputs = text.inputs.flatMap((input, index): readonly SignalDef[] => {
    growTag(work, input, [...way, name]);
    const signal = growing.byName.get(input);
    const place = placeAt(work.tree, ['tags', name, text.as === 'rank' ? 'of' : text.as, index]);
    if (signal?.states.length === 0) return [signal];
    if (signal !== undefined) tell(place, 'derived-of-state', { role: input, known: signal.states });
    else if (!work.known.has(input)) tell(place, 'unknown-tag', { tag: input }, nearest(input, work.known));
    return [];
  });
  if (oneUnit(inputs, false, name, key, tell)) grow(growing, name, text, inputs, text.gear);
};

/** Adds the tags of a site that are worked out from others. */
export const growTags = (work: Omit<TagWork, 'told'>): void => {
  const all = { ...work, told: new Set<string>() };
  for (const name of work.tags.keys()) growTag(all, name, []);
};

/** What makes two signals agree at their nameplates: the first by the second; undefined where one has none. */
const atPlates = (draft: Draft, text: DerivationText, units: readonly string[]): number | undefined => {
  const [first, second] = text.inputs.map((role, index) =>
    inUnit(draft.text.nameplate?.[role], units[index] ?? ''),
  );
  return first === undefined || second === undefined || first === 0 || second === 0
    ? undefined
    : first / second;
};

/** Adds a derived role of a machine, and those it is worked out from. Its tag is called `machine.role`. */
export const growRole = (growing: Growing, draft: Draft, role: string, tell: Tell): void => {
  const text = draft.pack.roles.get(role)?.derivation;
  const name = draft.tags.get(role) ?? '';
  if (text === undefined || growing.byName.has(name)) return;
  const inputs = text.inputs.flatMap((input) => {
    growRole(growing, draft, input, tell);
    return growing.byName.get(draft.tags.get(input) ?? '') ?? [];
  });
  const plates =
    text.as === 'slip' || text.as === 'ratio'
      ? atPlates(
          draft,
          text,
          inputs.map(({ unit }) => unit),
        )
      : undefined;
  const gear = text.gear ?? plates;
  const byPlates = text.gear === undefined && plates !== undefined;
  if (oneUnit(inputs, byPlates, name, placeOf(draft, [], 'key'), tell))
    grow(growing, name, text, inputs, gear);
};
