import { parseUtc, SECOND } from '../measure/index.ts';
import {
  type Amendment,
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
import { roleText } from '../words/index.ts';
import type { StoredWindow } from './replay.ts';
import { stepNotes } from './step-notes.ts';

type Mark = StoredWindow['marks'][number]['mark'];

const attestedIn = (mark: Mark): string => {
  if (mark.code !== 'attested') return '';
  return mark.where === undefined ? mark.what : `${mark.what} (${mark.where})`;
};

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

/** A text that was corrected says so where it stands; the old one stands among the corrections. */
const marked = (text: string, entry: number, field: string, amendments: readonly Amendment[]): string => {
  const last = amendments.findLast((one) => one.fits && one.of === entry && one.field === `body.${field}`);
  return last === undefined ? text : `${text} (corrected: entry ${last.entry})`;
};

/** Who was there and what was stated at the opening, as corrected since. */
export const openingOf = ({
  opened,
  entries,
}: StoredWindow): {
  readonly people: readonly Person[];
  readonly stated: Readonly<Record<string, string>>;
} => {
  const amendments = amendmentsOf(entries);
  const body = amendedBody(opened, amendments);
  const shown = (text: string, field: string): string => marked(text, opened.seq, field, amendments);
  const named = ((body['people'] ?? []) as unknown as readonly Person[]).map(({ name, role }, index) => ({
    name: shown(name, `people.${index}.name`),
    role,
  }));
  const withRole = (role: string): string =>
    named
      .filter((one) => one.role === role)
      .map(({ name }) => name)
      .join(', ');
  const stated = {
    note: shown(String(body['note'] ?? ''), 'note'),
    permit: shown(String(body['permit'] ?? ''), 'permit'),
    observer: withRole('final-element'),
    listener: withRole('horn'),
    witness: withRole('witness'),
    reviewer: withRole('reviewer'),
  };
  return {
    people: named.map(({ name, role }, index) => ({
      name,
      role: shown(roleText(role), `people.${index}.role`),
    })),
    stated: Object.fromEntries(Object.entries(stated).filter(([, value]) => value !== '')),
  };
};

/** A comment stands where it speaks of, or when it was made; which interlock and trial it is on is said with it. */
const commentNotes = (stored: StoredWindow, zero: number): WindowReport['notes'] =>
  commentsOf(stored.entries).map(({ utc, by, text, interlock, trial, at }) => {
    const on = [interlock, trial === undefined ? undefined : `trial ${trial}`].filter(Boolean).join(', ');
    const made = ((parseUtc(utc) ?? zero) - zero) / SECOND;
    return { t: at ?? made, by, text: `comment${on === '' ? '' : ` on ${on}`}: ${text}` };
  });

/** What people said and did, `t` seconds after `zero`; as corrected since. Comments stand behind. */
export const notesOf = (stored: StoredWindow, zero: number): WindowReport['notes'] => [
  ...[...markNotes(stored, zero), ...stepNotes(stored, zero)].sort((one, other) => one.t - other.t),
  ...commentNotes(stored, zero),
];

const markNotes = (stored: StoredWindow, zero: number): WindowReport['notes'] => {
  const amendments = amendmentsOf(stored.entries);
  return stored.entries.flatMap((entry) => {
    if (entry.kind !== 'mark') return [];
    const mark = amendedBody(entry, amendments)['mark'] as unknown as Mark;
    if (!('by' in mark) || typeof mark.by !== 'string') return [];
    const text = 'text' in mark ? marked(mark.text, entry.seq, 'mark.text', amendments) : attestedIn(mark);
    const by = marked(mark.by, entry.seq, 'mark.by', amendments);
    return [{ t: (mark.at - zero) / SECOND, by, text: text === '' ? mark.code : `${mark.code}: ${text}` }];
  });
};
