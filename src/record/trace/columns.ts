import {
  getByte,
  getCount,
  getPart,
  newReader,
  newWriter,
  putByte,
  putBytes,
  putCount,
  type Reader,
  type Writer,
  written,
} from './bytes.ts';

/**
 * A block of rows, stored column by column: version byte, number of rows, then each column with its length before it.
 * The names and their order belong to the version; a column that is not read to its end makes the block unreadable.
 */
export type Writers<Name extends string> = Readonly<Record<Name, Writer>>;
export type Readers<Name extends string> = Readonly<Record<Name, Reader>>;

const byName = <Name extends string, T>(names: readonly Name[], make: () => T): Readonly<Record<Name, T>> =>
  Object.fromEntries(names.map((name) => [name, make()])) as Record<Name, T>;

export const newColumns = <Name extends string>(names: readonly Name[]): Writers<Name> =>
  byName(names, newWriter);

export const packColumns = <Name extends string>(
  version: number,
  rows: number,
  names: readonly Name[],
  columns: Writers<Name>,
): Uint8Array => {
  const writer = newWriter();
  putByte(writer, version);
  putCount(writer, rows);
  for (const name of names) {
    putCount(writer, columns[name].length);
    putBytes(writer, written(columns[name]));
  }
  return written(writer);
};

/** Undefined where the version is another, a column is cut short, or something stands behind the last. */
export const unpackColumns = <Name extends string>(
  version: number,
  names: readonly Name[],
  bytes: Uint8Array,
): { readonly rows: number; readonly columns: Readers<Name> } | undefined => {
  const reader = newReader(bytes);
  if (getByte(reader) !== version) return undefined;
  const rows = getCount(reader);
  const columns = byName(names, () => getPart(reader, getCount(reader)));
  return reader.failed || reader.at !== bytes.length ? undefined : { rows, columns };
};

export const hasFailed = (columns: Readers<string>): boolean =>
  Object.values(columns).some((column) => column.failed);

/** Every column was read to its end and not beyond. */
export const isSpent = (columns: Readers<string>): boolean =>
  Object.values(columns).every((column) => !column.failed && column.at === column.bytes.length);
