import { isMap, isScalar, isSeq, parseDocument } from 'yaml';
import { hasBlanks, isList } from './csv.ts';
import { type Fault, inOrder, teller } from './fault.ts';
import { withTables } from './site.ts';
import { type Entry, entriesOf, type Tree, valueAt } from './tree.ts';
import { readYaml } from './yaml-tree.ts';

/** Tags and machines of a site as tables after RFC 4180, and what is left of the site's own file. */
export interface SiteTables {
  readonly tags: string;
  readonly machines: string;
  /** The site with `tags-from` and `machines-from` in their place; its comments stay. */
  readonly site: string;
}

export interface TableNames {
  /** Where the tables will lie, as seen from the site. */
  readonly tags: string;
  readonly machines: string;
  /** A rule file as the new site file names it. */
  readonly rule?: (path: string) => string;
}

type Cells = ReadonlyMap<string, string>;

const scalarText = (tree: Tree, column: string): string => {
  if (tree.kind !== 'scalar') return '';
  // A number in another base says something only as an address.
  return typeof tree.value === 'number' && column !== 'address' ? String(tree.value) : tree.text;
};

/** One thing as cells by column; lists of plain words share a cell, other lists count their items. */
const cellsOf = (tree: Tree, column: string, into: Map<string, string>): void => {
  const below = (name: string): string => (column === '' ? name : `${column}.${name}`);
  if (tree.kind === 'scalar') into.set(column, scalarText(tree, column));
  else if (tree.kind === 'map') for (const { key, value } of tree.entries) cellsOf(value, below(key), into);
  else if (isList(column)) {
    const between = hasBlanks(column) ? '; ' : ' ';
    into.set(column, tree.items.map((item) => scalarText(item, column)).join(between));
  } else {
    for (const [index, item] of tree.items.entries()) cellsOf(item, below(String(index + 1)), into);
  }
};

const quoted = (text: string): string =>
  /[",\r\n]/.test(text) || text !== text.trim() ? `"${text.replaceAll('"', '""')}"` : text;

const tableOf = (things: readonly Entry[]): string => {
  const rows = things.map(({ key, value }): readonly [string, Cells] => {
    const cells = new Map<string, string>();
    cellsOf(value, '', cells);
    return [key, cells];
  });
  const columns = [...new Set(rows.flatMap(([, cells]) => [...cells.keys()]))];
  const lines = rows.map(([name, cells]) => [name, ...columns.map((column) => cells.get(column) ?? '')]);
  return [['name', ...columns], ...lines].map((line) => `${line.map(quoted).join(',')}\n`).join('');
};

/** The site file without what went into the tables. */
const restOf = (
  text: string,
  names: TableNames,
  some: { readonly tags: boolean; readonly machines: boolean },
): string => {
  const doc = parseDocument(text, { version: '1.2', schema: 'core' });
  for (const key of ['tags', 'machines', 'tags-from', 'machines-from']) doc.delete(key);
  if (some.tags) doc.set('tags-from', names.tags);
  if (some.machines) doc.set('machines-from', names.machines);
  const rules = isMap(doc.contents) ? doc.get('rules', true) : undefined;
  if (isSeq(rules) && names.rule !== undefined) {
    for (const item of rules.items) if (isScalar(item)) item.value = names.rule(String(item.value));
  }
  return doc.toString({ lineWidth: 0 });
};

/**
 * Writes the tags and machines of a site, wherever they stand now, as tables that read back to the same book. The site
 * itself is expected to have no faults; what cannot be read is told.
 */
export const writeTables = (
  files: ReadonlyMap<string, string>,
  main: string,
  names: TableNames,
): SiteTables | { readonly faults: readonly Fault[] } => {
  const faults: Fault[] = [];
  const tell = teller(faults);
  const text = files.get(main) ?? '';
  const tree = readYaml(text, main, tell);
  if (tree?.kind !== 'map') return { faults: inOrder(faults) };
  const whole = withTables({ files, main, texts: new Map(), tell, warn: () => undefined }, tree);
  if (faults.length > 0) return { faults: inOrder(faults) };
  const things = (key: string): readonly Entry[] => entriesOf(valueAt(whole, [key]));
  const [tags, machines] = [things('tags'), things('machines')];
  const some = { tags: tags.length > 0, machines: machines.length > 0 };
  return { tags: tableOf(tags), machines: tableOf(machines), site: restOf(text, names, some) };
};
