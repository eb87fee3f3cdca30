import { existsSync, readFileSync } from 'node:fs';
import type { Damage } from '../record/index.ts';

/**
 * SQLite passes over a frame of its write-ahead file that does not fit, and over all frames behind it, without a word:
 * one changed byte there would take acknowledged entries away. Source of the layout: sqlite.org/fileformat2.html, 4.1–4.3.
 */
const HEADER = 32;
const FRAME_HEADER = 24;
const MAGIC_BIG = 0x377f_0683;
const MAGIC_LITTLE = 0x377f_0682;

type Sums = readonly [number, number];

const sumOver = (bytes: DataView, from: number, length: number, start: Sums, little: boolean): Sums => {
  let [first, second] = start;
  for (let at = from; at < from + length; at += 8) {
    first = (first + bytes.getUint32(at, little) + second) >>> 0;
    second = (second + bytes.getUint32(at + 4, little) + first) >>> 0;
  }
  return [first, second];
};

const sumsAt = (bytes: DataView, at: number): Sums => [bytes.getUint32(at), bytes.getUint32(at + 4)];
const isSame = (a: Sums, b: Sums): boolean => a[0] === b[0] && a[1] === b[1];

/** A header that does not fit, before frames that were written under it. */
const isHeaderBroken = (bytes: DataView): boolean => {
  const magic = bytes.getUint32(0);
  const isFitting =
    (magic === MAGIC_LITTLE || magic === MAGIC_BIG) &&
    isSame(sumOver(bytes, 0, 24, [0, 0], magic === MAGIC_LITTLE), sumsAt(bytes, 24));
  if (isFitting || bytes.byteLength < HEADER + FRAME_HEADER) return false;
  const [mine, frame] = [sumsAt(bytes, 16), sumsAt(bytes, HEADER + 8)];
  return mine[0] === frame[0] || mine[1] === frame[1];
};

/** The first frame that does not fit, where a later transaction proves that its own had been committed. */
const brokenFrame = (bytes: DataView): number | undefined => {
  const little = bytes.getUint32(0) === MAGIC_LITTLE;
  const page = bytes.getUint32(8);
  const salts = sumsAt(bytes, 16);
  let sums = sumsAt(bytes, 24);
  let suspect: number | undefined;
  let committed = false;
  for (let at = HEADER, frame = 1; at + FRAME_HEADER + page <= bytes.byteLength; frame += 1) {
    const isOurs = isSame(salts, sumsAt(bytes, at + 8));
    if (suspect === undefined) {
      sums = sumOver(bytes, at, 8, sums, little);
      sums = sumOver(bytes, at + FRAME_HEADER, page, sums, little);
      if (!isOurs || !isSame(sums, sumsAt(bytes, at + 16))) suspect = frame;
    } else if (isOurs && committed) return suspect;
    // Only the frame that ends a transaction says how many pages the database then has.
    if (suspect !== undefined && bytes.getUint32(at + 4) !== 0) committed = true;
    at += FRAME_HEADER + page;
  }
  return undefined;
};

const look = (file: string): number | undefined => {
  const read = readFileSync(file);
  const bytes = new DataView(read.buffer, read.byteOffset, read.byteLength);
  if (bytes.byteLength < HEADER) return undefined;
  return isHeaderBroken(bytes) ? 0 : brokenFrame(bytes);
};

/**
 * Damage in the write-ahead file beside a log, if there is one: `frame` 0 is its header. The last transaction is not
 * judged, since a power cut in the middle of it looks the same and costs nothing that was acknowledged.
 */
export const walDamage = (path: string): Damage[] => {
  const file = `${path}-wal`;
  if (!existsSync(file)) return [];
  const frame = look(file);
  // A writer at work may be caught between two pages; what is really broken stays so.
  if (frame === undefined || look(file) !== frame) return [];
  return [{ reason: { code: 'wal-broken', params: { frame } } }];
};
