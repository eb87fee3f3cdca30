/** Which revision a controller runs, and since when. */
import { expect, test } from 'vitest';
import { createRevisions, revisionsKnown, type Stated } from '../../../src/daemon/revisions.ts';
import { columnsOf, instant, type Reading, SECOND, type SignalId } from '../../../src/measure/index.ts';
import { bookOf, underspeed } from '../judge/rig.ts';

const plain = bookOf([underspeed()]);
const revision = 0 as SignalId;
const book = {
  ...plain,
  machines: plain.machines.map((one, index) => (index === 0 ? { ...one, revision } : one)),
};
const name = book.machines[0]?.name ?? '';

const rig = (known: ReadonlyMap<string, Stated>) => {
  const latest = new Map<number, Reading>();
  const entered: object[] = [];
  const told: string[] = [];
  const running = createRevisions(book, known, latest, new Map(), {
    enter: (machine, body) => entered.push({ ...body, machine }),
    tell: (level) => told.push(level),
  });
  let now = 0;
  const read = (value: number | undefined): void => {
    now += 1;
    const at = { earliest: instant(now * SECOND), latest: instant(now * SECOND) };
    const what =
      value === undefined ? { absent: 'timed-out' as const } : { value: { low: value, high: value } };
    const reading: Reading = { signal: revision, at, response: 0, flags: 0, ...what };
    latest.set(revision, reading);
    running.take(columnsOf([reading]));
  };
  return { read, entered, told, typed: (text: string) => running.typed(name, text) };
};

test('the first is entered, another only after two readings alike, the same never', () => {
  const { read, entered, told } = rig(new Map());
  for (const value of [7, 7, 7, 8, 7, undefined, 9, 9, 9]) read(value);
  expect(entered).toEqual([
    { machine: name, text: '7', quality: 'tag' },
    { machine: name, text: '9', quality: 'tag', was: '7', lastSeen: '1970-01-01T00:00:05.000000Z' },
  ]);
  expect(told).toEqual(['info', 'warn']);
});

test('what the log knew last is compared with; nobody looked in between', () => {
  const { read, entered } = rig(new Map([[name, { text: '7', quality: 'tag' }]]));
  read(8);
  read(8);
  expect(entered).toEqual([{ machine: name, text: '8', quality: 'tag', was: '7' }]);
  expect(rig(revisionsKnown({ revisions: [] })).entered).toEqual([]);
});

test('what was typed and the tag now shows is no change: it is entered as known from the controller, once', () => {
  const { read, entered, told } = rig(
    revisionsKnown({
      revisions: [
        { entry: 1, at: instant(0), machine: name, text: '7', quality: 'tag', window: '' },
        { entry: 2, at: instant(0), machine: name, text: '8 ', quality: 'typed', window: 'w' },
      ],
    }),
  );
  for (const value of [8, 8, 8]) read(value);
  expect(entered).toEqual([{ machine: name, text: '8', quality: 'tag' }]);
  expect(told).toEqual(['info']);
});

test('what is typed while it runs is compared with too; typing what the tag showed changes nothing', () => {
  const { read, entered, typed } = rig(new Map());
  for (const value of [7, 7]) read(value);
  typed('7');
  read(7);
  read(7);
  typed('8');
  for (const value of [undefined, 9, 9]) read(value);
  expect(entered).toEqual([
    { machine: name, text: '7', quality: 'tag' },
    { machine: name, text: '9', quality: 'tag', was: '8' },
  ]);
});
