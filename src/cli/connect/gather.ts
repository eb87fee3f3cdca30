import type { FieldEvent, OpenSource } from '../../field/index.ts';
import { type Absence, type Micros, type Reading, SECOND, type SignalId } from '../../measure/index.ts';
import { type Book, readPlan } from '../../rulebook/index.ts';
import { type Answer, createDecoder, type Plan, type SignalDef, type Source } from '../../signal/index.ts';
import { clockFrom } from '../clock.ts';
import { secretOf } from '../secret.ts';

/** What a short look at every source of a site brought. */
export interface Gathered {
  readonly plan: Plan;
  /** In the order in which they came. */
  readonly readings: ReadonlyMap<SignalId, readonly Reading[]>;
  /** Last raw words of each request, by its index in the plan; below 0: none. */
  readonly words: ReadonlyMap<number, readonly number[]>;
  readonly events: readonly FieldEvent[];
  readonly clocks: ReadonlyMap<number, Answer & { readonly kind: 'clock' }>;
  /** When it ended, and how long it took, µs. */
  readonly ended: number;
  readonly elapsed: Micros;
}

/** So often each value is read. */
const READS = 3;
/** A count of life gets this long to move. */
const LIFE: Micros = 1.5 * SECOND;
/** No look takes longer. */
const LONGEST: Micros = 20 * SECOND;

/** Absence that the device or the value itself told: asking longer changes nothing. */
export const DEFINITE: ReadonlySet<Absence> = new Set([
  'refused',
  'bad-status',
  'implausible',
  'sensor-fault',
]);

const patienceOf = (source: Source): Micros => {
  if (source.protocol === 'trace') return 0;
  if (source.protocol === 'modbus') return READS * source.windowPoll + 2 * source.timeout;
  return source.timeout + READS * source.publishing + source.sampling + SECOND;
};

const gateOf = ({ decoding }: SignalDef): Micros => ('gate' in decoding ? 2 * decoding.gate : 0);

const isRead = ({ address }: SignalDef): boolean => address.kind !== 'derived' && address.kind !== 'trace';

/**
 * Reads every tag a few times, quickly, through the plan, the clients and the decoder that `run` uses. Ends as soon as
 * everything is known, at the latest when every source has had its time.
 */
export const gather = async (book: Book, pki: string): Promise<Gathered> => {
  const { openModbus, openOpcUa } = await import('../../field/index.ts');
  // UTC, carried on by the monotonic clock.
  const clock = clockFrom(Date.now() * 1_000);
  const plan = readPlan(book);
  const decoder = createDecoder(book.signals, book.sources, plan);
  const readings = new Map<SignalId, Reading[]>();
  const words = new Map<number, readonly number[]>();
  const clocks = new Map<number, Answer & { kind: 'clock' }>();
  const events: FieldEvent[] = [];
  const began = clock.now();
  const wanted = book.signals.filter(isRead);
  const lives = new Set(book.machines.flatMap(({ heartbeat }) => heartbeat ?? []));
  let finish = (): void => undefined;

  const enough = (def: SignalDef): boolean => {
    const own = readings.get(def.id) ?? [];
    if (own.filter(({ absent }) => absent === undefined || DEFINITE.has(absent)).length < READS) return false;
    // A speed from counts takes two of them; a count of life gets time to move.
    if (gateOf(def) > 0 && !own.some(({ value }) => value !== undefined)) return false;
    return !lives.has(def.id) || clock.now() - began >= LIFE;
  };
  const take = (answer: Answer): void => {
    for (const reading of decoder.feed(answer)) {
      const own = readings.get(reading.signal) ?? [];
      own.push(reading);
      readings.set(reading.signal, own);
    }
    if (answer.kind === 'words') {
      const before = words.get(answer.request) ?? [];
      words.set(
        answer.request,
        answer.words.map((word, index) => (word >= 0 ? word : (before[index] ?? word))),
      );
    }
    if (answer.kind === 'clock') clocks.set(answer.source, answer);
    if (wanted.every(enough)) finish();
  };
  const done = new Promise<void>((resolve) => {
    finish = resolve;
  });
  const sink = { answer: take, event: (event: FieldEvent) => events.push(event) };
  const sources: OpenSource[] = [
    ...openModbus(book.sources, plan, book.signals, sink, clock).values(),
    ...book.sources.flatMap((source, index) =>
      source.protocol === 'opc-ua'
        ? [openOpcUa(source, index, book.signals, sink, clock, { pki, secret: secretOf })]
        : [],
    ),
  ];
  for (const source of sources) source.focus(wanted.map(({ id }) => id));
  const patience = Math.max(LIFE, ...book.sources.map(patienceOf)) + Math.max(0, ...wanted.map(gateOf));
  const timer = setTimeout(finish, Math.min(patience, LONGEST) / 1_000);
  if (wanted.length === 0) finish();
  await done;
  clearTimeout(timer);
  const ended = clock.now();
  await Promise.all(sources.map((source) => source.stop()));
  return { plan, readings, words, events, clocks, ended, elapsed: ended - began };
};
