import type { Damage, Entry, Hash } from '../types.ts';
import { checkAmendments, followAmendments } from './people-amend.ts';
import { checkSignatures, followSignatures } from './signing.ts';

/** Holds signatures and corrections against what they speak of while a log is read through. */
export interface Paperwork {
  /** The next entry, with the hash of its text. */
  take(entry: Entry, leaf: string): void;
  damage(): readonly Damage[];
}

export const followPaperwork = (hash: Hash): Paperwork => {
  const signing = followSignatures(hash);
  const amending = followAmendments();
  return {
    take(entry, leaf) {
      signing.take(entry, leaf);
      amending.take(entry);
    },
    damage: () => [...checkSignatures(signing.signed()), ...checkAmendments(amending.amendments())],
  };
};
