/** Whether what was delivered as good was true: at some instant inside the reading's own span, on a clocked peer. */
import type { Interval, SignalId, Span } from '../../src/measure/index.ts';
import {
  type Answer,
  createDecoder,
  type ModbusSource,
  type Plan,
  type SignalDef,
  type Table,
} from '../../src/signal/index.ts';
import { tickAt, wordAt } from './truth.ts';

/** A live signal of unit `unit`: `width` 2 is a 32-bit value, its first word the more significant. */
export const liveSignal = (
  id: number,
  source: number,
  table: Table,
  at: number,
  width: 1 | 2 = 1,
): SignalDef => ({
  id: id as SignalId,
  name: `s${id}`,
  source,
  address: { kind: 'modbus', table, at },
  decoding:
    table === 'holding' || table === 'input'
      ? {
          as: 'number',
          type: width === 1 ? 'uint16' : 'uint32',
          order: 'ABCD',
          scale: 1,
          offset: 0,
          faults: [],
        }
      : { as: 'bit', inverted: false },
  quantity: 'count',
  unit: 'count',
  states: [],
  resolution: 0,
  accuracy: 0,
  age: 0,
  agedAfter: 1_000_000,
});

interface Good {
  readonly def: SignalDef;
  readonly at: Span;
  readonly value: Interval;
}

export interface Oracle {
  /** What is wrong with an answer, in words; undefined where nothing is. */
  wrong(answer: Answer): string | undefined;
}

const valueAt = (unit: number, def: SignalDef, tick: number): number => {
  if (def.address.kind !== 'modbus') return Number.NaN;
  const { table, at } = def.address;
  const first = wordAt(unit, table, at, tick);
  const wide = def.decoding.as === 'number' && def.decoding.type === 'uint32';
  return wide ? first * 65_536 + wordAt(unit, table, at + 1, tick) : first;
};

const holdsAt = (unit: number, { def, value }: Good, tick: number): boolean => {
  const truth = valueAt(unit, def, tick);
  return value.low <= truth && truth <= value.high && value.high - value.low < 1;
};

/** Some tick of the span at which all of it was true together. */
const everTrue = (unit: number, goods: readonly Good[]): boolean => {
  const from = Math.max(...goods.map(({ at }) => tickAt(at.earliest)));
  const to = Math.min(...goods.map(({ at }) => tickAt(at.latest)));
  for (let tick = from; tick <= to; tick += 1)
    if (goods.every((one) => holdsAt(unit, one, tick))) return true;
  return false;
};

const told = (unit: number, { def, at, value }: Good): string => {
  const where = def.address.kind === 'modbus' ? `${def.address.table} ${def.address.at}` : def.name;
  return `unit ${unit} ${where}: ${value.low} within ${at.latest - at.earliest} us`;
};

const isBit = ({ def }: Good): boolean => def.decoding.as === 'bit';

/**
 * Registers are judged one by one, since a block may have been asked in parts; bits, of which one alone says little,
 * all of an answer together.
 */
export const createOracle = (
  signals: readonly SignalDef[],
  sources: readonly ModbusSource[],
  plan: Plan,
): Oracle => {
  const decoder = createDecoder(signals, sources, plan);
  return {
    wrong(answer) {
      const readings = decoder.feed(answer);
      if (answer.kind !== 'words') return undefined;
      if (answer.sent > answer.received) return `received before it was sent: ${answer.sent}`;
      const unit = sources[answer.source]?.unit ?? 0;
      const goods = readings.flatMap((one): Good[] =>
        'value' in one ? [{ def: signals[one.signal]!, at: one.at, value: one.value }] : [],
      );
      const bits = goods.filter(isBit);
      if (bits.length > 0 && !everTrue(unit, bits))
        return `${told(unit, bits[0]!)} and ${bits.length - 1} more`;
      const word = goods.find((one) => !isBit(one) && !everTrue(unit, [one]));
      return word && told(unit, word);
    },
  };
};
