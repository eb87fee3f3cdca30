import { type Phrase, parseUtc, SECOND } from '../measure/index.ts';
import {
  amendedBody,
  amendmentsOf,
  bodySchemas,
  commentsOf,
  type Entry,
  windowSigning,
} from '../record/index.ts';
import type { AttestationReport, PapersReport, TranscribedReport, WindowReport } from '../report/index.ts';
import type { Book } from '../rulebook/index.ts';
import { sha256 } from '../store/index.ts';
import { text } from '../words/index.ts';
import type { StoredWindow } from './replay.ts';
import { asWritten, marked, type NoteSaid } from './said.ts';
import { stepNotes } from './step-notes.ts';

type Mark = StoredWindow['marks'][number]['mark'];

const attestationsOf = (entries: readonly Entry[], book: Book | undefined): readonly AttestationReport[] => {
  const amendments = amendmentsOf(entries);
  return entries.flatMap((entry): AttestationReport[] => {
    const mark =
      entry.kind === 'mark' ? (amendedBody(entry, amendments)['mark'] as unknown as Mark) : undefined;
    if (mark?.code !== 'attested') return [];
    const { by, what, where } = mark;
    const machine = book?.machines[mark.machine]?.name ?? '';
    return [{ entry: entry.seq, utc: entry.utc, by, machine, what, ...(where !== undefined && { where }) }];
  });
};

const transcribedOf = (entries: readonly Entry[]): readonly TranscribedReport[] => {
  const amendments = amendmentsOf(entries);
  return entries.flatMap((entry): TranscribedReport[] => {
    if (entry.kind !== 'transcribed') return [];
    const read = bodySchemas.transcribed.safeParse(amendedBody(entry, amendments));
    if (!read.success) return [];
    const { sheet, by, on, values } = read.data as Pick<TranscribedReport, 'sheet' | 'by' | 'on' | 'values'>;
    return [{ entry: entry.seq, utc: entry.utc, enteredBy: entry.actor, sheet, by, on, values }];
  });
};

/** What people signed, attested, corrected and copied in on a window or sheet, from its entries; `book`: of the window. */
export const papersOf = (entries: readonly Entry[], book: Book | undefined): PapersReport => ({
  signing: windowSigning(entries, book?.records, sha256),
  attestations: attestationsOf(entries, book),
  amendments: amendmentsOf(entries),
  transcribed: transcribedOf(entries),
});

interface Person {
  readonly name: string;
  readonly role: string;
}

/** Who was there, as corrected since. */
export const peopleOf = ({
  opened,
  entries,
}: StoredWindow): readonly { readonly name: Phrase; readonly role: Phrase; readonly code: string }[] => {
  const amendments = amendmentsOf(entries);
  const people = (amendedBody(opened, amendments)['people'] ?? []) as unknown as readonly Person[];
  const shown = (phrase: Phrase, field: string): Phrase => marked(phrase, opened.seq, field, amendments);
  return people.map(({ name, role }, index) => ({
    name: shown(asWritten(name), `people.${index}.name`),
    role: shown({ code: 'role-named', params: { role } }, `people.${index}.role`),
    code: role,
  }));
};

/** Who was there and what was stated at the opening, as corrected since, in English. */
export const openingOf = (
  stored: StoredWindow,
): {
  readonly people: readonly Person[];
  readonly stated: Readonly<Record<string, string>>;
} => {
  const { opened } = stored;
  const amendments = amendmentsOf(stored.entries);
  const body = amendedBody(opened, amendments);
  const shown = (field: string): string =>
    text(marked(asWritten(String(body[field] ?? '')), opened.seq, field, amendments));
  const named = peopleOf(stored);
  const withRole = (role: string): string =>
    named
      .filter(({ code }) => code === role)
      .map(({ name }) => text(name))
      .join(', ');
  const stated = {
    note: shown('note'),
    permit: shown('permit'),
    observer: withRole('final-element'),
    listener: withRole('horn'),
    witness: withRole('witness'),
    reviewer: withRole('reviewer'),
  };
  return {
    people: named.map(({ name, role }) => ({ name: text(name), role: text(role) })),
    stated: Object.fromEntries(Object.entries(stated).filter(([, value]) => value !== '')),
  };
};

/** A comment stands where it speaks of, or when it was made; which interlock and trial it is on is said with it. */
const commentNotes = (stored: StoredWindow, zero: number): WindowReport['notes'] =>
  commentsOf(stored.entries).map(({ utc, by, text: said, interlock, trial, at }) => {
    const on = [interlock, trial === undefined ? undefined : `trial ${trial}`].filter(Boolean).join(', ');
    const made = ((parseUtc(utc) ?? zero) - zero) / SECOND;
    return { t: at ?? made, by, text: `comment${on === '' ? '' : ` on ${on}`}: ${said}` };
  });

/** What people said and did, `t` seconds after `zero`; as corrected since. Without comments. */
export const notesSaid = (stored: StoredWindow, zero: number): readonly NoteSaid[] =>
  [...markNotes(stored, zero), ...stepNotes(stored, zero)].sort((one, other) => one.t - other.t);

/** The same in English, comments behind. */
export const notesOf = (stored: StoredWindow, zero: number): WindowReport['notes'] => [
  ...notesSaid(stored, zero).map(({ t, by, says }) => ({ t, by: text(by), text: text(says) })),
  ...commentNotes(stored, zero),
];

/** Only what somebody typed is a text of its own. */
const noteOf = (mark: Mark & { readonly by: string }, said: (typed: string) => Phrase): Phrase => {
  if (mark.code === 'attested') {
    const { what, where } = mark;
    return { code: 'note-attested', params: { what, ...(where !== undefined && { where }) } };
  }
  const typed = 'text' in mark && mark.text !== '' ? { text: said(mark.text) } : {};
  return { code: `note-${mark.code}`, params: typed };
};

const markNotes = (stored: StoredWindow, zero: number): readonly NoteSaid[] => {
  const amendments = amendmentsOf(stored.entries);
  return stored.entries.flatMap((entry): NoteSaid[] => {
    if (entry.kind !== 'mark') return [];
    const mark = amendedBody(entry, amendments)['mark'] as unknown as Mark;
    if (!('by' in mark) || typeof mark.by !== 'string') return [];
    const shown = (written: string, field: string): Phrase =>
      marked(asWritten(written), entry.seq, field, amendments);
    const says = noteOf(mark as Mark & { readonly by: string }, (typed) => shown(typed, 'mark.text'));
    return [{ t: (mark.at - zero) / SECOND, by: shown(mark.by, 'mark.by'), says }];
  });
};
