import { createHash, createPublicKey, verify } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { Hash, Verify } from '../../../src/record/index.ts';

/** Published known answers; each file says at its head where they come from. */
export const vectors = <T>(path: string): T & { readonly source: string } =>
  JSON.parse(readFileSync(new URL(`../../vectors/${path}`, import.meta.url), 'utf8'));

export const sha256: Hash = (bytes) => createHash('sha256').update(bytes).digest('hex');
export const bytesOf = (hex: string): Uint8Array => Uint8Array.from(Buffer.from(hex, 'hex'));
export const hexOf = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex');

/** Ed25519 as this Node has it. */
export const verifySignature: Verify = (key, message, signature) => {
  const x = Buffer.from(key, 'hex').toString('base64url');
  const secret = createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x }, format: 'jwk' });
  return verify(null, message, secret, Buffer.from(signature, 'hex'));
};
