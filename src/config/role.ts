import type { QuantityKind } from '../measure/index.ts';
import type { DerivationText } from './derivation.ts';
import type { PURPOSES } from './pack-schema.ts';

export interface Role {
  readonly name: string;
  /** Names by code; empty for measured roles. */
  readonly states: readonly string[];
  readonly kinds: readonly QuantityKind[];
  readonly purpose: (typeof PURPOSES)[number];
  readonly optional: boolean;
  /** Worked out from other roles, unless a tag is bound to it. */
  readonly derivation?: DerivationText;
  /** A difference of two values: a temperature has no zero then. */
  readonly difference: boolean;
  /** Role that shows what the program makes of this raw input. */
  readonly mirrors?: string;
}
