import { eventText } from '../../api/index.ts';
import {
  absenceIndex,
  createThinner,
  MILLISECOND,
  type Reading,
  type Readings,
  SECOND,
  type TakeRow,
  type Thinner,
} from '../../measure/index.ts';
import { type Book, needs } from '../../rulebook/index.ts';
import { decline } from '../decline.ts';
import type { Latest } from '../latest.ts';
import { createMemory, type Memory } from './memory.ts';
import { createRowsOut, isStepped, type RowsOut } from './rows.ts';

/** What somebody wants to follow. */
export interface LiveQuestion {
  /** Names of signals. */
  readonly signals: readonly string[];
  /** Milliseconds from one event to the next, at least. */
  readonly every: number;
}

/** Somebody who follows. */
export interface Follower {
  /** The first event, with what was before: `span` seconds back. What is read from then on comes to `to`. */
  begin(span: number): string;
  stop(): void;
}

/** Readings of chosen signals as server-sent events, thinned out so that no excursion is hidden. */
export interface Live {
  /** Readings of one answer, as they come. */
  take(readings: Readings): void;
  /**
   * `to` gets each event as bytes, the same for all who ask the same. Throws `Declined` for a signal that is not there,
   * and where too many follow already.
   */
  follow(question: LiveQuestion, to: (event: Buffer) => void): Follower;
}

/** Signals that are remembered at once. One takes 250 kB at most, mostly a fifth of that. */
const MOST_REMEMBERED = 512;
/** So long after the last one has gone who asked for it. */
const FORGOTTEN_MS = 600_000;
const MOST_FOLLOWERS = 200;
const MOST_SIGNALS = 1_000;
/** Readings that come a little later travel in the same event. */
const GATHER_MS = 5;
const LEAST_EVERY = 50;
const MOST_EVERY = 10_000;
/** Columns of what was before, over all signals of a question, and of one signal. */
const MOST_COLUMNS = 10_000;
const COLUMNS = { least: 30, most: 600 };

/** A signal that somebody follows or that an interlock needs. */
interface Watched {
  readonly memory: Memory | undefined;
  /** Given to an interlock, so that it is never forgotten. */
  readonly needed: boolean;
  users: number;
  idleSince: number;
  /** One for each question with it. */
  feeds: Thinner[];
}

/** All who ask the same. */
interface Group {
  readonly zero: number;
  readonly rows: RowsOut;
  readonly thinners: readonly Thinner[];
  readonly ids: readonly number[];
  readonly everyMs: number;
  readonly followers: Set<(event: Buffer) => void>;
  sentAt: number;
  timer: NodeJS.Timeout | undefined;
}

const feed = (to: TakeRow, { at, value, absent }: Reading): void => {
  if (value === undefined) to(at.latest, Number.NaN, Number.NaN, absenceIndex(absent ?? 'not-polled'));
  else to(at.latest, value.low, value.high, 0);
};

