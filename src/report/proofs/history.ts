import type { Finding, Mark, Stimulus, WindowVerdict } from '../../judge/index.ts';
import { type Instant, parseUtc } from '../../measure/index.ts';
import { bodySchemas, type Entry, type EntryKind, registerOf } from '../../record/index.ts';
import type { Book } from '../../rulebook/index.ts';
import type { PersonReport, RevisionReport } from '../types.ts';
import type {
  BookPast,
  DangerPast,
  History,
  InterlockPast,
  Noted,
  RevisionPast,
  ScopePast,
  WindowPast,
} from './history-types.ts';

/** The kinds of entries that a history is made from: whoever reads a log for it can pass over all others. */
export const HISTORY_KINDS: ReadonlySet<EntryKind> = new Set([
  'genesis',
  'book',
  'window-opened',
  'window-closed',
  'window-interrupted',
  'mark',
  'finding',
  'verdict',
  'revision',
  'contradiction',
  'signature',
  'amendment',
  'transcribed',
  'comment',
  'register',
  'scope',
]);

/** What can be said of an interlock whose window was interrupted before it had a verdict. */
export const interruptedVerdict = (): WindowVerdict => {
  const reason = { code: 'interrupted', params: {} };
  return {
    outcome: 'inconclusive',
    reasons: [reason],
    aspects: [{ name: 'attribution', outcome: 'inconclusive', reason }],
    effects: [],
    proved: [],
    trials: [],
    trial: 0,
  };
};

const timeOf = (entry: Entry): Instant => parseUtc(entry.utc) ?? (0 as Instant);

const notedOf = (entry: Entry): Noted => ({
  entry: entry.seq,
  at: timeOf(entry),
  subject: entry.subject,
  actor: entry.actor,
  body: entry.body,
});

/** A window while its entries are read. */
interface Draft {
  readonly opened: Entry;
  readonly book: Book | undefined;
  readonly stimuli: readonly Stimulus[];
  closed?: Entry;
  interrupted?: Entry;
  readonly verdicts: Map<number, { readonly verdict: WindowVerdict; readonly demand: boolean }>;
  readonly revisions: Map<number, { text: string; quality: 'tag' | 'typed' }[]>;
  readonly notes: {
    readonly signature: Noted[];
    readonly amendment: Noted[];
    readonly transcribed: Noted[];
    readonly comment: Noted[];
  };
}

/** Everything that is known so far. */
interface Work {
  log: string;
  site: string;
  last: Instant;
  newest: Book | undefined;
  readonly books: Map<string, Book>;
  readonly bookEntries: BookPast[];
  readonly drafts: Map<string, Draft>;
  readonly revisions: RevisionPast[];
  readonly dangers: DangerPast[];
  readonly register: Entry[];
  readonly scopes: ScopePast[];
  /** Entries that belong to a window, by number: an amendment names the entry, not the window. */
  readonly owner: Map<number, string>;
}

const takeOpened = (work: Work, entry: Entry): void => {
  if (work.drafts.has(entry.subject)) return;
  const opening = bodySchemas['window-opened'].safeParse(entry.body);
  const stimuli = opening.success ? (entry.body['stimuli'] as unknown as readonly Stimulus[]) : [];
  work.drafts.set(entry.subject, {
    opened: entry,
    book: work.books.get(String(entry.body['book'])),
    stimuli,
    verdicts: new Map(),
    revisions: new Map(),
    notes: { signature: [], amendment: [], transcribed: [], comment: [] },
  });
};

const takeMark = (work: Work, draft: Draft | undefined, entry: Entry): void => {
  const mark = entry.body['mark'] as unknown as Mark | undefined;
  if (draft === undefined || mark?.code !== 'revision') return;
  const own = draft.revisions.get(mark.machine) ?? [];
  own.push({ text: mark.text, quality: mark.quality });
  draft.revisions.set(mark.machine, own);
  work.revisions.push({
    entry: entry.seq,
    at: mark.at,
    machine: draft.book?.machines[mark.machine]?.name ?? '',
    text: mark.text,
    quality: mark.quality,
    window: entry.subject,
  });
};

const takeRevision = (work: Work, entry: Entry): void => {
  const { text, quality, lastSeen } = entry.body;
  if (typeof text !== 'string') return;
  const before = typeof lastSeen === 'string' ? parseUtc(lastSeen) : undefined;
  work.revisions.push({
    entry: entry.seq,
    at: timeOf(entry),
    machine: entry.subject,
    text,
    quality: quality === 'typed' ? 'typed' : 'tag',
    ...(before !== undefined && { lastSeen: before }),
    window: '',
  });
};

const takeFinding = (work: Work, draft: Draft | undefined, entry: Entry): void => {
  const finding = entry.body['finding'] as unknown as Finding | undefined;
  if (finding?.kind === 'window') {
    const demand = draft?.stimuli.length === 0 || finding.demand === true;
    draft?.verdicts.set(finding.interlock, { verdict: finding.verdict, demand });
  }
  if (finding?.kind !== 'contradiction' || !finding.dangerous) return;
  const interlock = (draft?.book ?? work.newest)?.interlocks[finding.interlock]?.name;
  if (interlock === undefined) return;
  work.dangers.push({
    entry: entry.seq,
    at: finding.at,
    interlock,
    reason: finding.reason,
    window: draft === undefined ? '' : entry.subject,
  });
};

const takeScope = (work: Work, entry: Entry): void => {
  if (!bodySchemas.scope.safeParse(entry.body).success) return;
  const body = entry.body as unknown as Pick<ScopePast, 'change' | 'revision' | 'machines' | 'prove'> & {
    readonly approver?: string;
  };
  const { change, revision, machines, prove, approver } = body;
  work.scopes.push({
    entry: entry.seq,
    at: timeOf(entry),
    by: entry.actor,
    change,
    revision,
    machines,
    prove,
    ...(approver !== undefined && { approver }),
  });
};

