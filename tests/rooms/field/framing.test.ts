/**
 * The frame check against published frames. PDUs: Modbus Application Protocol V1.1b3, examples of 6.1 to 6.4 (bytes as they
 * stand in public test code that cites it). RTU frames and checksums: the same PDUs with the CRC of Serial Line V1.02,
 * 6.2.2, worked out bit by bit; "123456789" gives 0x4B37 for this polynomial (public CRC catalogue). The MBAP example is
 * printed in two public libraries that cite the TCP Messaging Guide.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { askedIn, crcFits, crcOf } from '../../../src/field/modbus/frame.ts';
import { createMbap, createRtu, type Framing } from '../../../src/field/modbus/framing.ts';
import { withCrc } from './rig.ts';

const hex = (text: string): Buffer => Buffer.from(text.replaceAll(' ', ''), 'hex');

const EXCHANGES = [
  ['coils 20–38', '11 01 00 13 00 13', '11 01 03 CD 6B 05'],
  ['coils 20–56', '11 01 00 13 00 25', '11 01 05 CD 6B B2 0E 1B'],
  ['inputs 197–218', '11 02 00 C4 00 16', '11 02 03 AC DB 35'],
  ['registers 108–110', '11 03 00 6B 00 03', '11 03 06 02 2B 00 00 00 64'],
  ['input register 9', '11 04 00 08 00 01', '11 04 02 00 0A'],
  ['a refusal', '11 03 00 6B 00 03', '11 83 02'],
] as const;

/** Answers and fouls that a framing makes of what it takes. */
const listen = (make: (ears: Parameters<typeof createRtu>[0]) => Framing) => {
  const heard: string[] = [];
  const framing = make({
    answer: (slot, frame) => heard.push(`${slot} ${frame.toString('hex')}`),
    foul: (code) => heard.push(code),
  });
  return { heard, framing };
};
const rtu = () => listen(createRtu);
const mbap = (places = 1) => listen((ears) => createMbap(places, ears));

describe('checksum', () => {
  test.each([
    ['02 07', '41 12'],
    ['11 01 00 13 00 25', '0E 84'],
    ['11 01 05 CD 6B B2 0E 1B', '45 E6'],
    ['11 02 00 C4 00 16', 'BA A9'],
    ['11 02 03 AC DB 35', '20 18'],
    ['11 03 00 6B 00 03', '76 87'],
    ['11 03 06 02 2B 00 00 00 64', 'C8 BA'],
    ['11 04 00 08 00 01', 'B2 98'],
    ['11 04 02 00 0A', 'F8 F4'],
    ['01 03 00 00 00 0A', 'C5 CD'],
    ['01 04 02 FF FF', 'B8 80'],
    ['11 83 02', 'C1 34'],
  ])('%s', (body, crc) => {
    const frame = hex(`${body} ${crc}`);
    expect(crcFits(frame, 0, frame.length - 2)).toBe(true);
  });

  test('the check value of the polynomial, and a frame with another unit’s checksum', () => {
    expect(crcOf(Buffer.from('123456789'), 0, 9)).toBe(0x4b37);
    expect(crcFits(hex('01 03 00 6B 00 03 76 87'), 0, 6)).toBe(false);
  });
});

describe('only whole read questions are questions', () => {
  test.each(EXCHANGES)('%s', (_name, question) => {
    expect(askedIn(withCrc(hex(question)))).toMatchObject({ unit: 0x11, fc: hex(question)[1] });
  });

  // Limits: Application Protocol V1.1b3, 6.1–6.4: 1–2000 bits, 1–125 registers; addresses end at 65 535.
  test.each([
    ['write single coil', '11 05 00 AC FF 00'],
    ['write single register', '11 06 00 01 00 03'],
    ['write several coils', '11 0F 00 13 00 0A'],
    ['write several registers', '11 10 00 01 00 02'],
    ['mask write', '11 16 00 04 00 F2'],
    ['read and write', '11 17 00 03 00 06'],
    ['nothing', '11 03 00 00 00 00'],
    ['126 registers', '11 03 00 00 00 7E'],
    ['2001 bits', '11 01 00 00 07 D1'],
    ['beyond the last address', '11 03 FF FF 00 02'],
    ['a short frame', '11 03 00 00 00'],
  ])('%s is none', (_name, frame) => {
    expect(askedIn(withCrc(hex(frame)))).toBeUndefined();
    expect(rtu().framing.question(0, withCrc(hex(frame)))).toBeUndefined();
    expect(mbap().framing.question(0, withCrc(hex(frame)))).toBeUndefined();
  });

  test('a wrong checksum is none', () => {
    expect(askedIn(hex('01 03 00 6B 00 03 76 87'))).toBeUndefined();
  });
});

describe.each(EXCHANGES)('%s', (_name, question, answer) => {
  test('RTU: taken whole, and byte by byte', () => {
    const frame = withCrc(hex(answer));
    for (const size of [frame.length, 1, 2, 3]) {
      const { heard, framing } = rtu();
      framing.question(0, withCrc(hex(question)));
      for (let at = 0; at < frame.length; at += size) {
        const piece = frame.subarray(at, at + size);
        framing.take(piece, piece.length);
      }
      expect(heard).toEqual([`0 ${frame.toString('hex')}`]);
    }
  });

  test('TCP: the library gets it with the checksum that RTU would have', () => {
    for (const size of [300, 1, 2, 5, 7, 8]) {
      const { heard, framing } = mbap();
      const sent = Buffer.from(framing.question(0, withCrc(hex(question)))!);
      expect(sent.subarray(2).toString('hex')).toBe(`00000006${hex(question).toString('hex')}`);
      const frame = Buffer.concat([sent.subarray(0, 4), Buffer.from([0, hex(answer).length]), hex(answer)]);
      for (let at = 0; at < frame.length; at += size) {
        const piece = frame.subarray(at, at + size);
        framing.take(piece, piece.length);
      }
      expect(heard).toEqual([`0 ${withCrc(hex(answer)).toString('hex')}`]);
    }
  });
});

