import { createHash } from 'node:crypto';
import type { Hash } from '../record/index.ts';

/** FIPS 180-4 SHA-256 as lower-case hex. */
export const sha256: Hash = (bytes) => createHash('sha256').update(bytes).digest('hex');