const isNote = (kind: EntryKind): kind is keyof Draft['notes'] =>
  kind === 'signature' || kind === 'amendment' || kind === 'transcribed' || kind === 'comment';

/** A signature or a correction belongs to its window, by its subject or by the entry that it is of. */
const takeNote = (work: Work, kind: keyof Draft['notes'], entry: Entry): void => {
  const of = entry.body['of'];
  const owner = typeof of === 'number' ? work.owner.get(of) : undefined;
  const draft = work.drafts.get(entry.subject) ?? work.drafts.get(owner ?? '');
  draft?.notes[kind].push(notedOf(entry));
};

const takeBook = (work: Work, entry: Entry): void => {
  const hash = String(entry.body['hash']);
  const book = work.books.get(hash) ?? (entry.body['book'] as unknown as Book | undefined);
  if (book === undefined) return;
  work.books.set(hash, book);
  work.newest = book;
  work.bookEntries.push({ entry: entry.seq, at: timeOf(entry), hash });
};

const take = (work: Work, entry: Entry): void => {
  const { kind, subject } = entry;
  work.last = Math.max(work.last, timeOf(entry)) as Instant;
  if (kind === 'window-opened') takeOpened(work, entry);
  const draft = work.drafts.get(subject);
  if (draft !== undefined) work.owner.set(entry.seq, subject);
  if (kind === 'genesis') {
    work.log = String(entry.body['log'] ?? '');
    work.site = String(entry.body['site'] ?? '');
  }
  if (kind === 'book') takeBook(work, entry);
  if (kind === 'window-closed' && draft !== undefined) draft.closed ??= entry;
  if (kind === 'window-interrupted' && draft !== undefined) draft.interrupted ??= entry;
  if (kind === 'mark') takeMark(work, draft, entry);
  if (kind === 'revision') takeRevision(work, entry);
  if (kind === 'finding' || kind === 'verdict' || kind === 'contradiction') takeFinding(work, draft, entry);
  if (kind === 'scope') takeScope(work, entry);
  if (kind === 'register') work.register.push(entry);
  if (isNote(kind)) takeNote(work, kind, entry);
};

const standingOf = (draft: Draft): WindowPast['standing'] => {
  if (draft.closed !== undefined) return 'closed';
  return draft.interrupted === undefined ? 'open' : 'interrupted';
};

const interlocksOf = (draft: Draft): InterlockPast[] => {
  const { book, stimuli, verdicts } = draft;
  const all = new Map(verdicts);
  for (const { interlock } of draft.interrupted === undefined ? [] : stimuli)
    if (!all.has(interlock)) all.set(interlock, { verdict: interruptedVerdict(), demand: false });
  return (book?.interlocks ?? []).flatMap(({ id, name }): InterlockPast[] => {
    const found = all.get(id);
    if (found === undefined) return [];
    const method = stimuli.find(({ interlock }) => interlock === id)?.method ?? 'unstated';
    const { verdict, demand } = found;
    return [{ name, method, verdict, trials: verdict.trials.length, demand }];
  });
};

const revisionsOf = ({ book, revisions }: Draft): RevisionReport[] =>
  [...revisions].flatMap(([machine, own]): RevisionReport[] => {
    const first = own[0];
    const last = own.at(-1);
    if (first === undefined || last === undefined) return [];
    return [
      {
        machine: book?.machines[machine]?.name ?? '',
        opened: first.text,
        ...(own.length > 1 && { closed: last.text }),
        quality: first.quality,
        ...(last.quality !== first.quality && { closedQuality: last.quality }),
      },
    ];
  });

const windowOf = (id: string, draft: Draft): WindowPast => {
  const { opened, notes } = draft;
  const ended = draft.closed ?? draft.interrupted;
  return {
    id,
    entry: opened.seq,
    opened: timeOf(opened),
    ...(ended && { closed: timeOf(ended), ended: ended.seq }),
    standing: standingOf(draft),
    demand: draft.stimuli.length === 0,
    people: (opened.body['people'] ?? []) as unknown as PersonReport[],
    note: String(opened.body['note'] ?? ''),
    revisions: revisionsOf(draft),
    bookHash: String(opened.body['book']),
    engine: Number(opened.body['engine']),
    toolVersion: String(opened.body['tool'] ?? ''),
    interlocks: interlocksOf(draft),
    signatures: notes.signature,
    amendments: notes.amendment,
    transcribed: notes.transcribed,
    comments: notes.comment,
  };
};

/** What a log says of the past, from its entries in their order; no answer is decoded. */
export const historyOf = (entries: Iterable<Entry>): History => {
  const work: Work = {
    log: '',
    site: '',
    last: 0 as Instant,
    newest: undefined,
    books: new Map(),
    bookEntries: [],
    drafts: new Map(),
    revisions: [],
    dangers: [],
    register: [],
    scopes: [],
    owner: new Map(),
  };
  for (const entry of entries) if (HISTORY_KINDS.has(entry.kind)) take(work, entry);
  const { log, site, last, books, bookEntries, revisions, dangers, register, scopes } = work;
  return {
    log,
    site,
    last,
    books,
    bookEntries,
    windows: [...work.drafts].map(([id, draft]) => windowOf(id, draft)),
    revisions,
    dangers,
    register: registerOf(register),
    scopes,
  };
};

/** The book in force at the end of the log; undefined where none was entered. */
export const bookNow = (history: History): Book | undefined =>
  history.books.get(history.bookEntries.at(-1)?.hash ?? '');
