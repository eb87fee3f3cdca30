import type { ScopeList } from '../report/index.ts';
import type { Book } from '../rulebook/index.ts';
import { type EnteringOptions, enterIn } from './entering.ts';
import { EXIT, json, out, Stop } from './io.ts';
import { type WhoOptions, whoOf } from './password.ts';
import { knownFrom, onDay } from './proofs.ts';
import { requestOf } from './request.ts';
import { loadBook } from './site.ts';

export interface ScopeOptions extends EnteringOptions, WhoOptions {
  readonly changed: readonly string[];
  readonly from?: string;
  readonly to?: string;
  readonly all: boolean;
  readonly enter: boolean;
  readonly revision?: string;
  readonly machine: readonly string[];
  readonly approver?: string;
  readonly change?: string;
}

const booksOf = async (
  now: Book,
  { from, to, json: asJson }: ScopeOptions,
): Promise<{ readonly book: Book; readonly before?: Book }> => {
  if (from === undefined && to === undefined) return { book: now };
  const book = to === undefined ? now : (await loadBook(to, asJson)).book;
  return from === undefined ? { book, before: now } : { book, before: (await loadBook(from, asJson)).book };
};

const enterScope = async (log: string, list: ScopeList, options: ScopeOptions) => {
  const { whyText } = await import('../report/index.ts');
  const { revision, approver } = options;
  if (revision === undefined)
    throw new Stop('--enter wants --revision: the revision of the program that the change was made for', {
      exit: EXIT.usage,
    });
  if (list.unknown.length > 0)
    throw new Stop(
      `nothing was entered: "${list.unknown.join('", "')}" is not known, and what rests on it would keep its proof`,
      { exit: EXIT.data },
    );
  const change =
    options.change ?? (options.changed.join(', ') || (options.all ? 'everything' : 'site files'));
  const scope = {
    change,
    revision,
    machines: options.machine.length > 0 ? [...options.machine] : list.machines,
    prove: Object.fromEntries(list.rows.map((row) => [row.interlock, whyText(row).slice(0, 400)])),
    ...(approver !== undefined && { approver }),
  };
  return enterIn(log, requestOf({ do: 'scope', who: await whoOf(options), scope }), options);
};

/** Which interlocks must be proved again after a change, and why; `--enter` keeps it in the log. */
export const scopeCommand = async (log: string, options: ScopeOptions): Promise<number> => {
  const { changed, from, to, all } = options;
  if (changed.length === 0 && from === undefined && to === undefined && !all)
    throw new Stop('say what was changed: --changed NAME, --from OLD.yaml --to NEW.yaml, or --all', {
      exit: EXIT.usage,
    });
  const { reasonJson, scopeOf, scopeText } = await import('../report/index.ts');
  const known = await knownFrom(log, onDay(undefined));
  const { book, before } = await booksOf(known.book, options);
  const list = scopeOf(book, { changed, all, ...(before && { before }) }, known.evidence);
  const entered = options.enter ? await enterScope(log, list, options) : undefined;
  if (options.json) {
    const rows = list.rows.map((row) => ({ ...row, reasons: row.reasons.map(reasonJson) }));
    json({ ...list, rows, ...(entered && { entry: entered.entry }) });
  } else {
    out(scopeText(list));
    if (entered) out(`entry ${entered.entry}: the scope is entered; tests from now on count for it`);
  }
  return list.rows.length === 0 && list.unknown.length === 0 ? EXIT.ok : EXIT.undecided;
};
