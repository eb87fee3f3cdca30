import type { AccountNow, Entering, LogNow, RegisterItemNow, SigningNow } from '../../api/index.ts';
import type { Phrase } from '../../measure/index.ts';
import {
  type Account,
  accountsOf,
  amendmentFor,
  type BypassSeen,
  bypassesSeen,
  type Comment,
  commentFault,
  coverOf,
  createNames,
  type Entry,
  type EntryKind,
  type ItemOpening,
  itemOpening,
  itemStep,
  type Meaning,
  overBy,
  plain,
  provingsOf,
  registerOf,
  type SignatureState,
  signatureFault,
  signingFault,
  windowSigning,
} from '../../record/index.ts';
import type { PapersReport } from '../../report/index.ts';
import type { Book, RecordDemands } from '../../rulebook/index.ts';
import { type LogReader, readLog, sha256 } from '../../store/index.ts';
import { papersOf } from '../papers.ts';

/** The part of a log's reader that answers are made from. */
type Entries = Pick<LogReader, 'entriesOf' | 'parsed'>;

/** Who asks, once it is known: `account` where a password has shown it, for this or when its session began. */
export interface Actor {
  readonly name: string;
  readonly account?: Account;
}

type WithoutSecrets<T> = T extends { do: 'person' } ? never : Omit<T, 'who'>;
/** What is to be entered, without who asks and his password. */
export type Asked = WithoutSecrets<Entering>;

/** The entry that a request comes to, or why there is none. */
export type Decision =
  | { readonly kind: EntryKind; readonly subject: string; readonly body: Entry['body'] }
  | { readonly refused: Phrase };

/** Questions to a log. They are answered from the file, beside the thread that polls. */
export interface Questions {
  log: { readonly ask: 'log'; readonly answer: LogNow };
  accounts: { readonly ask: 'accounts'; readonly answer: readonly Account[] };
  people: { readonly ask: 'people'; readonly answer: readonly AccountNow[] };
  register: { readonly ask: 'register'; readonly utc: string; readonly answer: readonly RegisterItemNow[] };
  bypasses: { readonly ask: 'bypasses'; readonly answer: readonly BypassSeen[] };
  papers: { readonly ask: 'papers'; readonly window: string; readonly answer: PapersReport | undefined };
  signed: { readonly ask: 'signed'; readonly answer: readonly SignedShort[] };
  signing: { readonly ask: 'signing'; readonly window: string; readonly answer: SigningNow | undefined };
  decide: {
    readonly ask: 'decide';
    readonly asked: Asked;
    readonly actor: Actor;
    readonly utc: string;
    readonly answer: Decision;
  };
}
/** A window or sheet with what is signed, corrected and copied in, as a line of a list. */
export interface SignedShort {
  readonly window: string;
  readonly opened: string;
  readonly signatures: readonly {
    readonly meaning: Meaning;
    readonly name: string;
    readonly state: SignatureState;
  }[];
  readonly missing: readonly Meaning[];
  readonly amendments: number;
  readonly transcribed: number;
}

export type Question = { [Name in keyof Questions]: Omit<Questions[Name], 'answer'> }[keyof Questions];
export type AnswerTo<Q> = Q extends { readonly ask: infer Name }
  ? Name extends keyof Questions
    ? Questions[Name]['answer']
    : never
  : never;

/** Entries of some kinds, in the order of the log. */
const ofKinds = (reader: Pick<Entries, 'entriesOf'>, kinds: readonly EntryKind[]): Entry[] =>
  kinds.flatMap((kind) => reader.entriesOf({ kind })).sort((one, other) => one.seq - other.seq);

const bookOf = (reader: Entries, own: readonly Entry[]): Book | undefined => {
  const hash = own.find(({ kind }) => kind === 'window-opened')?.body['book'];
  const found = reader.entriesOf({ kind: 'book' }).find(({ body }) => body['hash'] === hash);
  return found?.body['book'] as unknown as Book | undefined;
};

const demandsOf = (reader: Entries, own: readonly Entry[]): RecordDemands | undefined =>
  bookOf(reader, own)?.records;

const signed = (reader: Entries, asked: Asked & { do: 'sign' }, { account }: Actor): Decision => {
  const { window, meaning } = asked;
  if (account === undefined) return { refused: { code: 'password-wrong', params: {} } };
  const right = signingFault(account, meaning);
  if (right !== undefined) return { refused: right };
  const own = reader.entriesOf({ window });
  const person = { id: account.id, name: account.name };
  const fault = signatureFault(own, window, meaning, person, demandsOf(reader, own), sha256);
  if (fault !== undefined) return { refused: fault };
  const body = {
    meaning,
    person,
    role: account.roles.join(', '),
    assurance: 'password',
    covers: coverOf(own, sha256),
  };
  return { kind: 'signature', subject: window, body: plain(body) as Entry['body'] };
};

const amended = (reader: Entries, asked: Asked & { do: 'amend' }): Decision => {
  const own = reader.entriesOf({ window: asked.window });
  const found = amendmentFor(own, asked);
  if ('refused' in found)
    return { refused: { ...found.refused, params: { window: asked.window, ...found.refused.params } } };
  return { kind: 'amendment', subject: asked.window, body: found.body };
};

/** Of a sheet that belongs to no window. */
const sheetId = (utc: string): string =>
  `s${utc.replaceAll(/[-:]/g, '').slice(0, 15)}-${utc.replaceAll(/\D/g, '').slice(14, 17)}`;

