import type { FieldEvent } from '../field/index.ts';
import type { Reason, SignalId } from '../measure/index.ts';
import type { EntryKind } from '../record/index.ts';
import { type Book, interlocksNeeding, needs } from '../rulebook/index.ts';
import { CATALOGUE, text } from '../words/index.ts';

/** What a source told, as it goes into the log and to whoever watches the run. */
export interface EventTold {
  readonly kind: EntryKind;
  readonly level: 'info' | 'warn';
  readonly text: string;
  /** Names of the interlocks that need what the event is about. */
  readonly affected: readonly string[];
}

const KINDS: Readonly<Record<FieldEvent['kind'], EntryKind>> = {
  lost: 'source-lost',
  back: 'source-back',
  refused: 'source-refused',
  note: 'source-note',
};

/** More names than this are counted. */
const NAMED = 3;

const listed = (names: readonly string[]): string => {
  const more = names.length - NAMED;
  return more > 0 ? `${names.slice(0, NAMED).join(', ')} and ${more} more` : names.join(', ');
};

const addresses = (event: FieldEvent): { from: number; to: number } | undefined => {
  const { address, count } = event.params;
  return typeof address === 'number' && typeof count === 'number'
    ? { from: address, to: address + count - 1 }
    : undefined;
};

const said = (prefix: string, code: string, params: Reason['params']): string | undefined => {
  const known = `${prefix}-${code}`;
  if (Object.hasOwn(CATALOGUE, known)) return text({ code: known, params });
  return Object.hasOwn(CATALOGUE, code) ? text({ code, params }) : undefined;
};

/** The signals that an event is about: those at its addresses, or all of the source. */
const signalsOf = (book: Book, event: FieldEvent): ReadonlySet<SignalId> => {
  const own = book.signals.filter(({ source }) => source === event.source);
  const range = addresses(event);
  const { table, signal: named } = event.params;
  const meant = own.filter(({ name, address }) => {
    if (named !== undefined) return name === named;
    if (range === undefined) return true;
    return (
      address.kind === 'modbus' &&
      address.table === table &&
      address.at >= range.from &&
      address.at <= range.to
    );
  });
  return new Set(meant.map(({ id }) => id));
};

/** Sentences for what sources tell: alias, place, unit, function, addresses, try, time, interlocks affected, next step. */
export const createFieldEvents = (book: Book): ((event: FieldEvent) => EventTold) => {
  const wishes = needs(book);
  return (event) => {
    const { params } = event;
    const lasts = event.kind === 'lost' || event.kind === 'refused';
    const affected = lasts ? interlocksNeeding(book, wishes, signalsOf(book, event)) : [];
    const range = addresses(event);
    const what = said('field', event.code, params) ?? text({ code: event.code, params });
    const unit = params['unit'] === undefined ? '' : ` unit ${params['unit']}`;
    const alias = book.sources[event.source]?.name ?? '';
    const more = [
      range && event.kind !== 'back' && text({ code: 'event-asked', params: { ...params, ...range } }),
      Number(params['attempt']) > 1 && text({ code: 'event-tried', params }),
      affected.length > 0 && text({ code: 'event-affected', params: { affected: listed(affected) } }),
      typeof params['next'] === 'string' && said('next', params['next'], params),
    ];
    const sentences = [what, ...more.filter((one) => typeof one === 'string')];
    return {
      kind: KINDS[event.kind],
      level: lasts ? 'warn' : 'info',
      text: `${alias} (${params['place'] ?? params['endpoint'] ?? ''}${unit}): ${sentences.join(' ')}`,
      affected,
    };
  };
};
