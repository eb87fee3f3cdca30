import type { markSchema } from '../api/index.ts';
import type { Mark } from '../judge/index.ts';
import { convert, type Instant, type Interval, parseQuantity, unitsOf } from '../measure/index.ts';
import { type Book, type Interlock, type InterlockId, tellsDifference } from '../rulebook/index.ts';
import { Barred } from './refusal.ts';

type SignalDef = Book['signals'][number];

/** Throws with the names that there are. */
export const interlockNamed = (book: Book, name: string): Interlock => {
  const found = book.interlocks.find((one) => one.name === name);
  if (found === undefined)
    throw new Barred(409, 'no-interlock', { name, known: book.interlocks.map((one) => one.name) });
  return found;
};

const machineNamed = (book: Book, name: string): number => {
  const found = book.machines.find((one) => one.name === name);
  if (found === undefined) throw new Barred(409, 'no-machine', { name });
  return found.index;
};

const inUnitOf = (signal: SignalDef, said: string, difference: boolean): number => {
  const quantity = parseQuantity(said);
  const value = quantity && convert(quantity.value, quantity.unit, signal.unit, difference);
  if (value !== undefined) return value;
  const { name, unit, quantity: of } = signal;
  throw new Barred(400, 'other-unit', { said, signal: name, own: unit, units: unitsOf(of) });
};

/** What an instrument showed, in the unit of the cause's signal: `value` with `doubt` to each side. */
const observedValue = (book: Book, interlock: Interlock, value: string, doubt: string): Interval => {
  const { cause, name } = interlock;
  const signal = book.signals[cause.signal];
  if (cause.kind !== 'level' || signal === undefined)
    throw new Barred(400, 'no-level-to-observe', { interlock: name });
  const middle = inUnitOf(signal, value, tellsDifference(book, signal));
  const half = Math.abs(inUnitOf(signal, doubt, true));
  return { low: middle - half, high: middle + half };
};

/** A mark as asked for, as the judge takes it once its instant is known. `by`: who says so. Throws `Barred` for what does not fit this site. */
export const markOf = (
  book: Book,
  body: ReturnType<typeof markSchema.parse>,
  by: string,
): ((at: Instant) => Mark) => {
  const { code } = body;
  const idOf = (name: string): InterlockId => interlockNamed(book, name).id;
  switch (code) {
    case 'now':
      return (at) => ({ code, at, by, text: body.text });
    case 'attested': {
      const machine = machineNamed(book, body.machine);
      const { what, where } = body;
      return (at) => ({ code, at, by, machine, what, ...(where !== undefined && { where }) });
    }
    case 'observed': {
      const found = interlockNamed(book, body.interlock);
      const value = observedValue(book, found, body.value, body.doubt);
      return (at) => ({ code, at, by, interlock: found.id, value, instrument: body.instrument });
    }
    default: {
      const interlock = idOf(body.interlock);
      return (at) => ({ code, at, by, interlock, text: body.text });
    }
  }
};
