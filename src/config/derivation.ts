import { type Micros, SECOND } from '../measure/index.ts';
import type { Derivation } from '../signal/index.ts';
import type { DerivationFields } from './derivation-schema.ts';
import type { Place, Tell } from './fault.ts';
import { micros } from './quantities.ts';
import type { Loose } from './walk.ts';

/** A derivation as a person wrote it: its inputs are still names of roles or tags. */
export interface DerivationText {
  readonly as: Derivation['as'];
  readonly inputs: readonly string[];
  readonly gear?: number;
  readonly rank: number;
  readonly over: Micros;
  readonly per: Micros;
}

const KEYS = ['difference', 'ratio', 'slip', 'rate', 'mean', 'rank', 'spread'] as const;

/** Keys that say more about one derivation. */
const MORE: readonly (readonly [keyof DerivationFields, (typeof KEYS)[number]])[] = [
  ['gear', 'slip'],
  ['over', 'rate'],
  ['per', 'rate'],
  ['of', 'rank'],
];

export interface DerivationPlaces {
  /** Of the role or tag itself. */
  readonly key: Place;
  readonly of: (field: string) => Place;
  readonly keyOf: (field: string) => Place;
}

/** How many inputs it wants, at least and at most. */
const wanted = (text: Pick<DerivationText, 'as' | 'rank'>): readonly [least: number, most: number] => {
  if (text.as === 'difference' || text.as === 'ratio' || text.as === 'slip') return [2, 2];
  if (text.as === 'rate') return [1, 1];
  return [text.as === 'rank' ? Math.max(2, text.rank) : 2, Number.MAX_SAFE_INTEGER];
};

const inputsOf = (text: Loose<DerivationFields>, as: Derivation['as']): readonly string[] => {
  if (as === 'rate') return text.rate === undefined ? [] : [text.rate];
  return (text[as === 'rank' ? 'of' : as] ?? []).filter((input) => input !== undefined);
};

const checkShape = (
  read: DerivationText,
  text: Loose<DerivationFields>,
  at: DerivationPlaces,
  tell: Tell,
): void => {
  const [least, most] = wanted(read);
  const list = at.of(read.as === 'rank' ? 'of' : read.as);
  const said = read.inputs.length;
  if (said < least || said > most) tell(list, 'inputs-wanted', { as: read.as, wanted: least, said });
  if (new Set(read.inputs).size < said) tell(list, 'inputs-repeat', { as: read.as });
  if (read.as === 'rate' && text.over === undefined && !Object.hasOwn(text, 'over'))
    tell(at.key, 'missing-key', { key: 'over' });
  for (const key of ['gear', 'over', 'per'] as const)
    if (text[key] !== undefined && (read[key] ?? 1) <= 0) tell(at.of(key), 'not-positive', { key });
};

/** The derivation that a role or tag says; undefined where it says none (or what it says has been told). */
export const derivationOf = (
  text: Loose<DerivationFields>,
  at: DerivationPlaces,
  tell: Tell,
): DerivationText | undefined => {
  const said = KEYS.filter((key) => Object.hasOwn(text, key));
  if (said.length > 1) tell(at.key, 'one-derivation', { said, known: [...KEYS] });
  for (const [key, owner] of MORE) {
    if (Object.hasOwn(text, key) && !said.includes(owner))
      tell(at.keyOf(key), 'only-with', { key, with: `"${owner}"` });
  }
  const [as] = said;
  if (as === undefined) return undefined;
  const read: DerivationText = {
    as,
    inputs: inputsOf(text, as),
    rank: text.rank ?? 1,
    over: micros(text.over, 0),
    per: micros(text.per, 60 * SECOND),
    ...(text.gear === undefined ? {} : { gear: text.gear }),
  };
  checkShape(read, text, at, tell);
  return read;
};

/** What it gives is a difference of two values: a temperature then has no zero of its scale. */
export const isDifference = (as: Derivation['as'], ofDifferences: boolean): boolean =>
  as === 'difference' ||
  as === 'spread' ||
  as === 'rate' ||
  (ofDifferences && as !== 'ratio' && as !== 'slip');
