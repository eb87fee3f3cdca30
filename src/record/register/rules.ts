import { OUTCOMES, type Phrase, parseUtc, type Reason } from '../../measure/index.ts';
import type { Entry, Json } from '../types.ts';
import type { RegisterItem } from './bodies.ts';
import { hoursAfter, nextItemId, type RegisterLife, type RegisterStated } from './items.ts';
import { createNames, type Names } from './names.ts';

/** What a new item is opened with; which of it must be there depends on the item. */
export interface ItemOpening extends RegisterStated {
  readonly item: RegisterItem;
  /** Interlock or machine. */
  readonly on: string;
  readonly text: string;
  /** Days as YYYY-MM-DD. */
  readonly until?: string;
  readonly due?: string;
  /** Since when it has been so, UTC, where that was before it is entered. */
  readonly since?: string;
  /** A bypass may end within the day. */
  readonly hours?: number;
  readonly window?: string;
}

/** What a window said of one interlock. */
export interface Proof {
  readonly interlock: string;
  readonly machine: string;
  readonly outcome: (typeof OUTCOMES)[number];
}

/** A window as a proof: its verdicts, when it was opened (UTC), and how it ended. */
export interface Proving {
  readonly window: string;
  readonly opened: string;
  readonly standing: 'open' | 'closed' | 'interrupted';
  readonly verdicts: readonly Proof[];
}

type Decided = { readonly subject: string; readonly body: Entry['body'] } | { readonly refused: Phrase };

const refuse = (code: string, params: Phrase['params'] = {}): { readonly refused: Phrase } => ({
  refused: { code, params },
});

type Field = Exclude<keyof ItemOpening, 'item' | 'on' | 'text' | 'window'>;

/** Of a list of several one is enough. Common practice, no source; the deferral as functional safety asks for it. */
const ASKED: Readonly<Record<RegisterItem, readonly (readonly Field[])[]>> = {
  deferral: [['reason'], ['risk'], ['approver'], ['until']],
  impairment: [['precautions'], ['notified'], ['until']],
  punch: [['category'], ['owner'], ['due']],
  bypass: [['reason'], ['approver'], ['until', 'hours']],
};

const isGiven = (opening: ItemOpening, field: Field): boolean => {
  const value = opening[field];
  return Array.isArray(value) ? value.length > 0 : value !== undefined && value !== '';
};

const isDay = (day: string): boolean => parseUtc(`${day}T00:00:00Z`) !== undefined;

const dayFault = (opening: ItemOpening, utc: string): Reason | undefined => {
  for (const field of ['until', 'due'] as const) {
    const day = opening[field];
    if (day === undefined) continue;
    if (!isDay(day)) return { code: 'register-day', params: { field, day } };
    if (day < utc.slice(0, 10)) return { code: 'register-day-past', params: { field, day } };
  }
  const { since } = opening;
  if (since === undefined) return undefined;
  const [began, now] = [parseUtc(since), parseUtc(utc)];
  if (began === undefined) return { code: 'register-day', params: { field: 'since', day: since } };
  return now !== undefined && began > now ? { code: 'register-since-future', params: { since } } : undefined;
};

/** The body of the entry that opens an item, or what is missing. `utc`: now. */
export const itemOpening = (
  items: readonly RegisterLife[],
  names: Names,
  opening: ItemOpening,
  utc: string,
): Decided => {
  const { item, on, hours, ...rest } = opening;
  const known = names.known();
  if (!known.includes(on)) return refuse('register-unknown-on', { on, known: known.join(', ') });
  if (opening.text.trim() === '') return refuse('register-text', { item });
  const missing = ASKED[item].filter((fields) => !fields.some((field) => isGiven(opening, field)));
  if (missing.length > 0)
    return refuse('register-missing', {
      item,
      fields: missing.map(([field = '', other]) =>
        other === undefined
          ? { code: 'field-asked', params: { field } }
          : { code: 'field-or-field', params: { field, other } },
      ),
    });
  const fault = dayFault(opening, utc);
  if (fault !== undefined) return { refused: fault };
  const expires = hours === undefined ? undefined : hoursAfter(utc, hours);
  const id = nextItemId(items, item);
  const body: Record<string, Json> = { item, id, action: 'opened' };
  for (const [field, value] of Object.entries(rest)) if (value !== undefined) body[field] = value;
  if (expires !== undefined) Object.assign(body, { expires, until: opening.until ?? expires.slice(0, 10) });
  return { subject: on, body };
};

