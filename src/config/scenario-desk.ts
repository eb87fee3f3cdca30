import type { Interval, SignalId } from '../measure/index.ts';
import type { Book, Interlock, Machine } from '../rulebook/index.ts';
import type { SignalDef } from '../signal/index.ts';
import type { Tell } from './fault.ts';
import type { Piece } from './scenario-text.ts';
import { nearest } from './suggest.ts';

/** The book of a scenario, and how to tell what is wrong with the lines. */
export interface ScenarioDesk {
  readonly book: Book;
  readonly tell: Tell;
}

/** By its name, or by what stands after the machine where only one machine has such a thing. */
const named = <T>(
  name: string,
  all: ReadonlyMap<string, T>,
): { readonly found?: T; readonly known: string[] } => {
  const known = [...all.keys()];
  const own = all.get(name);
  if (own !== undefined) return { found: own, known };
  const short = known.filter((one) => one.endsWith(`.${name}`));
  const only = short.length === 1 ? all.get(short[0] ?? '') : undefined;
  return only === undefined ? { known: short.length > 1 ? short : known } : { found: only, known };
};

const lookUp = <T>(
  desk: ScenarioDesk,
  piece: Piece,
  all: ReadonlyMap<string, T>,
  code: string,
): T | undefined => {
  const { found, known } = named(piece.text, all);
  if (found === undefined) {
    const several = known.length < all.size;
    const params = { name: piece.text, known };
    desk.tell(
      piece.place,
      several ? 'scenario-several' : code,
      params,
      several ? undefined : nearest(piece.text, known),
    );
  }
  return found;
};

/** Signals by `machine.role` and by the name of their tag. */
export const signalsOf = (book: Book): ReadonlyMap<string, SignalDef> => {
  const all = new Map<string, SignalDef>();
  for (const machine of book.machines) {
    for (const [role, id] of Object.entries(machine.roles)) {
      const signal = book.signals[id];
      if (signal !== undefined) all.set(`${machine.name}.${role}`, signal);
    }
  }
  const bound = new Set([...all.values()].map(({ id }) => id));
  for (const signal of book.signals) if (!bound.has(signal.id)) all.set(signal.name, signal);
  return all;
};

export const signalNamed = (desk: ScenarioDesk, piece: Piece): SignalDef | undefined =>
  lookUp(desk, piece, signalsOf(desk.book), 'scenario-unknown-line');

export const interlockNamed = (desk: ScenarioDesk, piece: Piece): Interlock | undefined =>
  lookUp(
    desk,
    piece,
    new Map(desk.book.interlocks.map((one) => [one.name, one])),
    'scenario-unknown-interlock',
  );

export const machineNamed = (desk: ScenarioDesk, piece: Piece): Machine | undefined =>
  lookUp(desk, piece, new Map(desk.book.machines.map((one) => [one.name, one])), 'unknown-machine-here');

/** What percentages of a signal refer to in a scenario: its declared normal, else its nameplate. */
export const percentOf = (book: Book, signal: SignalId, of: 'normal' | 'nameplate'): number | undefined => {
  const all = book.machines.flatMap((machine) => machine.normals);
  const own = all.find((one) => one.signal === signal);
  const holds = all.find(({ from }) => from.kind === 'tag' && from.signal === signal);
  const normal = own ?? holds;
  const declared: Interval | undefined = normal?.from.kind === 'declared' ? normal.from.value : undefined;
  const found = of === 'normal' ? (declared ?? normal?.nameplate) : normal?.nameplate;
  return found && (found.low + found.high) / 2;
};
