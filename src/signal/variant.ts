/** Built-in types of OPC 10000-6, 5.1.2, that hold a number or a text. */
const TYPES = { int64: 8, uint64: 9, string: 12, qualifiedName: 20, localizedText: 21 } as const;

/** A value as an OPC UA library hands it out; nothing of it is taken for granted. */
export interface Variant {
  readonly dataType?: unknown;
  readonly value?: unknown;
}

/** What an item of the log holds of it. */
export interface PlainValue {
  readonly value: number | null;
  readonly text?: string;
}

const TWO_32 = 4_294_967_296;
const NOTHING: PlainValue = { value: null };

const isWord = (part: unknown): part is number => Number.isInteger(part) && Math.abs(Number(part)) < TWO_32;

/** The library hands out 64 bits as two whole numbers, the upper first. Beyond 2^53 a double cannot hold them. */
const wide = (value: unknown, signed: boolean): PlainValue => {
  if (!Array.isArray(value) || value.length !== 2) return plain(value);
  const [upper, lower] = value as readonly unknown[];
  if (!isWord(upper) || !isWord(lower)) return NOTHING;
  // Two's complement: the upper word carries the sign.
  const high = signed && upper >= TWO_32 / 2 ? upper - TWO_32 : upper;
  const whole = high * TWO_32 + (lower < 0 ? lower + TWO_32 : lower);
  return Number.isSafeInteger(whole) ? { value: whole } : NOTHING;
};

const MOST_CHARACTERS = 1_000;

const plain = (value: unknown): PlainValue => {
  switch (typeof value) {
    case 'boolean':
      return { value: value ? 1 : 0 };
    case 'number':
      return { value };
    case 'bigint': {
      const whole = Number(value);
      return Number.isSafeInteger(whole) ? { value: whole } : NOTHING;
    }
    case 'string':
      return { value: null, text: value.slice(0, MOST_CHARACTERS) };
    default:
      return NOTHING;
  }
};

/** The text of a localized text, the name of a qualified name. */
const named = (value: unknown, key: string): PlainValue => {
  if (typeof value !== 'object' || value === null || !Object.hasOwn(value, key)) return plain(value);
  const text: unknown = Object.getOwnPropertyDescriptor(value, key)?.value;
  return typeof text === 'string' ? plain(text) : NOTHING;
};

/**
 * A number, a truth or a text out of an OPC UA variant; null for anything else (arrays, structures, times, no value).
 * Never throws, whatever it is given.
 */
export const plainValue = (variant: Variant | null | undefined): PlainValue => {
  const { dataType, value } = variant ?? {};
  if (dataType === TYPES.int64) return wide(value, true);
  if (dataType === TYPES.uint64) return wide(value, false);
  if (dataType === TYPES.localizedText) return named(value, 'text');
  if (dataType === TYPES.qualifiedName) return named(value, 'name');
  return plain(value);
};
