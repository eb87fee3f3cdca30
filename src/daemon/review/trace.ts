import type { ReviewQuestion, TraceNow } from '../../api/index.ts';
import { createThinner } from '../../measure/index.ts';
import { createRowsOut, isStepped } from '../live/rows.ts';
import { rowsBetween } from './columns.ts';
import type { Decoded } from './decoded.ts';

type TraceWish = Omit<ReviewQuestion & { ask: 'trace' }, 'ask' | 'window'>;

/** A name that the window's book does not have is left out of the rows. */
export const traceOf = (decoded: Decoded, wish: TraceWish): TraceNow => {
  const { book, zero, columns } = decoded;
  const [first, last] = columns.span() ?? [zero, zero];
  const from = zero + (wish.from ?? first - zero);
  const to = Math.max(from, zero + (wish.to ?? last - zero));
  const column = Math.max(1, (to - from) / wish.width);
  const rows = createRowsOut();
  const byName = new Map(book.signals.map((signal) => [signal.name, signal]));
  wish.signals.forEach((name, place) => {
    const signal = byName.get(name);
    if (signal === undefined) return;
    const own = signal.address.kind === 'derived' ? decoded.derived() : columns;
    const found = own.of(signal.id);
    if (found === undefined) return;
    const thinner = createThinner({ column, stepped: isStepped(signal) }, rows.put(place, zero));
    rowsBetween(found, { from, to }, thinner.take);
    thinner.flush();
  });
  return {
    zero,
    signals: wish.signals,
    from: first - zero,
    to: last - zero,
    readings: columns.readings(),
    rows: rows.take(),
  };
};