test('the printed MBAP frame: 15 01 00 00 00 06 FF 03 00 04 00 01, but for the transaction, which counts', () => {
  const { heard, framing } = mbap();
  const sent = Buffer.from(framing.question(0, withCrc(hex('FF 03 00 04 00 01')))!);
  expect(sent.subarray(2)).toEqual(hex('15 01 00 00 00 06 FF 03 00 04 00 01').subarray(2));
  const answer = hex('15 01 00 00 00 05 FF 03 02 00 05');
  sent.copy(answer, 0, 0, 2);
  framing.take(answer, answer.length);
  expect(heard).toEqual([`0 ${withCrc(hex('FF 03 02 00 05')).toString('hex')}`]);
});

const REGISTERS = withCrc(hex('11 03 00 6B 00 03'));
const GOOD = hex('11 03 06 02 2B 00 00 00 64');

describe('a foul is told at the first byte that does not fit', () => {
  test.each([
    ['wrong-unit', 0, 0x12],
    ['wrong-function', 1, 0x04],
    ['wrong-function', 1, 0x84],
    ['wrong-byte-count', 2, 0x04],
    ['wrong-byte-count', 2, 0x08],
    ['wrong-checksum', 5, 0x01],
    ['wrong-checksum', 10, 0x01],
  ])('RTU: %s (byte %i)', (code, at, value) => {
    const { heard, framing } = rtu();
    framing.question(0, REGISTERS);
    const frame = withCrc(GOOD);
    frame[at] = value;
    const end = code === 'wrong-checksum' ? frame.length : at + 1;
    framing.take(frame.subarray(0, end), end);
    expect(heard).toEqual([code]);
  });

  test.each([
    ['wrong-transaction', 1],
    ['wrong-protocol', 2],
    ['wrong-protocol', 3],
    ['wrong-length', 4],
    ['wrong-length', 5],
    ['wrong-unit', 6],
    ['wrong-function', 7],
    ['wrong-byte-count', 8],
  ])('TCP: %s (byte %i)', (code, at) => {
    const { heard, framing } = mbap();
    const sent = Buffer.from(framing.question(0, REGISTERS)!);
    const frame = Buffer.concat([sent.subarray(0, 4), Buffer.from([0, GOOD.length]), GOOD]);
    frame[at] = frame[at]! ^ 0x10;
    framing.take(frame, frame.length);
    expect(heard).toEqual([code]);
    framing.take(frame, frame.length);
    expect(heard).toEqual([code]);
  });

  test('a surplus byte, a second answer, a byte that nobody asked for', () => {
    for (const surplus of [Buffer.from([0]), withCrc(GOOD)]) {
      const { heard, framing } = rtu();
      framing.question(0, REGISTERS);
      const frame = Buffer.concat([withCrc(GOOD), surplus]);
      framing.take(frame, frame.length);
      expect(heard).toEqual(['surplus-bytes']);
    }
    const { heard, framing } = rtu();
    framing.take(GOOD, 1);
    expect(heard).toEqual(['unasked-bytes']);
  });
});

test('four on their way, answered in any order and cut anywhere: each answer finds its question', () => {
  const orders = fc.shuffledSubarray([0, 1, 2, 3], { minLength: 4 });
  fc.assert(
    fc.property(orders, fc.array(fc.integer({ min: 1, max: 40 }), { maxLength: 20 }), (order, cuts) => {
      const { heard, framing } = mbap(4);
      const frames = [0, 1, 2, 3].map((slot) => {
        const sent = Buffer.from(framing.question(slot, withCrc(Buffer.from([1, 3, 0, slot, 0, 1])))!);
        return Buffer.concat([sent.subarray(0, 4), Buffer.from([0, 5, 1, 3, 2, 0, slot])]);
      });
      const stream = Buffer.concat(order.map((slot) => frames[slot]!));
      let at = 0;
      for (const cut of [...cuts, stream.length]) {
        const piece = stream.subarray(at, at + cut);
        framing.take(piece, piece.length);
        at += piece.length;
      }
      expect(heard).toEqual(
        order.map((slot) => `${slot} ${withCrc(Buffer.from([1, 3, 2, 0, slot])).toString('hex')}`),
      );
    }),
  );
});

test('whatever bytes come, nothing is thrown, and nothing but the right answer passes', () => {
  const bytes = fc.uint8Array({ maxLength: 400 });
  fc.assert(
    fc.property(fc.array(bytes, { maxLength: 6 }), (pieces) => {
      for (const { heard, framing } of [rtu(), mbap(3)]) {
        framing.question(0, REGISTERS);
        for (const piece of pieces) framing.take(piece, piece.length);
        expect(heard.filter((one) => one.startsWith('0 '))).toEqual([]);
      }
    }),
  );
});
