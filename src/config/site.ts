import { type Book, type Machine, type Needs, needs, type RecordDemands } from '../rulebook/index.ts';
import { checkAccess } from './access-check.ts';
import { csvEntries } from './csv.ts';
import type { Desk, SiteText } from './desk.ts';
import { expand, percentageRoles } from './expand.ts';
import { type Fault, inOrder, teller } from './fault.ts';
import { checkInterlock } from './interlock-check.ts';
import { checkLines, type SourcePlace } from './line-check.ts';
import { listOf } from './look.ts';
import { bind, type Draft, machineOf, normalsOf, type SignalBook } from './machines.ts';
import { checkOverlap } from './overlap.ts';
import { type Pack, packOf, packWith } from './packs.ts';
import { resolvePath } from './paths.ts';
import { type Presence, presenceOf } from './presence.ts';
import { checkRelated } from './related-check.ts';
import { SiteFile } from './site-schema.ts';
import { growAll, signalsOf, sourcesOf, unusedTags, usesOf, withDerived } from './site-signals.ts';
import { nearest } from './suggest.ts';
import { entriesOf, type MapTree, placeAt, type Tree, valueAt } from './tree.ts';
import { type Loose, walk } from './walk.ts';
import { readYaml } from './yaml-tree.ts';

export type SiteRead =
  | {
      readonly book: Book;
      /** Every file that decided it: path as the site names it, and text. The site itself comes first. */
      readonly texts: readonly (readonly [path: string, text: string])[];
      readonly warnings: readonly Fault[];
    }
  | { readonly faults: readonly Fault[]; readonly warnings: readonly Fault[] };

const scalarsAt = (tree: Tree, key: string): readonly Extract<Tree, { kind: 'scalar' }>[] => {
  const value = valueAt(tree, [key]);
  const items = value?.kind === 'list' ? value.items : [value];
  return items.filter((item) => item?.kind === 'scalar').filter((item) => typeof item.value === 'string');
};

/** Paths of the rule files and tables that a site names, as seen from where the site lies. */
export const filesWanted = (text: string, main = ''): readonly string[] => {
  const tree = readYaml(text, main, () => undefined);
  if (tree === undefined) return [];
  const keys = ['rules', 'tags-from', 'machines-from'];
  const named = keys.flatMap((key) => scalarsAt(tree, key).map((item) => item.text));
  return [...new Set(named)].map((path) => resolvePath(main, path));
};

const fileText = (
  desk: Desk,
  item: Extract<Tree, { kind: 'scalar' }>,
): { path: string; text: string } | undefined => {
  const path = resolvePath(desk.main, item.text);
  const text = desk.files.get(path);
  if (text === undefined) {
    desk.tell(item.place, 'file-missing', { path: item.text }, nearest(item.text, desk.files.keys()));
    return undefined;
  }
  desk.texts.set(item.text, text);
  return { path, text };
};

/** The site with the rows of its tables put beside what it says itself; a name that comes twice is told. */
export const withTables = (desk: Desk, tree: MapTree): MapTree => {
  let entries = [...tree.entries];
  for (const [table, key] of [
    ['tags-from', 'tags'],
    ['machines-from', 'machines'],
  ] as const) {
    const rows = scalarsAt(tree, table).flatMap((item) => {
      const file = fileText(desk, item);
      return file === undefined ? [] : csvEntries(file.text, file.path, desk.tell);
    });
    if (rows.length === 0) continue;
    const old = entries.find((entry) => entry.key === key);
    const all = [...entriesOf(old?.value)];
    for (const row of rows) {
      if (all.some((entry) => entry.key === row.key))
        desk.tell(row.place, 'duplicate-name', { name: row.key });
      else all.push(row);
    }
    const at = old?.place ?? rows[0]?.place ?? tree.place;
    entries = entries.filter((entry) => entry.key !== key);
    entries.push({ key, place: at, value: { kind: 'map', place: at, entries: all } });
  }
  return { ...tree, entries };
};

const readPacks = (desk: Desk, tree: Tree): ReadonlyMap<string, Pack> => {
  const packs = new Map<string, Pack>();
  for (const item of scalarsAt(tree, 'rules')) {
    const file = fileText(desk, item);
    const packTree = file === undefined ? undefined : readYaml(file.text, file.path, desk.tell);
    if (packTree === undefined) continue;
    const pack = packOf(packTree, desk.tell);
    checkPack(pack, desk);
    if (packs.has(pack.kind)) desk.tell(item.place, 'duplicate-kind', { kind: pack.kind });
    else packs.set(pack.kind, pack);
  }
  return packs;
};

const checkPack = (pack: Pack, desk: Desk): void => {
  for (const [name, text] of Object.entries(pack.text.interlocks ?? {})) {
    if (text !== undefined) checkInterlock({ pack, name, text, tell: desk.tell, warn: desk.warn });
  }
};

const draftsOf = (
  desk: Desk,
  tree: Tree,
  text: Loose<SiteText>,
  packs: ReadonlyMap<string, Pack>,
): readonly Draft[] => {
  const machines = Object.entries(text.machines ?? {});
  const allRead = packs.size === scalarsAt(tree, 'rules').length;
  const tags = new Set(entriesOf(valueAt(tree, ['tags'])).map((entry) => entry.key));
  return machines.flatMap(([name, machine], index): readonly Draft[] => {
    const shared = packs.get(machine?.kind ?? '');
    if (machine === undefined) return [];
    if (shared === undefined) {
      const kind = machine.kind ?? '';
      const known = [...packs.keys()];
      if (kind !== '' && allRead)
        desk.tell(
          placeAt(tree, ['machines', name, 'kind']),
          'unknown-kind',
          { kind, known },
          nearest(kind, known),
        );
      return [];
    }
    const pack = packWith(shared, valueAt(tree, ['machines', name, 'set']), desk.tell);
    if (pack !== shared) checkPack(pack, desk);
    listOf(machine['fed-by']).forEach((feeder, position) => {
      if (text.machines !== undefined && Object.hasOwn(text.machines, feeder) && feeder !== name) return;
      const known = machines.map(([other]) => other).filter((other) => other !== name);
      desk.tell(
        placeAt(tree, ['machines', name, 'fed-by', position]),
        'unknown-machine',
        { machine: feeder, known },
        nearest(feeder, known),
      );
    });
    const draft = { index, name, text: machine, pack, tree };
    return [{ ...draft, tags: bind(draft, tags, desk.tell) }];
  });
};

