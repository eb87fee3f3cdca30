import type { Instant } from '../../measure/index.ts';
import type { Library, Session } from './library.ts';
import type { Watching } from './types.ts';
import { timeOf } from './value.ts';

/** Server_ServerStatus_CurrentTime (OPC 10000-6, NodeIds.csv). */
const CURRENT_TIME = 'i=2258';

/** So many questions in a row at first: the quickest answer bounds the offset best. */
const FIRST = 8;
/** Between two of them the clocks may part by 1,200 ppm: 2.4 ms. */
const EVERY = 2_000; // ms

/**
 * Asks what time it is at the server. The library cuts the value to the millisecond. The node's source time is finer, but
 * some servers take it from another clock: it is not used.
 */
const ask = async (library: Library, session: Session, watching: Watching): Promise<void> => {
  const sent = watching.clock.now();
  const data = await session.read({ nodeId: CURRENT_TIME, attributeId: library.AttributeIds.Value });
  const received = watching.clock.now();
  const value: unknown = data.value?.value;
  if (!data.statusCode.isGood() || !(value instanceof Date)) return;
  const theirs: Instant | undefined = timeOf(value);
  if (theirs !== undefined)
    watching.sink.answer({ kind: 'clock', source: watching.index, sent, received, theirs });
};

/**
 * Answers `clock`: several at once, then one each two seconds. A server without the time just has none. `asked`: the first
 * is over; items that come before it could have been on their way for longer than anybody knows.
 */
export const watchClock = (
  library: Library,
  session: Session,
  watching: Watching,
): { readonly asked: Promise<void>; stop(): void } => {
  let stopped = false;
  const once = async (): Promise<void> => {
    if (!stopped) await ask(library, session, watching).catch(() => undefined);
  };
  const timer = setInterval(() => void once(), EVERY);
  const asked = once();
  void (async () => {
    await asked;
    for (let count = 1; count < FIRST; count += 1) await once();
  })();
  return {
    asked,
    stop() {
      stopped = true;
      clearInterval(timer);
    },
  };
};
