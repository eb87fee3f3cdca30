-- The verification log. Rows are added, never changed: the triggers refuse it, and the hashes would tell.
CREATE TABLE entries (
  seq  INTEGER PRIMARY KEY,
  text TEXT NOT NULL,
  leaf TEXT NOT NULL
) STRICT;

-- With row ids: beside an index a block of some kilobytes would take a page of its own.
CREATE TABLE blocks (
  hash  TEXT PRIMARY KEY NOT NULL,
  bytes BLOB NOT NULL
) STRICT;

-- key: raw public key, 64 hex digits; signature: 128 hex digits. Without either: from before there were keys.
CREATE TABLE checkpoints (
  size INTEGER PRIMARY KEY,
  root TEXT NOT NULL,
  utc  TEXT NOT NULL,
  key  TEXT,
  signature TEXT
) STRICT;

CREATE TRIGGER entries_stay BEFORE UPDATE ON entries BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
CREATE TRIGGER entries_remain BEFORE DELETE ON entries BEGIN SELECT RAISE(ABORT, 'entries are never deleted'); END;
CREATE TRIGGER blocks_stay BEFORE UPDATE ON blocks BEGIN SELECT RAISE(ABORT, 'traces are never changed'); END;
CREATE TRIGGER blocks_remain BEFORE DELETE ON blocks BEGIN SELECT RAISE(ABORT, 'traces are never deleted'); END;
CREATE TRIGGER checkpoints_stay BEFORE UPDATE ON checkpoints BEGIN SELECT RAISE(ABORT, 'checkpoints are never changed'); END;
CREATE TRIGGER checkpoints_remain BEFORE DELETE ON checkpoints BEGIN SELECT RAISE(ABORT, 'checkpoints are never deleted'); END;

-- REPLACE would delete without asking the triggers above. The same block twice is the same block.
CREATE TRIGGER entries_once BEFORE INSERT ON entries
WHEN EXISTS (SELECT 1 FROM entries WHERE seq = NEW.seq)
BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
CREATE TRIGGER blocks_once BEFORE INSERT ON blocks
WHEN EXISTS (SELECT 1 FROM blocks WHERE hash = NEW.hash AND bytes IS NOT NEW.bytes)
BEGIN SELECT RAISE(ABORT, 'traces are never changed'); END;
CREATE TRIGGER checkpoints_once BEFORE INSERT ON checkpoints
WHEN EXISTS (SELECT 1 FROM checkpoints WHERE size = NEW.size)
BEGIN SELECT RAISE(ABORT, 'checkpoints are never changed'); END;

PRAGMA application_id = 1953984887;
PRAGMA user_version = 2;
