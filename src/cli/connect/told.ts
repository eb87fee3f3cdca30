import { createFieldEvents } from '../../daemon/index.ts';
import type { Absence, Reason } from '../../measure/index.ts';
import { type Book, interlocksNeeding, needs } from '../../rulebook/index.ts';
import type { Address, Source } from '../../signal/index.ts';
import { formatNumber, text, unitShown } from '../../words/index.ts';
import { formsText } from '../probe/target.ts';
import { DEFINITE, type Gathered } from './gather.ts';
import type { Oddity, Seen } from './odd.ts';

export interface TagTold {
  readonly tag: string;
  readonly address: string;
  readonly value?: { readonly low: number; readonly high: number };
  readonly state?: string;
  readonly unit: string;
  readonly absent?: Absence;
  /** ms that the value may be old at most. */
  readonly age?: number;
  readonly odd: readonly {
    readonly weight: Oddity['weight'];
    readonly code: string;
    readonly text: string;
  }[];
  /** Interlocks that need it. */
  readonly interlocks: readonly string[];
}

export interface SourceTold {
  readonly source: string;
  readonly place: string;
  readonly reached: boolean;
  readonly troubles: readonly string[];
  readonly clock?: string;
  readonly tags: readonly TagTold[];
}

export const sourcePlace = (source: Source): string => {
  if (source.protocol === 'opc-ua') return `OPC UA ${source.endpoint}`;
  if (source.protocol === 'trace') return 'a recorded trace: nothing to ask';
  const { line, unit } = source;
  if (line.kind === 'serial') return `Modbus RTU ${line.path} at ${line.baud} baud, unit ${unit}`;
  const kind = line.kind === 'tcp' ? 'Modbus TCP' : 'Modbus RTU over TCP';
  return `${kind} ${line.host}:${line.port}, unit ${unit}`;
};

export const addressText = (address: Address): string => {
  if (address.kind === 'modbus') {
    return formsText(address.table, address.at);
  }
  if (address.kind === 'opc-ua') return `nsu=${address.namespace};${address.id}`;
  return address.kind === 'opc-ua-path' ? address.path.map(({ name }) => name).join('/') : '';
};

const clockText = (gathered: Gathered, source: number): string | undefined => {
  const told = gathered.clocks.get(source);
  if (told === undefined) return undefined;
  const low = (told.theirs - told.received) / 1e6;
  const high = (told.theirs - told.sent) / 1e6;
  const away = (low + high) / 2;
  const side = away < 0 ? 'behind' : 'ahead of';
  const rounded = formatNumber(Math.round(Math.abs(away) * 1_000) / 1_000);
  const params = { away: `${rounded} s ${side}`, doubt: Math.ceil((high - low) * 500) / 1_000 };
  return text({ code: 'clock-known', params });
};

const said = (oddities: readonly Oddity[], unit: string): TagTold['odd'] =>
  oddities.map(({ weight, reason }: { weight: Oddity['weight']; reason: Reason }) => ({
    weight,
    code: reason.code,
    text: text(reason, { unit }),
  }));

const tagTold = (
  seen: Seen,
  gathered: Gathered,
  oddities: readonly Oddity[],
  interlocks: readonly string[],
): TagTold => {
  const { def, newest } = seen;
  const value = newest?.value;
  const state = value === undefined ? undefined : def.states[value.low];
  return {
    tag: def.name,
    address: addressText(def.address),
    unit: def.unit,
    ...(value === undefined
      ? { absent: newest?.absent ?? 'not-polled' }
      : { value, age: Math.max(0, Math.round((gathered.ended - (newest?.at.earliest ?? 0)) / 1_000)) }),
    ...(state === undefined ? {} : { state }),
    odd: said(oddities, def.unit),
    interlocks,
  };
};

/** Everything about every source, in the order of the site. */
export const sourcesTold = (
  book: Book,
  gathered: Gathered,
  all: readonly Seen[],
  oddities: (seen: Seen) => readonly Oddity[],
): readonly SourceTold[] => {
  const wishes = needs(book);
  const tell = createFieldEvents(book);
  return book.sources.map((source, index) => {
    const own = all.filter(({ def }) => def.source === index);
    const events = gathered.events.filter((event) => event.source === index && event.kind !== 'back');
    const answered = own.some(({ reads }) =>
      reads.some(
        ({ value, absent }) => value !== undefined || (absent !== undefined && DEFINITE.has(absent)),
      ),
    );
    const shown = clockText(gathered, index);
    const unknown =
      source.protocol === 'opc-ua' && answered ? text({ code: 'clock-unknown', params: {} }) : undefined;
    const clock = shown ?? unknown;
    const silent = { elapsed: Math.round(gathered.elapsed / 1_000) };
    const troubles = [...new Set(events.map((event) => tell(event).text))];
    const reached = own.length === 0 || answered || source.protocol === 'trace';
    return {
      source: source.name,
      place: sourcePlace(source),
      reached,
      troubles:
        reached || troubles.length > 0 ? troubles : [text({ code: 'source-no-word', params: silent })],
      ...(clock === undefined ? {} : { clock }),
      tags:
        source.protocol === 'trace'
          ? []
          : own.map((seen) =>
              tagTold(
                seen,
                gathered,
                reached ? oddities(seen) : [],
                interlocksNeeding(book, wishes, new Set([seen.def.id])),
              ),
            ),
    };
  });
};

const rounded = (value: number, half: number): string => {
  // Two digits more than the doubt; without doubt what the number has itself, to six digits.
  if (half <= 0) return formatNumber(Number(value.toPrecision(7)));
  let tens = 1;
  while (tens < 1e6 && half * tens < 1) tens *= 10;
  return formatNumber(Math.round(value * tens) / tens);
};

/** `96 rpm ± 0.05`, `run`, `no value`. */
export const valueText = ({ value, state, unit }: TagTold): string => {
  if (value === undefined) return 'no value';
  if (state !== undefined) return state;
  const half = (value.high - value.low) / 2;
  const shown = `${rounded((value.low + value.high) / 2, half)} ${unitShown(unit)}`;
  return half > 0 ? `${shown} ± ${formatNumber(Number(half.toPrecision(3)))}` : shown;
};
