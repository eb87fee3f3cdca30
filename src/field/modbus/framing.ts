import { type Asked, askedIn, CRC, crcFits, crcOf, lengthOf, MBAP, misfit } from './frame.ts';

/** What the bytes of a connection turn out to be. */
export interface FrameEars {
  /** The whole and right answer to the question at `slot`, as an RTU frame; valid only during the call. */
  answer(slot: number, frame: Buffer): void;
  /** Anything else. `stranger`: the unit that the bytes name where it is not the one that was asked. */
  foul(code: string, stranger?: number): void;
}

/** Turns questions into bytes, and bytes into answers to them. Nothing passes that does not fit a question on its way. */
export interface Framing {
  /** The question's bytes for the wire; undefined for anything but a whole read, which must not leave. */
  question(slot: number, frame: Uint8Array): Uint8Array | undefined;
  /** Bytes that came; the buffer is used again afterwards. */
  take(got: Uint8Array, length: number): void;
  /** Forgets the questions that are on their way, and what came of their answers. */
  clear(): void;
}

const LONGEST = 260;

/** One count for all connections: what an old connection has left behind in a gateway fits no question of a new one. */
let transactions = Math.floor(Math.random() * 65_536);

const HEADER_FOULS = ['wrong-transaction', 'wrong-protocol'] as const;

interface Numbered extends Asked {
  readonly transaction: number;
}

/**
 * Modbus TCP (Messaging Implementation Guide V1.0b, 3.1.3): transaction, protocol 0, length, unit. Answers may come in
 * any order. After a foul the stream is worth nothing: it must be ended.
 */
export const createMbap = (places: number, ears: FrameEars): Framing => {
  const asked: (Numbered | undefined)[] = new Array<Numbered | undefined>(places).fill(undefined);
  const held = Buffer.alloc(LONGEST * (places + 1));
  const scratch = Buffer.alloc(LONGEST);
  let holding = 0;
  let ended = false;

  const slotOf = (transaction: number): number => {
    for (let slot = 0; slot < places; slot += 1) if (asked[slot]?.transaction === transaction) return slot;
    return -1;
  };
  const foul = (code: string): number => {
    ended = true;
    ears.foul(code);
    return -1;
  };
  /** Bytes of the frame at `at` that were used up; 0: it is not whole yet; -1: a foul. */
  const next = (got: Uint8Array, at: number, end: number): number => {
    if (end - at < 2) return 0;
    const slot = slotOf(((got[at] ?? 0) << 8) | (got[at + 1] ?? 0));
    const question = asked[slot];
    if (question === undefined) return foul(HEADER_FOULS[0]);
    for (let index = at + 2; index < Math.min(at + 4, end); index += 1)
      if (got[index] !== 0) return foul(HEADER_FOULS[1]);
    const wrong = misfit(question, got, at + MBAP, end);
    if (wrong !== undefined) return foul(wrong);
    if (end - at < MBAP + 2) return 0;
    const length = ((got[at + 4] ?? 0) << 8) | (got[at + 5] ?? 0);
    if (length !== lengthOf(question, got[at + MBAP + 1] ?? 0)) return foul('wrong-length');
    if (end - at < MBAP + length) return 0;
    asked[slot] = undefined;
    for (let index = 0; index < length; index += 1) scratch[index] = got[at + MBAP + index] ?? 0;
    const crc = crcOf(scratch, 0, length);
    scratch[length] = crc & 0xff;
    scratch[length + 1] = crc >> 8;
    ears.answer(slot, scratch.subarray(0, length + CRC));
    return MBAP + length;
  };
  const walk = (got: Uint8Array, end: number): number => {
    let at = 0;
    while (at < end && !ended) {
      const used = next(got, at, end);
      if (used <= 0) break;
      at += used;
    }
    return at;
  };
  const hold = (got: Uint8Array, from: number, to: number): void => {
    if (holding + to - from > held.length) {
      foul('surplus-bytes');
      return;
    }
    held.set(got.subarray(from, to), holding);
    holding += to - from;
  };
  return {
    question(slot, frame) {
      const question = askedIn(frame);
      if (question === undefined || asked[slot] !== undefined) return undefined;
      transactions = (transactions + 1) & 0xffff;
      asked[slot] = { ...question, transaction: transactions };
      const bytes = Buffer.allocUnsafe(12);
      bytes.writeUInt16BE(transactions, 0);
      bytes.writeUInt32BE(6, 2);
      bytes.set(frame.subarray(0, 6), MBAP);
      return bytes;
    },
    take(got, length) {
      if (ended) return;
      if (holding === 0) {
        const used = walk(got, length);
        if (used < length && !ended) hold(got, used, length);
        return;
      }
      hold(got, 0, length);
      if (ended) return;
      const used = walk(held, holding);
      held.copyWithin(0, used, holding);
      holding -= used;
    },
    clear() {
      asked.fill(undefined);
      holding = 0;
    },
  };
};

/** RTU (Serial Line V1.02, 2.5.1): unit … data, checksum. No transaction: one question at a time, and no byte too many. */
export const createRtu = (ears: FrameEars): Framing => {
  const held = Buffer.alloc(LONGEST);
  let asked: Asked | undefined;
  let holding = 0;
  const foul = (code: string, stranger?: number): void => {
    asked = undefined;
    holding = 0;
    ears.foul(code, stranger);
  };
  return {
    question(_slot, frame) {
      const question = askedIn(frame);
      if (question === undefined || asked !== undefined) return undefined;
      asked = question;
      holding = 0;
      return Uint8Array.from(frame);
    },
    take(got, length) {
      if (asked === undefined) return foul('unasked-bytes', got[0]);
      const most = asked.bytes + 5;
      const room = Math.min(length, most - holding);
      held.set(got.subarray(0, room), holding);
      holding += room;
      const wrong = misfit(asked, held, 0, holding);
      if (wrong !== undefined) return foul(wrong, held[0] === asked.unit ? undefined : held[0]);
      if (holding < 5) return;
      const whole = lengthOf(asked, held[1] ?? 0) + CRC;
      if (holding < whole) return;
      if (holding > whole || room < length) return foul('surplus-bytes');
      if (!crcFits(held, 0, whole - CRC)) return foul('wrong-checksum');
      asked = undefined;
      ears.answer(0, held.subarray(0, whole));
    },
    clear() {
      asked = undefined;
      holding = 0;
    },
  };
};
