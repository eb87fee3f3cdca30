import { addressForms } from '../../config/index.ts';
import type { Window } from '../../field/index.ts';
import { type ByteOrder, isBits, type Meaning, meaningsOf, type Table } from '../../signal/index.ts';
import { packed } from '../hung.ts';
import { formsText } from './target.ts';

const ORDERS: readonly ByteOrder[] = ['ABCD', 'CDAB', 'BADC', 'DCBA'];
const DIGITS = 6;

/** A number in at most twelve characters. */
export const numberShown = (value: number | string): string => {
  if (typeof value === 'string') return JSON.stringify(value);
  if (!Number.isFinite(value)) return Number.isNaN(value) ? 'no number' : 'infinite';
  const size = Math.abs(value);
  if (Number.isInteger(value) && size < 1e10) return String(value);
  if (size !== 0 && (size < 1e-4 || size >= 1e10)) return value.toExponential(3);
  return String(Number(value.toPrecision(DIGITS + 1)));
};

/** Raw numbers that mostly say "no value" (common practice, no source). */
const LIMITS: Readonly<Record<number, string>> = { 65535: '65535', 32767: '32767', 32768: '-32768' };

export interface ValueTold {
  readonly address: number;
  readonly forms: ReturnType<typeof addressForms>;
  readonly asked: boolean;
  /** Undefined: the device does not have this address. */
  readonly hex?: string;
  readonly bits?: string;
  readonly bit?: number;
  readonly meanings?: readonly Meaning[];
}

/** What each address of a window can mean. */
export const valuesTold = (
  { table, from, words }: Window,
  asked: { readonly at: number; readonly count: number },
): readonly ValueTold[] =>
  words.map((word, index) => {
    const address = from + index;
    const told = {
      address,
      forms: addressForms(table, address),
      asked: address >= asked.at && address < asked.at + asked.count,
    };
    if (word < 0) return told;
    return isBits(table) ? { ...told, bit: word } : { ...told, ...meaningsOf(words, index) };
  });

const NOTHING = '0';

const cell = (meaning: Meaning | undefined): string =>
  meaning === undefined
    ? ''
    : `${numberShown(meaning.value)}${meaning.plausible && meaning.value !== 0 ? ' *' : ''}`;

const named = (
  meanings: readonly Meaning[],
  as: Meaning['as'],
  order: ByteOrder,
  scale = 1,
): Meaning | undefined => meanings.find((one) => one.as === as && one.order === order && one.scale === scale);

const grouped = (bits: string): string => bits.replace(/(\d{4})(?=\d)/g, '$1 ');

const COLUMN = 16;

const wide = (meanings: readonly Meaning[]): string[] => {
  const rows = (['float32', 'uint32', 'int32'] as const).map((as) => ({
    as,
    cells: ORDERS.map((order) => cell(named(meanings, as, order))),
  }));
  // A sign that nobody uses says nothing new.
  const shown = rows.filter(
    ({ as, cells }) => as !== 'int32' || cells.some((one, index) => one !== rows[1]?.cells[index]),
  );
  if (rows[0]?.cells[0] === '') return [];
  if (rows.every(({ cells }) => cells.every((one) => one === NOTHING)))
    return ['      two words 0 in every order'];
  const head = `      two words ${ORDERS.map((order) => order.padEnd(COLUMN)).join('')}`;
  const body = shown.map(
    ({ as, cells }) => `      ${as.padEnd(10)}${cells.map((one) => one.padEnd(COLUMN)).join('')}`,
  );
  return [head, ...body].map((line) => line.trimEnd());
};

const single = (told: ValueTold): string[] => {
  const meanings = told.meanings ?? [];
  const unsigned = named(meanings, 'uint16', 'ABCD');
  if (unsigned?.value === 0) return ['      one word  0'];
  const signed = named(meanings, 'int16', 'ABCD');
  const bcd = named(meanings, 'bcd16', 'ABCD');
  const parts = [
    `uint16 ${cell(unsigned)}`,
    ...(signed !== undefined && signed.value !== unsigned?.value ? [`int16 ${cell(signed)}`] : []),
    `x 0.1 ${cell(named(meanings, signed?.value === unsigned?.value ? 'uint16' : 'int16', 'ABCD', 0.1))}`,
    `bytes turned ${cell(named(meanings, 'uint16', 'BADC'))}`,
    ...(bcd === undefined || Number.isNaN(bcd.value) || bcd.value === unsigned?.value
      ? []
      : [`BCD ${cell(bcd)}`]),
  ];
  return packed(parts, '      one word  ');
};

/** What needs four words, digits or letters is told only where it could be meant. */
const others = (meanings: readonly Meaning[]): string[] => {
  const parts = meanings
    .filter(({ as, plausible, value }) => plausible && value !== 0 && /^(bcd32|float64|text)$/.test(as))
    .map((one) => `${one.as} ${one.order} ${cell(one)}`);
  return packed(parts, '      also      ');
};

const valueLines = (told: ValueTold, table: Table): string[] => {
  const mark = told.asked ? '> ' : '  ';
  const head = `${mark}${formsText(table, told.address)}`;
  if (told.bit !== undefined) return [`${mark}${told.bit}   ${formsText(table, told.address)}`];
  if (told.hex === undefined) return [head, '      does not exist'];
  const meanings = told.meanings ?? [];
  const limit = LIMITS[Number.parseInt(told.hex, 16)];
  return [
    head,
    `      raw 0x${told.hex}   bits ${grouped(told.bits ?? '')}`,
    ...single(told),
    ...(limit === undefined ? [] : [`      ${limit} is the limit of its type: it often means "no value"`]),
    ...wide(meanings),
    ...others(meanings),
  ];
};

export const valuesLines = (told: readonly ValueTold[], table: Table): string[] => [
  isBits(table)
    ? 'What stands there (> asked)'
    : 'What stands there (> asked   * plausible: could be a measured value)',
  ...told.flatMap((one) => valueLines(one, table)),
];