/** `latest`: the last reading of each signal; `nowMs`: monotonic; `utc`: µs since 1970. */
export const createLive = (
  book: Book,
  latest: Latest,
  clock: { readonly nowMs: () => number; readonly utc: () => number },
): Live => {
  const { signals } = book;
  const byName = new Map(signals.map(({ id, name }) => [name, id as number]));
  const stepped = signals.map(isStepped);
  const watched: (Watched | undefined)[] = signals.map(() => undefined);
  const groups = new Map<string, Group>();
  let followers = 0;
  let remembered = 0;
  let any = false;

  const watch = (id: number, needed: boolean): Watched => {
    const known = watched[id];
    if (known !== undefined) return known;
    const room = remembered < MOST_REMEMBERED;
    if (room) remembered += 1;
    const own: Watched = {
      memory: room ? createMemory(stepped[id] === true) : undefined,
      needed,
      users: 0,
      idleSince: 0,
      feeds: [],
    };
    watched[id] = own;
    any = true;
    const last = latest.get(id);
    if (last !== undefined && own.memory !== undefined) feed(own.memory.take, last);
    return own;
  };

  // Where an interlock looks, somebody will want to know what was before; on a very large site only what was asked for.
  const looked = [...new Set(needs(book).together.flat()), ...derivedIn(book)];
  if (looked.length <= MOST_REMEMBERED / 2) for (const id of looked) watch(id, true);

  const forget = (): void => {
    const now = clock.nowMs();
    watched.forEach((one, id) => {
      if (one === undefined || one.needed || one.users > 0 || now - one.idleSince < FORGOTTEN_MS) return;
      if (one.memory !== undefined) remembered -= 1;
      watched[id] = undefined;
    });
  };

  const send = (group: Group): void => {
    clearTimeout(group.timer);
    group.timer = undefined;
    for (const thinner of group.thinners) thinner.flush();
    if (group.rows.size() === 0) return;
    group.sentAt = clock.nowMs();
    const event = Buffer.from(eventText('rows', group.rows.take()));
    for (const follower of group.followers) follower(event);
  };

  const schedule = (group: Group): void => {
    const wait = Math.max(GATHER_MS, group.sentAt + group.everyMs - clock.nowMs());
    group.timer = setTimeout(() => send(group), wait);
  };

  const take = (one: Watched, { latest: t, low, high, why }: Readings, index: number): void => {
    const absent = why[index] ?? 0;
    const from = absent === 0 ? (low[index] ?? 0) : Number.NaN;
    const to = absent === 0 ? (high[index] ?? 0) : Number.NaN;
    one.memory?.take(t[index] ?? 0, from, to, absent);
    for (const each of one.feeds) each.take(t[index] ?? 0, from, to, absent);
  };

  const groupFor = (ids: readonly number[], everyMs: number): Group => {
    const key = `${everyMs} ${ids.join()}`;
    const known = groups.get(key);
    if (known !== undefined) return known;
    const zero = clock.utc();
    const rows = createRowsOut();
    const column = everyMs * MILLISECOND;
    const followed = new Set<(event: Buffer) => void>();
    let group: Group;
    const thinners = ids.map((id, place) => {
      const thinner = createThinner({ column, stepped: stepped[id] === true }, rows.put(place, zero));
      return {
        ...thinner,
        take: (t: number, low: number, high: number, why: number): void => {
          if (group.timer === undefined) schedule(group);
          thinner.take(t, low, high, why);
        },
      };
    });
    group = {
      zero,
      rows,
      thinners,
      ids,
      everyMs,
      followers: followed,
      sentAt: Number.NEGATIVE_INFINITY,
      timer: undefined,
    };
    groups.set(key, group);
    ids.forEach((id, place) => {
      const one = watch(id, false);
      one.users += 1;
      one.feeds = [...one.feeds, thinners[place] as Thinner];
    });
    return group;
  };

  const end = (group: Group): void => {
    clearTimeout(group.timer);
    for (const [key, one] of groups) if (one === group) groups.delete(key);
    group.ids.forEach((id, place) => {
      const one = watched[id];
      if (one === undefined) return;
      one.users -= 1;
      one.idleSince = clock.nowMs();
      one.feeds = one.feeds.filter((other) => other !== group.thinners[place]);
    });
    setTimeout(forget, FORGOTTEN_MS + 1).unref();
  };

  const before = (group: Group, span: number): string => {
    // What came since the last event goes to those who follow already; whoever begins gets it here.
    send(group);
    const from = clock.utc() - span * SECOND;
    const columns = Math.floor(MOST_COLUMNS / Math.max(1, group.ids.length));
    const column = (span * SECOND) / Math.min(COLUMNS.most, Math.max(COLUMNS.least, columns));
    const rows = createRowsOut();
    group.ids.forEach((id, place) => {
      const put = rows.put(place, group.zero);
      const thinner = createThinner({ column: Math.max(1, column), stepped: stepped[id] === true }, put);
      const last = latest.get(id);
      const memory = watched[id]?.memory;
      if (memory !== undefined && span > 0) memory.since(from, thinner.take);
      else if (last !== undefined) feed(thinner.take, last);
      thinner.flush();
    });
    const names = group.ids.map((id) => signals[id]?.name ?? '');
    return eventText('begin', { zero: group.zero, signals: names, before: rows.take() });
  };

  const idsOf = (names: readonly string[]): readonly number[] => {
    const unknown = names.filter((name) => !byName.has(name));
    if (unknown.length > 0) decline({ code: 'no-signal', params: { signals: unknown.slice(0, 5) } });
    const ids = [...new Set(names)].map((name) => byName.get(name) ?? 0);
    if (ids.length === 0) decline({ code: 'signals-unnamed', params: {} });
    if (ids.length > MOST_SIGNALS) decline({ code: 'signals-too-many', params: { most: MOST_SIGNALS } });
    return ids;
  };

  return {
    take(readings) {
      if (!any) return;
      for (let index = 0; index < readings.length; index += 1) {
        const one = watched[readings.signal[index] ?? 0];
        if (one !== undefined) take(one, readings, index);
      }
    },
    follow({ signals: names, every }, to) {
      const ids = idsOf(names);
      if (followers >= MOST_FOLLOWERS)
        decline({ code: 'followers-too-many', params: { most: MOST_FOLLOWERS } });
      forget();
      const steps = Math.round(every / LEAST_EVERY) || 1;
      const group = groupFor(ids, Math.min(MOST_EVERY, Math.max(LEAST_EVERY, steps * LEAST_EVERY)));
      followers += 1;
      let on = true;
      return {
        begin(span) {
          const text = before(group, span);
          group.followers.add(to);
          return text;
        },
        stop() {
          if (!on) return;
          on = false;
          followers -= 1;
          group.followers.delete(to);
          if (group.followers.size === 0) end(group);
        },
      };
    },
  };
};

/** Worked out from others, for an interlock. */
const derivedIn = (book: Book): readonly number[] => [
  ...new Set(
    book.interlocks.flatMap(({ cause }) =>
      book.signals[cause.signal]?.address.kind === 'derived' ? [cause.signal as number] : [],
    ),
  ),
];
