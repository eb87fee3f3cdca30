import { canonicalText } from '../canonical.ts';
import type { Checkpoint, Hash } from '../types.ts';
import { utf8 } from './tree.ts';

/** Digits of base 32 without I, L, O and U, which are misread on paper. */
const DIGITS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const LENGTH = 16;

const grouped = (digits: string): string => (digits.match(/.{1,4}/g) ?? []).join('-');

/** The first 80 bits of a SHA-256 in hex, as four groups of four characters. */
const shortOf = (hex: string): string => {
  let digits = '';
  // Five hex digits are 20 bits: four characters.
  for (let at = 0; at < 20; at += 5) {
    const bits = Number.parseInt(hex.slice(at, at + 5), 16);
    for (const shift of [15, 10, 5, 0]) digits += DIGITS.charAt((bits >> shift) & 31);
  }
  return grouped(digits);
};

/**
 * A checkpoint for paper, `7K3F-92QX-…`: the first 80 bits of SHA-256 over the canonical text of {log, root, size}. Short
 * enough to be compared by eye; who wants to forge one has 2^80 to try.
 */
export const fingerprintOf = (
  hash: Hash,
  { size, root, log }: Checkpoint & { readonly log: string },
): string => shortOf(hash(utf8(canonicalText({ log, root, size }))));

/** A public key (64 hex digits) for paper, in the same form: over its text. */
export const keyFingerprint = (hash: Hash, key: string): string => shortOf(hash(utf8(key)));

/** A blank sheet for one interlock under one rulebook (`rules`: its SHA-256), in the same form. */
export const sheetCode = (
  hash: Hash,
  { interlock, rules }: { readonly interlock: string; readonly rules: string },
): string => shortOf(hash(utf8(canonicalText({ interlock, rules }))));

/** As somebody types it: any case, with or without dashes, O for 0, I and L for 1. Undefined where it is none. */
export const readFingerprint = (typed: string): string | undefined => {
  const digits = typed.toUpperCase().replaceAll(/[\s-]/g, '').replaceAll('O', '0').replaceAll(/[IL]/g, '1');
  const isWhole = digits.length === LENGTH && [...digits].every((digit) => DIGITS.includes(digit));
  return isWhole ? grouped(digits) : undefined;
};
