import type { Instant, SignalId } from '../../measure/index.ts';
import type { Item } from '../../signal/index.ts';
import { createItems, findItems, type Item as Watched } from './items.ts';
import type { DataValue, Library, Session } from './library.ts';
import { chunks, type Limits, readLimits } from './limits.ts';
import { publish } from './publish.ts';
import { type Terms, tellTerms } from './terms.ts';
import { note, type Slot, tell, tellAbsent, type Watching } from './types.ts';
import { itemOf, timeOf } from './value.ts';

type Message = import('node-opcua-client').NotificationMessage;
type Changes = import('node-opcua-client').DataChangeNotification;

/** What a subscription tells beside values. */
export interface SubscriptionEars {
  /** It has been seen to deliver: its first word is about to be told. */
  delivers(): void;
  ended(why: string): void;
}

/** A subscription that runs. */
export interface Subscription {
  readonly terms: Terms;
  /** When the server last said anything; undefined: nothing yet, it has not been seen to deliver. */
  heard(): Instant | undefined;
  /** Items of which nothing has come at all. */
  silent(): readonly Slot[];
  /** Signals that cannot be had on this connection. */
  refused(): readonly SignalId[];
  stop(): void;
}

interface State {
  readonly library: Library;
  readonly session: Session;
  readonly watching: Watching;
  readonly limits: Limits;
  readonly items: readonly Watched[];
  heard: Instant | undefined;
  cycle: number;
  /** Values were lost; what was known before them is not repeated. */
  holes: number;
}

const changesIn = (message: Message): Changes[] =>
  (message.notificationData ?? []).filter(
    (one): one is Changes => one?.schema.name === 'DataChangeNotification',
  );

const keep = (state: State, slot: Slot, item: Item): void => {
  const first = slot.last === undefined;
  slot.last = item;
  slot.cycle = state.cycle;
  // Good, and yet no number: the tag is bound to something that cannot be judged.
  if (first && item.value === null && item.text === undefined && item.status >>> 30 === 0)
    note(state.watching, 'refused', 'value-not-a-number', { signal: slot.def.name });
};

/** What an item said, without its times: it is as it was. Numbers are written out, not spread: there are many. */
const repeated = ({ signal, status, value, text }: Item, serverTime: Instant | undefined): Item => {
  if (text === undefined && serverTime !== undefined)
    return { signal, status, value, serverTime, unchanged: true };
  return {
    signal,
    status,
    value,
    ...(text !== undefined && { text }),
    unchanged: true,
    ...(serverTime !== undefined && { serverTime }),
  };
};

/**
 * What the server has not changed is as it was up to its last word, and not up to now: a change may be on its way.
 * Nothing is told twice for the same word.
 */
const tellUnchanged = (state: State, message: Message, received: Instant): void => {
  const serverTime = timeOf(message.publishTime);
  const items: Item[] = [];
  for (const { slot } of state.items) {
    if (slot.last === undefined || slot.cycle === state.cycle) continue;
    items.push(repeated(slot.last, serverTime));
  }
  tell(state.watching, items, received);
};

const take = (state: State, message: Message, whole: boolean, received: Instant): void => {
  const told: Item[] = [];
  for (const changes of changesIn(message)) {
    for (const { clientHandle, value } of changes.monitoredItems ?? []) {
      const slot = state.items[clientHandle]?.slot;
      if (slot === undefined) continue;
      const item = itemOf(slot.def.id, value);
      keep(state, slot, item);
      told.push(item);
    }
  }
  tell(state.watching, told, received);
  if (!whole) return;
  tellUnchanged(state, message, received);
  state.cycle += 1;
};

/** After a hole nothing is known until it has been read anew; what came by itself meanwhile is newer than the answer. */
const readAgain = async (state: State): Promise<void> => {
  const { library, session, watching, limits } = state;
  for (const part of chunks(state.items, limits.read)) {
    const asked = part.map(({ node }) => ({ nodeId: node, attributeId: library.AttributeIds.Value }));
    const answers: DataValue[] = await session.read(asked);
    const received = watching.clock.now();
    const items = part.flatMap(({ slot }, index): Item[] => {
      const data = answers[index];
      if (data === undefined || slot.last !== undefined) return [];
      const item = itemOf(slot.def.id, data);
      keep(state, slot, item);
      return [item];
    });
    tell(watching, items, received);
  }
};

const fall = (state: State): void => {
  const { watching } = state;
  state.holes += 1;
  for (const { slot } of state.items) slot.last = undefined;
  note(watching, 'note', 'values-lost', { items: state.items.length });
  tellAbsent(
    watching,
    state.items.map(({ slot }) => slot.def.id),
    'overflow',
  );
};

/** Seconds that a subscription outlives us at a server that no longer hears of us. */
const LIFETIME = 30;
const KEEP_ALIVE = 3;

const createSubscription = async (session: Session, publishing: number) => {
  const interval = publishing / 1_000;
  const response = await session.createSubscription({
    requestedPublishingInterval: interval,
    requestedMaxKeepAliveCount: KEEP_ALIVE,
    requestedLifetimeCount: Math.max(3 * KEEP_ALIVE, Math.ceil((LIFETIME * 1_000) / interval)),
    maxNotificationsPerPublish: 0,
    publishingEnabled: true,
    priority: 1,
  });
  return {
    id: response.subscriptionId,
    terms: {
      publishing: Math.round(response.revisedPublishingInterval * 1_000),
      keepAlive: response.revisedMaxKeepAliveCount,
    },
  };
};

/**
 * Finds the signals' nodes, subscribes to them, and tells what was granted before the first value. What arrives while
 * items are still being made waits, with the time at which it came.
 */
export const subscribe = async (
  library: Library,
  session: Session,
  watching: Watching,
  ears: SubscriptionEars,
): Promise<Subscription> => {
  const limits = await readLimits(library, session);
  const items = await findItems(library, session, watching);
  const { id, terms } = await createSubscription(session, watching.source.publishing);
  const state: State = { library, session, watching, limits, items, heard: undefined, cycle: 0, holes: 0 };
  let refused: readonly SignalId[] = [];
  let early: (() => void)[] | undefined = [];
  const inTurn = (work: () => void): void => {
    if (early === undefined) work();
    else early.push(work);
  };
  const { stop } = publish(library, session, id, {
    message(message, whole) {
      const received = watching.clock.now();
      const first = state.heard === undefined;
      state.heard = received;
      inTurn(() => {
        if (first) {
          ears.delivers();
          tellAbsent(watching, refused, 'refused');
        }
        take(state, message, whole, received);
      });
    },
    hole() {
      inTurn(() => {
        fall(state);
        readAgain(state).catch(() => ears.ended('values-lost'));
      });
    },
    ended: ears.ended,
  });
  try {
    const granted = await createItems(library, session, watching, id, items, limits);
    tellTerms(watching, terms, granted);
    const had = new Set(granted.map(({ signal }) => signal));
    refused = watching.signals.flatMap((def) => (had.has(def.id) ? [] : [def.id]));
  } catch (error) {
    stop();
    throw error;
  }
  const waiting = early;
  early = undefined;
  for (const work of waiting) work();
  const mute = (slot: Slot): boolean => slot.last === undefined && !slot.refused;
  return {
    terms,
    heard: () => state.heard,
    silent: () => items.map(({ slot }) => slot).filter(mute),
    refused: () => refused,
    stop,
  };
};
