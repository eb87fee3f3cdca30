import { createHash, hash } from 'node:crypto';
import type { Hash } from '../record/index.ts';

/** FIPS 180-4 SHA-256 as lower-case hex. In one call where this Node has that: it takes half the time for short texts. */
export const sha256: Hash =
  typeof hash === 'function'
    ? (bytes) => hash('sha256', bytes, 'hex')
    : (bytes) => createHash('sha256').update(bytes).digest('hex');
