/**
 * The verification log as a file: SQLite in WAL mode with full synchronisation, one writer in a thread of its own,
 * any number of readers. It appends and reads, and knows nothing of meaning. SHA-256 after FIPS 180-4.
 *
 * Proved by tests/rooms/store.
 */
export { createLog, type Log, openLog } from './log.ts';
export { auditFile, interruptedWindows, type LogReader, readLog } from './read.ts';
export { sha256 } from './sha256.ts';
export { type Appended, type Batch, type Draft, LogError } from './types.ts';
