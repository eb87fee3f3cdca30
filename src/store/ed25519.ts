import { createPublicKey, type KeyObject, sign, verify } from 'node:crypto';
import type { Verify } from '../record/index.ts';

/** A private key that signs; the key itself never leaves the thread that read it. */
export interface Signer {
  /** Raw public key, 64 hex digits. */
  readonly key: string;
  /** Ed25519 (RFC 8032) over the bytes, as 128 hex digits. */
  sign(message: Uint8Array): string;
}

const known = new Map<string, KeyObject>();

const publicKeyOf = (key: string): KeyObject => {
  const before = known.get(key);
  if (before !== undefined) return before;
  const x = Buffer.from(key, 'hex').toString('base64url');
  const made = createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x }, format: 'jwk' });
  known.set(key, made);
  return made;
};

/** Ed25519 after RFC 8032. False, never an error, for what is no key or no signature. */
export const verifySignature: Verify = (key, message, signature) => {
  if (!/^[0-9a-f]{64}$/.test(key) || !/^[0-9a-f]{128}$/.test(signature)) return false;
  try {
    return verify(null, message, publicKeyOf(key), Buffer.from(signature, 'hex'));
  } catch {
    return false;
  }
};

export const signerOf = (secret: KeyObject): Signer => {
  const { x = '' } = createPublicKey(secret).export({ format: 'jwk' });
  return {
    key: Buffer.from(x, 'base64url').toString('hex'),
    sign: (message) => sign(null, message, secret).toString('hex'),
  };
};