const checkOthers = (desk: Desk, drafts: readonly Draft[], presences: readonly Presence[]): void => {
  for (const [index, draft] of drafts.entries()) {
    for (const [name, text] of Object.entries(draft.pack.text.interlocks ?? {})) {
      if (text === undefined || presences[index]?.named.has(name) !== true) continue;
      checkRelated({ pack: draft.pack, name, text, tell: desk.tell, warn: desk.warn }, draft, drafts);
    }
  }
};

const machinesOf = (
  desk: Desk,
  drafts: readonly Draft[],
  presences: readonly Presence[],
  signals: SignalBook,
): readonly Machine[] =>
  drafts.map((draft, index) => {
    const percentages = percentageRoles(draft, presences[index]?.kept ?? new Set());
    const normals = normalsOf(draft, signals, percentages, desk.tell, desk.warn);
    const fed = drafts.filter((other) => listOf(other.text['fed-by']).includes(draft.name));
    return machineOf(
      draft,
      signals,
      normals,
      fed.map((other) => other.index),
    );
  });

/** What is read seldom is not old before its next turn. */
const withSlowAges = (book: Book, { slow }: Needs): Book => {
  const signals = book.signals.map((signal) => {
    const source = book.sources[signal.source];
    if (!slow.has(signal.id) || source?.protocol !== 'modbus') return signal;
    return {
      ...signal,
      agedAfter: Math.max(signal.agedAfter, 3 * source.slowPoll, source.slowPoll + source.timeout),
    };
  });
  return { ...book, signals };
};

/** What is said twice counts once; in the order of the meanings, so that the same site is the same book. */
const recordsOf = (records: Loose<NonNullable<SiteText['records']>>): RecordDemands => ({
  independentReviewer: records['independent-reviewer'] ?? false,
  signatures: (['performed', 'witnessed', 'reviewed'] as const).filter((meaning) =>
    records.signatures?.includes(meaning),
  ),
});

const build = (desk: Desk, tree: MapTree): Book => {
  const text = (walk(SiteFile, tree, tree.place, desk.tell) ?? {}) as Loose<SiteText>;
  const bare = draftsOf(desk, tree, text, readPacks(desk, tree));
  const sources = sourcesOf(text, desk.main);
  const atSource: SourcePlace = (source, key) => placeAt(tree, ['sources', source, key]);
  checkAccess(text, atSource, desk);
  const uses = usesOf(desk, bare);
  const list = signalsOf(desk, tree, text, sources, uses);
  unusedTags(desk, tree, text, uses);
  checkOverlap(list, (name) => placeAt(tree, ['tags', name, 'address']), desk.tell);
  const growing = growAll(desk, tree, text, list, uses);
  const presences = bare.map((draft) => presenceOf(draft, bare, desk.tell, desk.warn));
  checkOthers(desk, bare, presences);
  const drafts = withDerived(desk, bare, presences, growing);
  const signals: SignalBook = growing.byName;
  const machines = machinesOf(desk, drafts, presences, signals);
  const kept = new Map(
    drafts.map((draft, index) => [draft.name, presences[index]?.kept ?? new Set<string>()]),
  );
  const interlocks = expand({ drafts, signals, tell: desk.tell, warn: desk.warn }, kept);
  if (interlocks.length === 0) desk.warn(tree.place, 'no-interlocks');
  const book: Book = {
    site: text.site ?? '',
    title: text.title ?? text.site ?? '',
    sources: [...sources.values()].flatMap(({ read }) => (read === undefined ? [] : [read.source])),
    signals: [...signals.values()],
    machines,
    interlocks,
    ...(text.records && { records: recordsOf(text.records) }),
  };
  const wishes = needs(book);
  checkLines(book, wishes, atSource, desk);
  return withSlowAges(book, wishes);
};

/**
 * Reads a site with its packs and tables. All faults of all files come at once, by file and line; a warning
 * stops nothing. `files` maps paths as `filesWanted` gave them to their texts, `main` is the site's own.
 */
export const readSite = (files: ReadonlyMap<string, string>, main: string): SiteRead => {
  const faults: Fault[] = [];
  const warnings: Fault[] = [];
  const text = files.get(main) ?? '';
  const own = main.slice(main.lastIndexOf('/') + 1);
  const desk: Desk = {
    files,
    main,
    texts: new Map([[own, text]]),
    tell: teller(faults),
    warn: teller(warnings),
  };
  const tree = readYaml(text, main, desk.tell);
  if (tree !== undefined && tree.kind !== 'map')
    desk.tell(tree.place, 'wrong-shape', { found: tree.kind, wanted: 'map' });
  const book = tree?.kind === 'map' ? build(desk, withTables(desk, tree)) : undefined;
  const doubts = inOrder(warnings);
  if (book === undefined || faults.length > 0) return { faults: inOrder(faults), warnings: doubts };
  return { book, texts: [...desk.texts], warnings: doubts };
};
