import type { BookNow, InterlockShown, LevelsNow, SignalShown } from '../../api/index.ts';
import { type Method, segmentsOf } from '../../judge/index.ts';
import { SECOND } from '../../measure/index.ts';
import { type Bands, bandsOf, causePhrase, referencesOf } from '../../report/index.ts';
import type { Book, Cause, Condition, Effect, Interlock, Known, Machine } from '../../rulebook/index.ts';
import type { Latest } from '../latest.ts';
import { unitChoices } from './units.ts';

/** What is known now, beside the book. */
export interface ShownFacts {
  readonly hash: string;
  readonly latest: Latest;
  readonly known: Pick<Known, 'normals' | 'tags'>;
  readonly revisionOf: (machine: Machine) => string | undefined;
}

/** Bands as they are shown: without the edges that only a verdict needs. */
export const levelsShown = ({ certain: _, ...levels }: Bands): LevelsNow => levels;

/** How a cause of a kind can be moved at all (common practice, no source). */
const waysOf = (book: Book, cause: Cause): readonly Method[] => {
  if (cause.kind === 'contact') return ['real', 'displaced', 'blocked', 'injected', 'forced'];
  if (cause.kind === 'sensor-fault' || cause.kind === 'silent' || cause.kind === 'restart')
    return ['real', 'injected', 'forced'];
  if (book.signals[cause.signal]?.quantity === 'temperature') return ['real', 'heated', 'injected', 'forced'];
  return ['real', 'blocked', 'displaced', 'injected', 'forced'];
};

/** The part of the chain that a test of an interlock by this method can prove, where everything in it is seen. */
export const canProve = (book: Book, interlock: Interlock, method: Method): ReturnType<typeof segmentsOf> => {
  const horn = book.machines[interlock.machine]?.roles['horn'];
  const sounds = horn !== undefined && interlock.effects.some(({ signal }) => signal === horn);
  const classes = interlock.effects.map((effect) => effect.class);
  return segmentsOf(method, classes, sounds);
};

const stateOf = (book: Book, { becomes, signal }: Effect): string =>
  becomes.kind === 'level' ? '' : (book.signals[signal]?.states[becomes.state] ?? '');

const interlockShown = (book: Book, interlock: Interlock, { known }: ShownFacts): InterlockShown => {
  const { cause, effects, upkeep } = interlock;
  const machine = book.machines[interlock.machine];
  const references = referencesOf(machine, cause.signal, known.normals?.[cause.signal]);
  return {
    name: interlock.name,
    title: interlock.title,
    machine: machine?.name ?? '',
    hazard: interlock.hazard,
    cause: book.signals[cause.signal]?.name ?? '',
    acts: causePhrase(book, interlock),
    kind: cause.kind,
    ...('side' in cause && { side: cause.side }),
    effects: effects.map((effect) => ({
      signal: book.signals[effect.signal]?.name ?? '',
      class: effect.class,
      state: stateOf(book, effect),
      stays: effect.becomes.kind === 'stays',
      within: effect.within / SECOND,
    })),
    methods: waysOf(book, cause).map((method) => ({ method, proves: canProve(book, interlock, method) })),
    ...(upkeep?.device && { device: upkeep.device }),
    levels: levelsShown(bandsOf(interlock, { ...references, tags: known.tags })),
  };
};

const holds = (latest: ShownFacts['latest'], { signal, state }: Condition): boolean => {
  const value = latest.get(signal)?.value;
  return value !== undefined && value.low === state && value.high === state;
};

/** Machine of each signal: whose role it has, or whose name stands before its own. */
const machinesOf = (book: Book): ReadonlyMap<number, string> => {
  const names = new Set(book.machines.map(({ name }) => name));
  const found = new Map<number, string>();
  for (const { id, name } of book.signals) {
    const before = name.slice(0, Math.max(0, name.lastIndexOf('.')));
    if (names.has(before)) found.set(id, before);
  }
  for (const { name, roles } of book.machines)
    for (const id of Object.values(roles)) if (!found.has(id)) found.set(id, name);
  return found;
};

const signalShown = (book: Book, def: Book['signals'][number], machine: string | undefined): SignalShown => ({
  name: def.name,
  source: book.sources[def.source]?.name ?? '',
  unit: def.unit,
  quantity: def.quantity,
  states: def.states,
  units: unitChoices(book, def),
  ...(machine !== undefined && { machine }),
});

/** What the site is made of, and the levels of its interlocks as they are known now. */
export const bookShown = (book: Book, facts: ShownFacts): BookNow => {
  const machineOf = machinesOf(book);
  const nameOf = (signal: number): string => book.signals[signal]?.name ?? '';
  const signalsOf = new Map<string, string[]>(book.machines.map(({ name }) => [name, []]));
  for (const { id, name } of book.signals) signalsOf.get(machineOf.get(id) ?? '')?.push(name);
  const interlocksOf = new Map<number, string[]>(book.machines.map(({ index }) => [index, []]));
  for (const { machine, name } of book.interlocks) interlocksOf.get(machine)?.push(name);
  return {
    site: book.site,
    title: book.title,
    hash: facts.hash,
    machines: book.machines.map((machine) => {
      const revision = facts.revisionOf(machine);
      return {
        name: machine.name,
        title: machine.title,
        kind: machine.kind,
        ...(revision !== undefined && { revision }),
        bypassed: machine.bypasses
          .filter((one) => holds(facts.latest, one))
          .map(({ signal }) => nameOf(signal)),
        interlocks: interlocksOf.get(machine.index) ?? [],
        signals: signalsOf.get(machine.name) ?? [],
      };
    }),
    interlocks: book.interlocks.map((one) => interlockShown(book, one, facts)),
    signals: book.signals.map((def) => signalShown(book, def, machineOf.get(def.id))),
  };
};
