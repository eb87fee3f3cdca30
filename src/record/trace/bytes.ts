/** A growing buffer of variable-length integers and doubles; little-endian where bytes are fixed. */
export interface Writer {
  bytes: Uint8Array;
  length: number;
}

export const newWriter = (): Writer => ({ bytes: new Uint8Array(1_024), length: 0 });

const room = (writer: Writer, more: number): void => {
  if (writer.length + more <= writer.bytes.length) return;
  const bigger = new Uint8Array(Math.max(writer.bytes.length * 2, writer.length + more));
  bigger.set(writer.bytes.subarray(0, writer.length));
  writer.bytes = bigger;
};

export const putByte = (writer: Writer, value: number): void => {
  room(writer, 1);
  writer.bytes[writer.length] = value;
  writer.length += 1;
};

/** Non-negative whole number, seven bits a byte, least significant first. Throws a RangeError beyond 2^53 − 1. */
export const putCount = (writer: Writer, value: number): void => {
  if (!Number.isSafeInteger(value) || value < 0) throw new RangeError(`${value} is not a count`);
  let rest = value;
  while (rest >= 128) {
    putByte(writer, (rest % 128) + 128);
    rest = Math.floor(rest / 128);
  }
  putByte(writer, rest);
};

/** Whole number of either sign, folded: 0, −1, 1, −2 … Throws a RangeError beyond ± 2^52. */
export const putSigned = (writer: Writer, value: number): void => {
  // Asked before folding: it would turn a half into a whole number.
  if (!Number.isSafeInteger(value)) throw new RangeError(`${value} is not a whole number`);
  putCount(writer, value >= 0 ? value * 2 : -value * 2 - 1);
};

/** IEEE 754, all bits kept: −0 and NaN come back as they were. */
export const putDouble = (writer: Writer, value: number): void => {
  room(writer, 8);
  new DataView(writer.bytes.buffer).setFloat64(writer.length, value, true);
  writer.length += 8;
};

/** First byte of a number: which of the forms follows. */
const FORMS = { whole: 0, single: 1, double: 2 } as const;
/** Beyond it a whole number is no shorter than a double. */
const MOST_WHOLE = 1e14;

/** Any double in its shortest form, all bits kept: a whole number, one of 32 bits, or one of 64. */
export const putNumber = (writer: Writer, value: number): void => {
  if (Number.isInteger(value) && Math.abs(value) < MOST_WHOLE && !Object.is(value, -0)) {
    putByte(writer, FORMS.whole);
    putSigned(writer, value);
  } else if (Object.is(Math.fround(value), value)) {
    putByte(writer, FORMS.single);
    room(writer, 4);
    new DataView(writer.bytes.buffer).setFloat32(writer.length, value, true);
    writer.length += 4;
  } else {
    putByte(writer, FORMS.double);
    putDouble(writer, value);
  }
};

export const putBytes = (writer: Writer, bytes: Uint8Array): void => {
  room(writer, bytes.length);
  writer.bytes.set(bytes, writer.length);
  writer.length += bytes.length;
};

export const written = (writer: Writer): Uint8Array => writer.bytes.slice(0, writer.length);

/** Reads what a writer wrote; `failed` is set, and zeros come, once the bytes do not suffice. */
export interface Reader {
  readonly bytes: Uint8Array;
  at: number;
  failed: boolean;
}

export const newReader = (bytes: Uint8Array): Reader => ({ bytes, at: 0, failed: false });

export const getByte = (reader: Reader): number => {
  const value = reader.bytes[reader.at];
  if (value === undefined) reader.failed = true;
  reader.at += 1;
  return value ?? 0;
};

export const getCount = (reader: Reader): number => {
  let value = 0;
  let weight = 1;
  for (let index = 0; index < 8; index += 1) {
    const byte = getByte(reader);
    value += (byte & 127) * weight;
    if (byte < 128) {
      if (!Number.isSafeInteger(value) || (byte === 0 && index > 0)) reader.failed = true;
      return value;
    }
    weight *= 128;
  }
  reader.failed = true;
  return 0;
};

export const getSigned = (reader: Reader): number => {
  const folded = getCount(reader);
  return folded % 2 === 0 ? folded / 2 : -(folded + 1) / 2;
};

export const getDouble = (reader: Reader): number => {
  if (reader.at + 8 > reader.bytes.length) {
    reader.failed = true;
    reader.at += 8;
    return 0;
  }
  const value = new DataView(reader.bytes.buffer, reader.bytes.byteOffset).getFloat64(reader.at, true);
  reader.at += 8;
  return value;
};

const getSingle = (reader: Reader): number => {
  if (reader.at + 4 > reader.bytes.length) {
    reader.failed = true;
    reader.at += 4;
    return 0;
  }
  const value = new DataView(reader.bytes.buffer, reader.bytes.byteOffset).getFloat32(reader.at, true);
  reader.at += 4;
  return value;
};

export const getNumber = (reader: Reader): number => {
  const form = getByte(reader);
  if (form === FORMS.whole) return getSigned(reader);
  if (form === FORMS.single) return getSingle(reader);
  if (form !== FORMS.double) reader.failed = true;
  return getDouble(reader);
};

/** The next `length` bytes as a reader of their own; empty and failed where there are not so many. */
export const getPart = (reader: Reader, length: number): Reader => {
  const end = reader.at + length;
  if (end > reader.bytes.length) reader.failed = true;
  const part = newReader(reader.failed ? new Uint8Array(0) : reader.bytes.subarray(reader.at, end));
  reader.at = end;
  part.failed = reader.failed;
  return part;
};
