import { kindOfUnit, type SignalId, unitsOf } from '../measure/index.ts';
import type { SignalDef } from '../signal/index.ts';
import { derivationOf } from './derivation.ts';
import { type Growing, growRole, growTags, inputsOfTag, isDerivedTag } from './derived.ts';
import type { Desk, SiteText } from './desk.ts';
import type { Place } from './fault.ts';
import { type Draft, placeOf } from './machines.ts';
import type { Presence } from './presence.ts';
import type { Role } from './role.ts';
import { signalOf } from './signals.ts';
import type { SourceText, TagText } from './site-schema.ts';
import { type SourceRead, sourceOf } from './sources.ts';
import { nearest } from './suggest.ts';
import type { TagPlaces, TagUse } from './tag-use.ts';
import { placeAt, type Tree } from './tree.ts';
import type { Loose } from './walk.ts';

/** A contact, or the raw input of one: it must say what it is while all is well. */
const isContact = ({ pack }: Draft, role: Role): boolean =>
  role.purpose === 'contact' || pack.roles.get(role.mirrors ?? '')?.purpose === 'contact';

/** What the roles want of each tag. */
export const usesOf = (desk: Desk, drafts: readonly Draft[]): ReadonlyMap<string, TagUse> => {
  const uses = new Map<string, TagUse>();
  for (const draft of drafts) {
    for (const [name, tag] of draft.tags) {
      const role = draft.pack.roles.get(name);
      if (role === undefined) continue;
      const use = {
        role: `${draft.name}.${name}`,
        states: role.states,
        kinds: role.kinds,
        contact: isContact(draft, role),
        difference: role.difference,
      };
      const other = uses.get(tag);
      if (other === undefined) uses.set(tag, use);
      else if (other.states.join() !== use.states.join()) {
        desk.tell(placeOf(draft, ['roles', name]), 'tag-states-differ', {
          tag,
          role: use.role,
          other: other.role,
        });
      }
    }
  }
  return uses;
};

/** Sources by name; one that could not be read is there all the same, so that no fault brings another. */
type Sources = ReadonlyMap<string, { index: number; read: SourceRead | undefined }>;

const tagPlaces = (tree: Tree, name: string): TagPlaces => ({
  key: placeAt(tree, ['tags', name], 'key'),
  of: (field) => placeAt(tree, ['tags', name, field]),
});

const tagsOf = (text: Loose<SiteText>): readonly (readonly [string, Loose<TagText> | undefined])[] =>
  Object.entries(text.tags ?? {});

/** What goes with a derivation only. */
const checkDetails = (desk: Desk, tag: Loose<TagText>, tree: Tree, name: string): void => {
  const keyOf = (field: string): Place => placeAt(tree, ['tags', name, field], 'key');
  derivationOf(tag, { ...tagPlaces(tree, name), keyOf }, desk.tell);
};

/** The sources of a site, in its order. `main`: path of the site file. */
export const sourcesOf = (text: Loose<SiteText>, main: string): Sources => {
  const list = Object.entries(text.sources ?? {}) as [string, Loose<SourceText> | undefined][];
  return new Map(list.map(([name, source], index) => [name, { index, read: sourceOf(name, source, main) }]));
};

/** Signals of the tags that are read; ids are those of the tags in their order. */
export const signalsOf = (
  desk: Desk,
  tree: Tree,
  text: Loose<SiteText>,
  sources: Sources,
  uses: ReadonlyMap<string, TagUse>,
): readonly SignalDef[] =>
  tagsOf(text)
    .filter(([, tag]) => !isDerivedTag(tag))
    .flatMap(([name, tag], index) => {
      const at = tagPlaces(tree, name);
      if (tag !== undefined && !Object.hasOwn(tag, 'source'))
        desk.tell(at.key, 'missing-key', { key: 'source' });
      if (tag !== undefined) checkDetails(desk, tag, tree, name);
      if (tag?.source === undefined) return [];
      const source = sources.get(tag.source);
      if (source === undefined) {
        const known = [...sources.keys()];
        desk.tell(
          at.of('source'),
          'unknown-source',
          { source: tag.source, known },
          nearest(tag.source, known),
        );
      }
      if (source?.read === undefined) return [];
      const context = {
        id: index as SignalId,
        source: { index: source.index, read: source.read },
        use: uses.get(name),
        at,
        tell: desk.tell,
      };
      return signalOf(name, tag, context) ?? [];
    });

