import { formatUtc, instant, later, parseUtc, SECOND } from '../../measure/index.ts';
import type { Entry } from '../types.ts';
import { type PUNCH_CATEGORIES, type RegisterItem, registerSchema } from './bodies.ts';

/** One thing that somebody entered on a register item. */
export interface RegisterStep {
  readonly entry: number;
  readonly utc: string;
  readonly by: string;
  readonly action: 'opened' | 'noted' | 'closed';
  readonly text: string;
  /** Window that opened or closed it. */
  readonly window?: string;
}

/** What stays as it was stated at the opening; which of it is there depends on the item. */
export interface RegisterStated {
  readonly reason?: string;
  readonly risk?: string;
  readonly approver?: string;
  readonly precautions?: string;
  readonly notified?: readonly string[];
  readonly category?: (typeof PUNCH_CATEGORIES)[number];
  readonly owner?: string;
}

/** A deferral, an impairment, a punch item or a bypass, from its opening to its end. */
export interface RegisterLife extends RegisterStated {
  readonly item: RegisterItem;
  /** `punch-3`: the third punch item of the log. */
  readonly id: string;
  /** Interlock or machine. */
  readonly on: string;
  readonly standing: 'open' | 'closed';
  readonly text: string;
  /** UTC of its opening; of an impairment or bypass, of its beginning as stated. */
  readonly opened: string;
  readonly closed?: string;
  /** Until when it may stay open, UTC: the end of the day, or the hour where hours are stated. */
  readonly limit?: string;
  readonly steps: readonly RegisterStep[];
}

/** A day lasts until its end. */
const endOf = (day: string | undefined): string | undefined =>
  day === undefined ? undefined : `${day}T23:59:59.999999Z`;

const limitOf = (entry: Entry): string | undefined => {
  const { until, due, expires } = entry.body as Record<string, string | undefined>;
  return expires ?? endOf(until ?? due);
};

const stepOf = (
  entry: Entry,
  { action, text, window }: ReturnType<typeof registerSchema.parse>,
): RegisterStep => ({
  entry: entry.seq,
  utc: entry.utc,
  by: entry.actor,
  action,
  text,
  ...(window !== undefined && { window }),
});

const lifeOf = (entry: Entry, data: ReturnType<typeof registerSchema.parse>): RegisterLife => {
  const { item, id, text, reason, risk, approver, precautions, notified, category, owner } = data;
  const limit = limitOf(entry);
  const since = entry.body['since'];
  return {
    item,
    id,
    on: entry.subject,
    standing: 'open',
    text,
    opened: typeof since === 'string' ? since : entry.utc,
    ...(reason !== undefined && { reason }),
    ...(risk !== undefined && { risk }),
    ...(approver !== undefined && { approver }),
    ...(precautions !== undefined && { precautions }),
    ...(notified !== undefined && { notified }),
    ...(category !== undefined && { category }),
    ...(owner !== undefined && { owner }),
    ...(limit !== undefined && { limit }),
    steps: [stepOf(entry, data)],
  };
};

/** The register of a log: every item with its life, in the order of their opening. */
export const registerOf = (entries: Iterable<Entry>): readonly RegisterLife[] => {
  const items = new Map<string, RegisterLife>();
  for (const entry of entries) {
    const read = entry.kind === 'register' ? registerSchema.safeParse(entry.body) : undefined;
    if (!read?.success) continue;
    const { data } = read;
    const before = items.get(data.id);
    if (before === undefined) {
      if (data.action === 'opened') items.set(data.id, lifeOf(entry, data));
      continue;
    }
    if (data.action === 'opened' || before.standing === 'closed') continue;
    const step = stepOf(entry, data);
    items.set(data.id, {
      ...before,
      ...(data.action === 'closed' && { standing: 'closed', closed: entry.utc }),
      steps: [...before.steps, step],
    });
  }
  return [...items.values()];
};

/** Seconds by which an open item is over its limit at `utc`; 0: it is not, or has none. */
export const overBy = ({ standing, limit }: RegisterLife, utc: string): number => {
  const [now, end] = [parseUtc(utc), limit === undefined ? undefined : parseUtc(limit)];
  if (standing === 'closed' || now === undefined || end === undefined) return 0;
  return Math.max(0, (now - end) / SECOND);
};

/** The id of the next item of that kind: they count up over the log and are never given twice. */
export const nextItemId = (items: readonly RegisterLife[], item: RegisterItem): string =>
  `${item}-${items.filter((one) => one.item === item).length + 1}`;

/** `hours` after `utc`, as UTC. */
export const hoursAfter = (utc: string, hours: number): string =>
  formatUtc(later(parseUtc(utc) ?? instant(0), Math.round(hours * 3_600) * SECOND));
