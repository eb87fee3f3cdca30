import { EXIT, Stop } from './io.ts';
import { readText } from './site.ts';

/** A filled sheet: which one, who filled it in and when, and what stands in its fields. */
export interface Sheet {
  readonly sheet: string;
  readonly by?: string;
  readonly on?: string;
  readonly values: Readonly<Record<string, string>>;
}

/** These fields are about the sheet itself. */
const ABOUT: readonly string[] = ['sheet', 'by', 'on'];

/** Fields of one line after RFC 4180; `at` is where it begins. Undefined: a quote has no end. */
const csvRow = (
  text: string,
  at: number,
): { readonly cells: readonly string[]; readonly next: number } | undefined => {
  const cells: string[] = [];
  const cell = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n|\n|$)/y;
  cell.lastIndex = at;
  for (;;) {
    const found = cell.exec(text);
    if (found === null) return undefined;
    cells.push(found[1] === undefined ? (found[2] ?? '') : found[1].replaceAll('""', '"'));
    if (found[3] !== ',') return { cells, next: cell.lastIndex };
  }
};

const pairsOfCsv = (text: string, path: string): readonly (readonly [string, string])[] => {
  const pairs: [string, string][] = [];
  for (let [at, line] = [0, 1]; at < text.length; line += 1) {
    const row = csvRow(text, at);
    const [name = '', value = '', ...more] = row?.cells ?? [];
    if (row === undefined || more.length > 0)
      throw new Stop(
        `${path}:${line}: write one field and its value, field,value; quote what holds a comma`,
        {
          exit: EXIT.data,
        },
      );
    at = row.next;
    const isHead = line === 1 && name === 'field' && value === 'value';
    if (!isHead && name !== '') pairs.push([name, value]);
  }
  return pairs;
};

const pairsOfJson = (text: string, path: string): readonly (readonly [string, string])[] => {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (cause) {
    throw new Stop(`${path} is no JSON: ${String(cause)}`, { exit: EXIT.data, cause });
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new Stop(`${path}: write one object of fields and their values`, { exit: EXIT.data });
  return Object.entries(value).map(([name, one]) => {
    if (typeof one === 'object')
      throw new Stop(`${path}: "${name}" must be a text or a number`, { exit: EXIT.data });
    return [name, String(one)];
  });
};

/** A filled sheet as CSV (`field,value`, RFC 4180) or as a JSON object; `sheet`, `by` and `on` are about the sheet. */
export const readSheet = async (path: string): Promise<Sheet> => {
  const text = (await readText(path)).replace(/^\ufeff/, '');
  const pairs = text.trimStart().startsWith('{') ? pairsOfJson(text, path) : pairsOfCsv(text, path);
  const all = new Map<string, string>();
  for (const [name, value] of pairs) {
    if (all.has(name)) throw new Stop(`${path}: "${name}" stands there twice`, { exit: EXIT.data });
    all.set(name, value);
  }
  const [by, on] = [all.get('by'), all.get('on')];
  return {
    sheet: all.get('sheet') ?? '',
    ...(by !== undefined && { by }),
    ...(on !== undefined && { on }),
    values: Object.fromEntries([...all].filter(([name, value]) => !ABOUT.includes(name) && value !== '')),
  };
};
