import type { QuantityKind } from '../measure/index.ts';
import type { Place, Tell } from './fault.ts';
import type { TagText } from './site-schema.ts';
import type { Loose } from './walk.ts';

/** What the role that a tag is bound to wants of it. */
export interface TagUse {
  /** `machine.role`. */
  readonly role: string;
  readonly states: readonly string[];
  readonly kinds: readonly QuantityKind[];
  readonly contact: boolean;
  /** A difference of temperatures has no zero of its scale. */
  readonly difference: boolean;
}

export interface TagPlaces {
  readonly key: Place;
  readonly of: (field: string) => Place;
}

/** A tag while it is read: what was said, and where faults are told. */
export interface TagDesk {
  readonly tag: Loose<TagText>;
  readonly at: TagPlaces;
  readonly tell: Tell;
}

type Key = keyof TagText;

/** True where a key is there at all, right or wrong. */
export const says = ({ tag }: TagDesk, key: Key): boolean => Object.hasOwn(tag, key);

/** Told where a key is not there at all; one that is there and wrong has been told already. */
export const tellMissing = (desk: TagDesk, key: Key): void => {
  if (!says(desk, key)) desk.tell(desk.at.key, 'missing-key', { key });
};

/** Told for each of the keys that is there without what it goes with. */
export const tellAlone = (desk: TagDesk, keys: readonly Key[], goes: string): void => {
  for (const key of keys) if (says(desk, key)) desk.tell(desk.at.of(key), 'only-with', { key, with: goes });
};

/** True (and told) where two keys are there that say the same in two ways. */
export const clash = (desk: TagDesk, one: Key, other: Key): boolean => {
  if (!says(desk, one) || !says(desk, other)) return false;
  desk.tell(desk.at.of(other), 'keys-clash', { one, other });
  return true;
};
