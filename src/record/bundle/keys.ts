import type { Verify } from '../chain/checkpoint.ts';
import { followKeys, type SignatureFault } from '../chain/keychain.ts';
import type { Report } from '../types.ts';
import type { Bundle } from './bundle.ts';
import type { Line } from './windows.ts';

interface Look {
  readonly verify: Verify;
  readonly bundle: Bundle;
  readonly report: Report;
}

const CODES: Readonly<Record<SignatureFault, string>> = {
  'signature-missing': 'bundle-signature-false',
  'signature-wrong': 'bundle-signature-false',
  'signature-other-key': 'bundle-other-key',
};

/** From the key of the genesis, each handed on by the one before it, to the key that signed the checkpoint. */
export const checkKeys = ({ verify, bundle, report }: Look, lines: readonly Line[]): void => {
  // A proof that is false and one that is missing are the same here: the link says so.
  const keychain = followKeys(verify, (code, params, entry) => {
    if (code === 'key-unreadable') report(code, params, entry);
  });
  for (const { entry } of lines) keychain.take(entry, true);
  for (const { how, key, entry } of keychain.links())
    if (how === 'unproved') report('bundle-key-unproved', { key }, entry);
  const { checkpoint } = bundle;
  const fault = keychain.faultOf(checkpoint);
  if (fault !== undefined) report(CODES[fault], { key: checkpoint.key, size: checkpoint.size });
};
