/** Edits of the file as bytes, by somebody who knows nothing of what stands in it, or just enough. */
import type { Random } from './random.ts';
import type { Base, Files } from './tampering-logs.ts';

export type FileEdit = (base: Base, random: Random) => Files;

const PAGE = 4_096;

/** In the log or, where there is one, half of the time in the write-ahead file. */
const inOneOf = (change: (bytes: Buffer, random: Random) => Buffer): FileEdit => {
  return ({ log, wal }, random) => {
    if (wal !== undefined && random.chance(0.5)) return { log, wal: change(Buffer.from(wal), random) };
    return { log: change(Buffer.from(log), random), ...(wal && { wal }) };
  };
};

const at = (bytes: Buffer, random: Random): number => Math.floor(random.next() * bytes.length);
const pageOf = (bytes: Buffer, random: Random): number =>
  Math.floor(random.next() * Math.floor(bytes.length / PAGE)) * PAGE;

const oneByte = inOneOf((bytes, random) => {
  const where = at(bytes, random);
  bytes[where] = (bytes[where] ?? 0) ^ (1 + Math.floor(random.next() * 255));
  return bytes;
});

/** A digit of a hash, a letter of a text: what a careful hand changes. */
const oneCharacter = inOneOf((bytes, random) => {
  const isText = (code: number | undefined): boolean => code !== undefined && code >= 0x30 && code <= 0x7a;
  let where = at(bytes, random);
  while (where < bytes.length && !isText(bytes[where])) where += 1;
  if (where < bytes.length) bytes[where] = random.pick([...Buffer.from('0123456789abcdefxyz')]);
  return bytes;
});

const run = inOneOf((bytes, random) => {
  const from = at(bytes, random);
  const length = 1 + Math.floor(random.next() * 200);
  const fill = random.pick([0, 0xff, undefined]);
  for (let where = from; where < Math.min(bytes.length, from + length); where += 1)
    bytes[where] = fill ?? Math.floor(random.next() * 256);
  return bytes;
});

const twoPagesSwapped = inOneOf((bytes, random) => {
  const [one, other] = [pageOf(bytes, random), pageOf(bytes, random)];
  const kept = Buffer.from(bytes.subarray(one, one + PAGE));
  bytes.copyWithin(one, other, other + PAGE);
  kept.copy(bytes, other);
  return bytes;
});

const pageOverPage = inOneOf((bytes, random) => {
  const from = pageOf(bytes, random);
  return bytes.copyWithin(pageOf(bytes, random), from, from + PAGE);
});

const pageErased = inOneOf((bytes, random) => {
  const from = pageOf(bytes, random);
  return bytes.fill(random.pick([0, 0xff]), from, from + PAGE);
});

const cutShort = inOneOf((bytes, random) => bytes.subarray(0, at(bytes, random)));
const madeLonger = inOneOf((bytes, random) =>
  Buffer.concat([bytes, Buffer.alloc(1 + Math.floor(random.next() * 9_000), random.pick([0, 0x41]))]),
);

/** The head of the file: counters, versions, sizes. */
const header: FileEdit = ({ log, wal }, random) => {
  const bytes = Buffer.from(log);
  bytes[Math.floor(random.next() * 100)] = Math.floor(random.next() * 256);
  return { log: bytes, ...(wal && { wal }) };
};

const withoutWal: FileEdit = ({ log }) => ({ log });

/** Frames of the write-ahead file taken from the middle, so that what follows does not fit. */
const frameTaken: FileEdit = ({ log, wal }, random) => {
  if (wal === undefined) return { log };
  const frame = PAGE + 24;
  const from = 32 + Math.floor(random.next() * Math.floor((wal.length - 32) / frame)) * frame;
  return { log, wal: Buffer.concat([wal.subarray(0, from), wal.subarray(from + frame)]) };
};

const put =
  (which: keyof Base['others']): FileEdit =>
  ({ others }) =>
    others[which];

/** The older file under the newer write-ahead file, and the other way round. */
const mixed: FileEdit = ({ log, wal, others }, random) =>
  random.chance(0.5)
    ? { log: others.older.log, ...(wal && { wal }) }
    : { log, ...(others.older.wal && { wal: others.older.wal }) };

const noLog: FileEdit = (_base, random) => ({
  log: random.pick([Buffer.alloc(0), Buffer.from('notes'), Buffer.alloc(9_000, 0x41)]),
});

export const BYTE_EDITS: Readonly<Record<string, FileEdit>> = {
  'one byte': oneByte,
  'one character': oneCharacter,
  'a run of bytes': run,
  'two pages swapped': twoPagesSwapped,
  'page over page': pageOverPage,
  'page erased': pageErased,
  'cut short': cutShort,
  'made longer': madeLonger,
  'head of the file': header,
  'write-ahead file taken away': withoutWal,
  'frame of the write-ahead file taken': frameTaken,
};

export const FILE_EDITS: Readonly<Record<string, FileEdit>> = {
  'put back to an older copy': put('older'),
  'another log of the same key': put('same-key'),
  'the same log under another key': put('other-key'),
  'log and write-ahead file of two times': mixed,
  'no log at all': noLog,
};