const transcribed = (reader: Entries, asked: Asked & { do: 'transcribe' }, utc: string): Decision => {
  const { window, sheet, by, on, values } = asked;
  const isNew = window === 'new';
  const first = isNew ? undefined : reader.entriesOf({ window })[0];
  if (!isNew && first?.kind !== 'window-opened' && first?.kind !== 'transcribed')
    return { refused: { code: 'transcribe-no-window', params: { window } } };
  return { kind: 'transcribed', subject: isNew ? sheetId(utc) : window, body: { sheet, by, on, values } };
};

const openedItem = (reader: Entries, asked: Asked & { do: 'register-open' }, utc: string): Decision => {
  const names = createNames();
  for (const entry of reader.entriesOf({ kind: 'book' })) names.take(entry);
  const { do: _, ...opening } = asked;
  const items = registerOf(reader.entriesOf({ kind: 'register' }));
  const found = itemOpening(items, names, plain(opening) as unknown as ItemOpening, utc);
  return 'refused' in found ? found : { kind: 'register', ...found };
};

const stepped = (reader: Entries, asked: Asked & { do: 'register-step' }): Decision => {
  const { id, action, text, window } = asked;
  const own = window === undefined ? [] : reader.entriesOf({ window });
  const provings = provingsOf([...reader.entriesOf({ kind: 'book' }), ...own]);
  const items = registerOf(reader.entriesOf({ kind: 'register' }));
  const found = itemStep(items, provings, { id, action, text, ...(window !== undefined && { window }) });
  return 'refused' in found ? found : { kind: 'register', ...found };
};

const commented = (reader: Entries, asked: Asked & { do: 'comment' }): Decision => {
  const { do: _, window, ...comment } = asked;
  const own = reader.entriesOf({ window });
  const names = bookOf(reader, own)?.interlocks.map(({ name }) => name) ?? [];
  const fault = commentFault(own, window, plain(comment) as unknown as Comment, names);
  if (fault !== undefined) return { refused: fault };
  return { kind: 'comment', subject: window, body: plain(comment) as Entry['body'] };
};

const decide = (reader: Entries, asked: Asked, actor: Actor, utc: string): Decision => {
  switch (asked.do) {
    case 'sign':
      return signed(reader, asked, actor);
    case 'amend':
      return amended(reader, asked);
    case 'transcribe':
      return transcribed(reader, asked, utc);
    case 'register-open':
      return openedItem(reader, asked, utc);
    case 'register-step':
      return stepped(reader, asked);
    case 'comment':
      return commented(reader, asked);
    case 'scope':
      return { kind: 'scope', subject: '', body: plain(asked.scope) as Entry['body'] };
    default:
      return asked satisfies never;
  }
};

/** Windows and sheets in their order, each with the papers on it. */
const shortOf = (reader: Entries): readonly SignedShort[] => {
  const found = new Map<string, { window: string; opened: string; entries: Entry[] }>();
  for (const entry of reader.parsed()) {
    const { kind, subject, utc } = entry;
    const begins = kind === 'window-opened' || (kind === 'transcribed' && !found.has(subject));
    if (begins) found.set(subject, { window: subject, opened: utc, entries: [] });
    found.get(subject)?.entries.push(entry);
  }
  return [...found.values()].map(({ window, opened, entries }) => {
    const { signatures, missing } = windowSigning(entries, demandsOf(reader, entries), sha256);
    const count = (kind: EntryKind): number => entries.filter((entry) => entry.kind === kind).length;
    return {
      window,
      opened,
      signatures: signatures.map(({ meaning, person, state }) => ({ meaning, name: person.name, state })),
      missing,
      amendments: count('amendment'),
      transcribed: count('transcribed'),
    };
  });
};

const accountList = (reader: Entries): readonly Account[] => [
  ...accountsOf(reader.entriesOf({ kind: 'person' })).values(),
];

const answerOf = (reader: Entries, question: Question): Questions[keyof Questions]['answer'] => {
  switch (question.ask) {
    case 'log': {
      const [genesis] = reader.entriesOf({ kind: 'genesis' });
      return { log: String(genesis?.body['log'] ?? ''), site: genesis?.subject ?? '' };
    }
    case 'accounts':
      return accountList(reader);
    case 'people':
      return accountList(reader).map(({ id, name, roles, standing }) => ({ id, name, roles, standing }));
    case 'register':
      return registerOf(reader.entriesOf({ kind: 'register' })).map((life) => ({
        ...life,
        over: overBy(life, question.utc),
      }));
    case 'bypasses':
      return bypassesSeen(ofKinds(reader, ['book', 'window-opened', 'mark', 'finding', 'contradiction']));
    case 'papers': {
      const own = reader.entriesOf({ window: question.window });
      const [first] = own;
      if (first?.kind !== 'window-opened' && first?.kind !== 'transcribed') return undefined;
      return papersOf(own, bookOf(reader, own));
    }
    case 'signed':
      return shortOf(reader);
    case 'signing': {
      const own = reader.entriesOf({ window: question.window });
      if (own.length === 0) return undefined;
      return windowSigning(own, demandsOf(reader, own), sha256);
    }
    case 'decide':
      return decide(reader, question.asked, question.actor, question.utc);
    default:
      return question satisfies never;
  }
};

/** Answers from what stands in a log. */
export const answerFrom = <Q extends Question>(reader: Entries, question: Q): AnswerTo<Q> =>
  answerOf(reader, question) as AnswerTo<Q>;

/** Answers from the file as it is now. Slow where a log is long: the daemon asks in a thread of its own. */
export const lookAt = <Q extends Question>(path: string, question: Q): AnswerTo<Q> => {
  const reader = readLog(path);
  try {
    return answerFrom(reader, question);
  } finally {
    reader.close();
  }
};