/** Signals that tags of the site work out from others, behind those that are read. */
export const growAll = (
  desk: Desk,
  tree: Tree,
  text: Loose<SiteText>,
  list: readonly SignalDef[],
  uses: ReadonlyMap<string, TagUse>,
): Growing => {
  const entries = tagsOf(text);
  const byName = new Map(list.map((signal) => [signal.name, signal]));
  const growing = { byName, next: entries.filter(([, tag]) => !isDerivedTag(tag)).length };
  const known = new Set(entries.map(([name]) => name));
  const tags = new Map(
    entries.flatMap(([name, tag]) => (tag !== undefined && isDerivedTag(tag) ? [[name, tag] as const] : [])),
  );
  growTags({ tags, growing, tree, tell: desk.tell, known });
  for (const name of tags.keys()) checkUse(desk, tagPlaces(tree, name).key, byName.get(name), uses.get(name));
  return growing;
};

/** A derived signal must measure what the role that it is bound to wants. */
const checkUse = (desk: Desk, place: Place, signal: SignalDef | undefined, use: TagUse | undefined): void => {
  const kind = signal && kindOfUnit(signal.unit);
  if (signal === undefined || use === undefined || (kind !== undefined && use.kinds.includes(kind))) return;
  const wanted = use.states.length > 0 ? 'state' : use.kinds.join(' or ');
  desk.tell(place, 'wrong-unit', { unit: signal.unit, wanted, units: use.kinds.flatMap(unitsOf) });
};

/** Derived roles that the machines' interlocks use become signals, and their roles are bound to them. */
export const withDerived = (
  desk: Desk,
  drafts: readonly Draft[],
  presences: readonly Presence[],
  growing: Growing,
): readonly Draft[] => {
  const uses = presences.flatMap((presence) => presence.uses);
  return drafts.map((draft) => {
    const roles = new Set(uses.filter((use) => use.draft === draft).map(({ role }) => role));
    const tags = new Map(draft.tags);
    const add = (name: string): void => {
      const text = draft.pack.roles.get(name)?.derivation;
      if (text === undefined || tags.has(name)) return;
      tags.set(name, `${draft.name}.${name}`);
      text.inputs.forEach(add);
    };
    for (const role of roles) add(role);
    const bound = { ...draft, tags };
    for (const role of roles) growRole(growing, bound, role, desk.tell);
    return bound;
  });
};

/** One warning for all tags that nothing uses. */
export const unusedTags = (
  desk: Desk,
  tree: Tree,
  text: Loose<SiteText>,
  uses: ReadonlyMap<string, TagUse>,
): void => {
  const normals = Object.values(text.machines ?? {}).flatMap((machine) =>
    Object.values(machine?.normal ?? {}).flatMap((normal) => {
      if (typeof normal !== 'object') return [];
      const { tag, against = [] } = normal;
      const others = (Array.isArray(against) ? against : [against]) as readonly (
        | { tag?: string }
        | undefined
      )[];
      return [tag, ...others.map((one) => one?.tag)];
    }),
  );
  const inputs = tagsOf(text).flatMap(([, tag]) => (tag === undefined ? [] : inputsOfTag(tag)));
  const used = new Set([...uses.keys(), ...normals, ...inputs]);
  const unused = Object.keys(text.tags ?? {}).filter((name) => !used.has(name));
  if (unused.length > 0)
    desk.warn(placeAt(tree, ['tags', unused[0] ?? ''], 'key'), 'tags-unused', { tags: unused });
};
