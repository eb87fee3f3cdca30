import { closingSchema, traceSchema } from '../bodies.ts';
import { canonicalText } from '../canonical.ts';
import { leafOfText, utf8 } from '../chain/tree.ts';
import type { LogSource } from '../log-source.ts';
import { checkAmendments, followAmendments } from '../people/people-amend.ts';
import { checkSignatures, followSignatures } from '../people/signing.ts';
import { decodeAnswers } from '../trace/answers-block.ts';
import type { Entry, Hash, Report } from '../types.ts';
import { standingOf } from '../windows.ts';

/** An entry with the text of which its leaf is the hash. */
export interface Line {
  readonly entry: Entry;
  readonly text: string;
}

/** What a bundle shows of one window. */
export interface BundledWindow {
  readonly window: string;
  readonly standing: 'open' | 'closed' | 'interrupted';
  readonly entries: number;
  /** Up to this entry it is shown that nothing of the window was left out; undefined where no entry counts. */
  readonly wholeUpTo?: number;
}

interface Look {
  readonly hash: Hash;
  readonly source: LogSource;
  readonly report: Report;
}

const isEnd = ({ kind }: Entry): boolean => kind === 'window-closed' || kind === 'window-interrupted';

const checkBook = ({ hash, report }: Look, lines: readonly Line[], { entry }: Line): void => {
  const named = entry.body['book'];
  const book = lines.find((one) => one.entry.kind === 'book' && one.entry.body['hash'] === named)?.entry;
  if (book === undefined) report('bundle-book-missing', { book: String(named) }, entry.seq);
  else if (hash(utf8(canonicalText(book.body['book'] ?? null))) !== named)
    report('bundle-book-differs', { book: String(named) }, book.seq);
};

/** Answers are numbered through: a trace that was left out, and a block that holds less, are seen. */
const checkTraces = ({ source, report }: Look, own: readonly Line[]): number => {
  let next = 0;
  for (const { entry } of own) {
    if (entry.kind !== 'trace') continue;
    const said = traceSchema.safeParse(entry.body);
    if (!said.success) {
      report('trace-without-block', { kind: entry.kind }, entry.seq);
      continue;
    }
    const { first, count, block } = said.data;
    if (first !== next) report('bundle-answers-missing', { from: next, to: first }, entry.seq);
    next = first + count;
    const bytes = source.block(block);
    const held = bytes && decodeAnswers(bytes)?.length;
    if (bytes !== undefined && held !== count)
      report('bundle-answers-differ', { says: count, holds: held ?? 0 }, entry.seq);
  }
  return next;
};

const checkEnd = (
  { report }: Look,
  own: readonly Line[],
  at: number,
  answers: number,
): number | undefined => {
  const end = own[at]?.entry;
  if (end === undefined) return undefined;
  const said = closingSchema.safeParse(end.body);
  if (!said.success) {
    report('entry-unreadable', { why: 'not-an-entry' }, end.seq);
    return undefined;
  }
  const { entries, findings } = said.data;
  if (entries !== undefined && entries !== at)
    report('bundle-entries-missing', { says: entries, holds: at }, end.seq);
  if (said.data.answers !== undefined && said.data.answers !== answers)
    report('bundle-answers-missing', { from: answers, to: said.data.answers }, end.seq);
  const held = own.slice(0, at).filter(({ entry }) => entry.kind === 'finding' || entry.kind === 'verdict');
  if (findings !== undefined && findings !== held.length)
    report('bundle-findings-missing', { says: findings, holds: held.length }, end.seq);
  return entries === undefined ? undefined : end.seq;
};

/** Signatures are of what they cover, by somebody whose account is there; corrections are of what they correct. */
const checkPaperwork = (
  { hash, report }: Look,
  lines: readonly Line[],
  own: readonly Line[],
): readonly number[] => {
  const signing = followSignatures(hash);
  const amending = followAmendments();
  for (const { entry, text } of own) {
    signing.take(entry, leafOfText(hash, text));
    amending.take(entry);
  }
  const signed = signing.signed();
  for (const { entry, reason } of [...checkSignatures(signed), ...checkAmendments(amending.amendments())])
    report(reason.code, reason.params, entry);
  const accounts = new Set(
    lines.flatMap(({ entry }) => (entry.kind === 'person' ? [String(entry.body['id'])] : [])),
  );
  const sound = signed.filter(({ state }) => state === 'whole' || state === 'since');
  for (const { entry, person } of sound)
    if (!accounts.has(person.id)) report('bundle-signer-unknown', { person: person.name }, entry);
  return sound.map(({ covers }) => covers.last);
};

/** Everything about one window: its book, its answers, what its end counts, what its signatures cover. */
export const checkWindow = (look: Look, lines: readonly Line[], window: string): BundledWindow => {
  const own = lines.filter(({ entry }) => entry.subject === window);
  const opened = own.find(({ entry }) => entry.kind === 'window-opened');
  if (opened === undefined) {
    look.report('bundle-window-missing', { window });
    return { window, standing: 'open', entries: own.length };
  }
  checkBook(look, lines, opened);
  const answers = checkTraces(look, own);
  const at = own.findIndex(({ entry }) => isEnd(entry));
  const end = checkEnd(look, own, at, answers) ?? -1;
  const wholeUpTo = Math.max(end, ...checkPaperwork(look, lines, own));
  return {
    window,
    standing: standingOf(own[at]?.entry),
    entries: own.length,
    ...(wholeUpTo >= 0 && { wholeUpTo }),
  };
};
