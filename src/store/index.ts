/**
 * The verification log as a file: SQLite in WAL mode with full synchronisation, one writer in a thread of its own,
 * any number of readers. It appends and reads, and knows nothing of meaning. SHA-256 after FIPS 180-4, Ed25519 after
 * RFC 8032; the site key is in a folder of its own, with the newest checkpoint as a memory outside of the log.
 *
 * Proved by tests/rooms/store.
 */
export { auditFile } from './audit.ts';
export { backupLog } from './backup.ts';
export { verifySignature } from './ed25519.ts';
export { type KeptSession, type KeptSessions, sessionsBeside } from './kept-sessions.ts';
export { adoptKey, type Done, restoreLog, rotateKey } from './key-change.ts';
export { createLog, type Log, type LogPlace, openLog } from './log.ts';
export type { Known } from './outside.ts';
export { MOST_FAILURES, type Passwords, passwordFault, passwordsOf, preparePassword } from './passwords.ts';
export { type LogReader, readLog } from './read.ts';
export { sha256 } from './sha256.ts';
export { keysBeside, publicKeyIn } from './site-key.ts';
export { type Appended, type Batch, type Draft, type Head, LogError, type Opening } from './types.ts';
