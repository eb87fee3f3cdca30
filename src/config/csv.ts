import type { Place, Tell } from './fault.ts';
import type { Entry, MapTree, Tree } from './tree.ts';

export interface Cell {
  readonly text: string;
  readonly line: number;
  readonly column: number;
}

/**
 * Reads RFC 4180: comma, quoted fields with doubled quotes, CRLF or LF. Empty lines are passed over.
 * A quote that never closes is told and ends the last field at the end of the file.
 */
export const readCsv = (text: string, file: string, tell: Tell): readonly (readonly Cell[])[] => {
  const rows: Cell[][] = [];
  let row: Cell[] = [];
  let line = 1;
  let lineStart = 0;
  let at = text.startsWith('\ufeff') ? 1 : 0;
  const endRow = (): void => {
    if (row.length > 1 || row[0]?.text !== '') rows.push(row);
    row = [];
  };
  const quoted = (): string => {
    let value = '';
    const open: Place = { file, line, column: at - lineStart + 1 };
    at += 1;
    for (;;) {
      const end = text.indexOf('"', at);
      if (end < 0) {
        tell(open, 'csv-quote-open');
        value += text.slice(at);
        at = text.length;
        return value;
      }
      const piece = text.slice(at, end);
      for (let next = piece.indexOf('\n'); next >= 0; next = piece.indexOf('\n', next + 1)) {
        line += 1;
        lineStart = at + next + 1;
      }
      value += piece;
      at = end + 1;
      if (text[at] !== '"') return value;
      value += '"';
      at += 1;
    }
  };
  const bare = (): string => {
    const start = at;
    while (at < text.length && text[at] !== ',' && text[at] !== '\n' && text[at] !== '\r') at += 1;
    return text.slice(start, at);
  };
  while (at < text.length) {
    const cell = { line, column: at - lineStart + 1 };
    const opened = text[at] === '"';
    const value = opened ? quoted() : bare();
    if (opened && at < text.length && !/[,\r\n]/.test(text[at] ?? '')) {
      tell({ file, line, column: at - lineStart + 1 }, 'csv-after-quote');
      bare();
    }
    row.push({ text: opened ? value : value.trim(), ...cell });
    if (text[at] === ',') {
      at += 1;
      if (at === text.length || text[at] === '\n' || text[at] === '\r') {
        row.push({ text: '', line, column: at - lineStart + 1 });
      } else continue;
    }
    if (text[at] === '\r') at += 1;
    if (text[at] === '\n') {
      at += 1;
      line += 1;
      lineStart = at;
    }
    endRow();
  }
  return rows;
};

const NUMBER = /^[+-]?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?$/;

const scalar = (cell: Cell, file: string): Tree => {
  const place = { file, line: cell.line, column: cell.column };
  const word: boolean | undefined = { true: true, false: false }[cell.text];
  const value = NUMBER.test(cell.text) ? Number(cell.text) : (word ?? cell.text);
  return { kind: 'scalar', place, value, text: cell.text, loose: true };
};

const put = (entries: Entry[], path: readonly string[], value: Tree): void => {
  const [first, ...rest] = path;
  if (first === undefined) return;
  if (rest.length === 0) {
    entries.push({ key: first, place: value.place, value });
    return;
  }
  const old = entries.find((entry) => entry.key === first && entry.value.kind === 'map');
  const inner: Entry[] = old?.value.kind === 'map' ? [...old.value.entries] : [];
  put(inner, rest, value);
  const placed: Entry = {
    key: first,
    place: value.place,
    value: { kind: 'map', place: value.place, entries: inner },
  };
  if (old === undefined) entries.push(placed);
  else entries[entries.indexOf(old)] = placed;
};

/** Columns whose cells are lists, separated by spaces or semicolons. */
const LISTS: ReadonlySet<string> = new Set([
  'fed-by',
  'also',
  'faults',
  'plausible',
  'bits',
  'coefficients',
  'loop',
  'difference',
  'ratio',
  'slip',
  'mean',
  'of',
  'spread',
  'depends-on',
]);

/** Columns whose items have blanks within them. */
const QUANTITIES: ReadonlySet<string> = new Set(['plausible', 'loop', 'depends-on']);

/** `set.underspeed-stop.depends-on` lists as `depends-on` does. */
const lastOf = (column: string): string => (column.endsWith('.depends-on') ? 'depends-on' : column);

export const isList = (column: string): boolean => LISTS.has(lastOf(column));

/** Whether a cell's items are separated by semicolons alone. */
export const hasBlanks = (column: string): boolean => QUANTITIES.has(lastOf(column));

const cellTree = (column: string, cell: Cell, file: string): Tree => {
  if (!isList(column)) return scalar(cell, file);
  const words = cell.text.split(hasBlanks(column) ? /\s*;\s*/ : /[\s;]+/).filter((word) => word !== '');
  const place = { file, line: cell.line, column: cell.column };
  return { kind: 'list', place, items: words.map((text) => scalar({ ...cell, text }, file)) };
};

/** Keys of a normal that stand behind the name of its role, which may hold dots itself. */
const OF_NORMAL = /^normal\.(.+?)\.(tag|declared|tolerance|learned-over|steady|against\..+)$/;

/** Keys within keys, as the name of a column has them. */
const pathOf = (column: string): readonly string[] => {
  const normal = OF_NORMAL.exec(column);
  if (normal !== null) return ['normal', normal[1] ?? '', ...(normal[2] ?? '').split('.')];
  if (!/^(roles|nameplate|normal|set)\./.test(column)) return [column];
  return [column.slice(0, column.indexOf('.')), column.slice(column.indexOf('.') + 1)];
};

/** Keys that count from 1 are the items of a list. */
const listed = (tree: Tree): Tree => {
  if (tree.kind !== 'map') return tree;
  const entries = tree.entries.map((entry) => ({ ...entry, value: listed(entry.value) }));
  const counts = entries.length > 0 && entries.every(({ key }, index) => key === String(index + 1));
  if (!counts) return { ...tree, entries };
  return { kind: 'list', place: tree.place, items: entries.map(({ value }) => value) };
};

/**
 * A table of things: the column `name` names them, `roles.shaft-speed` is a key within a key, an empty cell says
 * nothing. Each row becomes an entry as it could have stood in the YAML file.
 */
export const csvEntries = (text: string, file: string, tell: Tell): readonly Entry[] => {
  const [head, ...rows] = readCsv(text, file, tell);
  if (head === undefined) {
    tell({ file, line: 1, column: 1 }, 'empty-file');
    return [];
  }
  const nameAt = head.findIndex((cell) => cell.text === 'name');
  if (nameAt < 0) {
    tell({ file, line: 1, column: 1 }, 'csv-column-missing', { column: 'name' });
    return [];
  }
  return rows.flatMap((row) => {
    const place = { file, line: row[0]?.line ?? 1, column: 1 };
    if (row.length !== head.length) {
      tell(place, 'csv-cells', { cells: row.length, columns: head.length });
      return [];
    }
    const entries: Entry[] = [];
    row.forEach((cell, index) => {
      const column = head[index]?.text ?? '';
      if (index === nameAt || cell.text === '') return;
      put(entries, pathOf(column), cellTree(column, cell, file));
    });
    const map: MapTree = { kind: 'map', place, entries };
    return [{ key: row[nameAt]?.text ?? '', place, value: listed(map) }];
  });
};
