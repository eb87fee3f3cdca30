/** Checkpoints are chained, and the chain is entered now and then: none can be taken away, and few signatures are verified. */
import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { verifyLog } from '../../../src/record/index.ts';
import { auditFile, keysBeside, readLog, sha256, verifySignature } from '../../../src/store/index.ts';
import { createCore, openCore } from '../../../src/store/log-core.ts';
import { codesOf, draft, genesis, newPath } from './logs.ts';

/** Ten batches, the eighth with a seal over the eight checkpoints before it. */
const newLog = (): string => {
  const path = newPath();
  const log = createCore(path, genesis);
  for (let number = 1; number <= 10; number += 1)
    log.append({ entries: [draft('mark', 'w-1', { number })], blocks: [], seal: number === 8 });
  log.close();
  return path;
};

const without = (path: string, statement: string): string[] => {
  const database = new Database(path);
  for (const name of ['checkpoints_stay', 'checkpoints_remain']) database.exec(`DROP TRIGGER ${name}`);
  database.exec(statement);
  database.close();
  return auditFile(path).damage.map(({ entry, reason }) => `${reason.code} ${entry ?? ''}`.trim());
};

test('the seal is an entry behind its batch, and says what stands there', () => {
  const path = newLog();
  const reader = readLog(path);
  const seals = reader.entriesOf({ kind: 'sealed' });
  expect(seals.map(({ seq, body }) => [seq, body['checkpoints'], body['size']])).toEqual([[9, 8, 8]]);
  reader.close();
  expect(auditFile(path, { keys: keysBeside(path) })).toMatchObject({ entries: 12, damage: [], vouched: 12 });
});

test('a checkpoint before the seal taken away: the seal tells, from the file alone', () => {
  expect(without(newLog(), 'DELETE FROM checkpoints WHERE size = 3')).toEqual(['seal-broken 9']);
});

test('a signature before the seal changed: seal and signature tell', () => {
  const statement = `UPDATE checkpoints SET signature = '${'0'.repeat(128)}' WHERE size = 3`;
  expect(without(newLog(), statement)).toEqual(['seal-broken 9', 'checkpoint-altered 2']);
});

test('one behind the seal taken away: the memory beside the keys tells', () => {
  const path = newLog();
  expect(without(path, 'DELETE FROM checkpoints WHERE size = 11')).toEqual([]);
  expect(codesOf(auditFile(path, { keys: keysBeside(path) }).damage)).toEqual(['checkpoints-differ']);
});

test('signatures under a seal are not verified one by one', () => {
  const path = newLog();
  const reader = readLog(path);
  let verified = 0;
  verifyLog(reader, sha256, (...asked) => {
    verified += 1;
    return verifySignature(...asked);
  });
  reader.close();
  // Eleven checkpoints, eight of them sealed.
  expect(verified).toBe(3);
});

test('a log with many checkpoints and no seal is sealed when it is opened', () => {
  const path = newPath();
  const log = createCore(path, genesis);
  for (let number = 1; number < 64; number += 1) log.append({ entries: [draft('mark')], blocks: [] });
  log.close();
  const again = openCore(path);
  expect(again.head().size).toBe(65);
  again.close();
  openCore(path).close();
  expect(auditFile(path, { keys: keysBeside(path) })).toMatchObject({ entries: 65, damage: [] });
});
