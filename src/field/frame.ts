/** One question on the wire, as it was sent. */
export interface Asked {
  readonly transaction: number;
  readonly unit: number;
  readonly fc: number;
  /** Data bytes that the answer must carry. */
  readonly bytes: number;
}

/** What the bytes that came so far are to the question that was asked. */
export type Judged = 'incomplete' | 'answers' | { readonly foul: string };

const HEADER = 7;
const READS: ReadonlySet<number> = new Set([1, 2, 3, 4]);

/**
 * The question in a request frame: MBAP (transaction, protocol 0, length, unit), function, address, quantity.
 * Undefined for anything but one whole read (functions 1–4): nothing else may leave this program.
 */
export const askedIn = (frame: Uint8Array): Asked | undefined => {
  if (frame.length !== 12) return undefined;
  const view = new DataView(frame.buffer, frame.byteOffset, frame.length);
  const fc = view.getUint8(7);
  if (view.getUint16(2) !== 0 || view.getUint16(4) !== 6 || !READS.has(fc)) return undefined;
  const count = view.getUint16(10);
  const most = fc <= 2 ? 2000 : 125;
  if (count < 1 || count > most) return undefined;
  const bytes = fc <= 2 ? Math.ceil(count / 8) : count * 2;
  return { transaction: view.getUint16(0), unit: view.getUint8(6), fc, bytes };
};

/** Every field of the answer against the question. A stream that does not fit never heals: the caller ends it. */
export const judgeFrame = (asked: Asked, got: Uint8Array): Judged => {
  const view = new DataView(got.buffer, got.byteOffset, got.length);
  if (got.length >= 2 && view.getUint16(0) !== asked.transaction) return { foul: 'wrong-transaction' };
  if (got.length >= 4 && view.getUint16(2) !== 0) return { foul: 'wrong-protocol' };
  if (got.length < HEADER + 1) return 'incomplete';
  const length = view.getUint16(4);
  const fc = view.getUint8(HEADER);
  if (view.getUint8(6) !== asked.unit) return { foul: 'wrong-unit' };
  if (fc !== asked.fc && fc !== (asked.fc | 0x80)) return { foul: 'wrong-function' };
  const whole = fc === asked.fc ? 3 + asked.bytes : 3;
  if (length !== whole) return { foul: 'wrong-length' };
  if (fc === asked.fc && got.length > HEADER + 1 && view.getUint8(HEADER + 1) !== asked.bytes) {
    return { foul: 'wrong-byte-count' };
  }
  if (got.length > 6 + length) return { foul: 'surplus-bytes' };
  return got.length === 6 + length ? 'answers' : 'incomplete';
};
