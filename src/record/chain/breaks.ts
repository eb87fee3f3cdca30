import type { Damage, Entry, Hash } from '../types.ts';
import { keyFingerprint } from './fingerprint.ts';
import type { KeyLink } from './keychain.ts';

/** Places where a log goes on without a proof from what stands before it, in their order. */
export const breaksOf = (hash: Hash, keys: readonly KeyLink[], restored: readonly Entry[]): Damage[] => {
  const short = (key: string | undefined): string => (key === undefined ? '' : keyFingerprint(hash, key));
  const changed = keys.flatMap(({ entry, key, how }, index): Damage[] => {
    if (how === 'first') return [{ entry, reason: { code: 'key-first', params: { key: short(key) } } }];
    if (how !== 'unproved') return [];
    const params = { key: short(key), before: short(keys[index - 1]?.key) };
    return [{ entry, reason: { code: 'key-unproved', params } }];
  });
  const again = restored.map(({ seq, body }): Damage => {
    const params = { size: Number(body['size']), utc: String(body['utc']) };
    return { entry: seq, reason: { code: 'log-restored', params } };
  });
  return [...changed, ...again].sort((a, b) => (a.entry ?? 0) - (b.entry ?? 0));
};