/** Windows of a log with their verdicts. */
export const provingsOf = (entries: Iterable<Entry>): ReadonlyMap<string, Proving> => {
  const names = createNames();
  const found = new Map<string, Proving & { verdicts: Proof[] }>();
  for (const entry of entries) {
    names.take(entry);
    const { kind, subject, utc, body } = entry;
    if (kind === 'window-opened')
      found.set(subject, { window: subject, opened: utc, standing: 'open', verdicts: [] });
    const own = found.get(subject);
    if (own === undefined) continue;
    if (kind === 'window-closed') found.set(subject, { ...own, standing: 'closed' });
    if (kind === 'window-interrupted') found.set(subject, { ...own, standing: 'interrupted' });
    if (kind !== 'verdict') continue;
    const finding = body['finding'] as { interlock?: unknown; verdict?: { outcome?: unknown } } | undefined;
    const outcome = OUTCOMES.find((one) => one === finding?.verdict?.outcome);
    const interlock = names.interlock(entry, finding?.interlock);
    if (outcome !== undefined) own.verdicts.push({ interlock, machine: names.machineOf(interlock), outcome });
  }
  return found;
};

/** What keeps a punch item of category A from being closed by this window; undefined: the window proves it. */
const proofFault = (life: RegisterLife, proving: Proving | undefined, window: string): Phrase | undefined => {
  const params = { id: life.id, on: life.on, window };
  if (proving === undefined) return { code: 'register-no-window', params };
  if (proving.standing !== 'closed')
    return { code: 'register-window-standing', params: { ...params, standing: proving.standing } };
  const began = parseUtc(life.opened) ?? 0;
  if ((parseUtc(proving.opened) ?? 0) < began) return { code: 'register-window-before', params };
  const own = proving.verdicts.filter(
    ({ interlock, machine }) => interlock === life.on || machine === life.on,
  );
  const open = own
    .filter(({ outcome }) => outcome !== 'pass')
    .map(({ interlock, outcome }) => ({ code: 'not-passed', params: { interlock, outcome } }));
  if (own.length === 0) return { code: 'register-not-proved', params };
  return open.length === 0 ? undefined : { code: 'register-not-passed', params: { ...params, open } };
};

export interface ItemStep {
  readonly id: string;
  readonly action: 'noted' | 'closed';
  readonly text: string;
  readonly window?: string;
}

/**
 * The body of a note on an item, or of its closing. What must be done before product runs (punch category A) is closed
 * by a window that was opened behind it and passed.
 */
export const itemStep = (
  items: readonly RegisterLife[],
  provings: ReadonlyMap<string, Proving>,
  step: ItemStep,
): Decided => {
  const { id, action, text, window } = step;
  const life = items.find((one) => one.id === id);
  if (life === undefined)
    return refuse('register-unknown-id', { id, known: items.map((one) => one.id).join(', ') });
  if (life.standing === 'closed') return refuse('register-closed', { id, at: life.closed ?? '' });
  if (text.trim() === '') return refuse('register-text', { item: id });
  if (window !== undefined && !provings.has(window))
    return refuse('register-no-window', { id, on: life.on, window });
  if (action === 'closed' && life.category === 'A') {
    if (window === undefined) return refuse('register-needs-window', { id, on: life.on });
    const fault = proofFault(life, provings.get(window), window);
    if (fault !== undefined) return { refused: fault };
  }
  return {
    subject: life.on,
    body: { item: life.item, id, action, text, ...(window !== undefined && { window }) },
  };
};
