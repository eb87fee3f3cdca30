import { leafOfText } from '../chain/tree.ts';
import type { LogSource } from '../log-source.ts';
import type { Hash } from '../types.ts';
import { fromBase64 } from './base64.ts';
import { type Bundle, bundleSchema, bundleText } from './bundle.ts';

type ReadBundle =
  | { readonly bundle: Bundle }
  | { readonly fault: 'not-json' | 'not-a-bundle' | 'not-canonical' };

/** Reads the text of a bundle, and nothing that is spelled otherwise. Never throws. */
export const readBundle = (text: string): ReadBundle => {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { fault: 'not-json' };
  }
  try {
    const parsed = bundleSchema.safeParse(value);
    if (!parsed.success) return { fault: 'not-a-bundle' };
    return bundleText(parsed.data) === text.replace(/\n$/, '')
      ? { bundle: parsed.data }
      : { fault: 'not-canonical' };
  } catch {
    return { fault: 'not-canonical' };
  }
};

/** A bundle in the place of a log, for whoever reads windows. */
export const bundleSource = (hash: Hash, bundle: Bundle): LogSource => ({
  *entries() {
    for (const { seq, text } of bundle.entries) yield { seq, text, leaf: leafOfText(hash, text) };
  },
  checkpoints: () => [bundle.checkpoint],
  block: (name) => {
    const text = Object.hasOwn(bundle.blocks, name) ? bundle.blocks[name] : undefined;
    return text === undefined ? undefined : fromBase64(text);
  },
  blockNames: () => Object.keys(bundle.blocks),
});
