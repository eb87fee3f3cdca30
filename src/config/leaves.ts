import { z } from 'zod';
import { kindOfUnit, type QuantityKind, unitsOf } from '../measure/index.ts';

/** What a single word or number in a file is, so that a fault can say what was wanted. */
export type Leaf =
  | { readonly as: 'quantity'; readonly kinds: readonly QuantityKind[] }
  | { readonly as: 'level'; readonly bare: 'normal' | undefined; readonly reduced: boolean }
  | { readonly as: 'contact' }
  | { readonly as: 'name' }
  | { readonly as: 'address' }
  | { readonly as: 'condition' }
  | { readonly as: 'word' };

export const LEAVES = z.registry<Leaf>();

const leaf = <T extends z.ZodType>(schema: T, what: Leaf): T => {
  LEAVES.add(schema, what);
  return schema;
};

const NUMBER = String.raw`[+-]?\d+(\.\d+)?([eE][+-]?\d+)?`;
const escaped = (unit: string): string => unit.replaceAll('/', '\\/');

/** A number with a unit of one of these kinds: `2 s`, `96 rpm`. */
export const quantity = (...kinds: readonly QuantityKind[]): z.ZodString => {
  const units = kinds.flatMap((kind) => unitsOf(kind));
  const pattern = new RegExp(`^${NUMBER}\\s*(${units.map(escaped).join('|')})$`);
  const schema = z
    .string()
    .regex(pattern)
    .describe(`A number and its unit: ${units.join(', ')}.`);
  return leaf(schema, { as: 'quantity', kinds });
};

/** Any quantity; which kind is right depends on the role. */
export const anyQuantity = (): z.ZodString =>
  leaf(z.string().describe('A number and its unit, such as 96 rpm or 80 degC.'), {
    as: 'quantity',
    kinds: [],
  });

export const level = (bare: 'normal' | undefined, what: string): z.ZodString =>
  leaf(
    z
      .string()
      .describe(
        `${what} For example 80 degC, 82 % of normal, 80 % of nameplate, normal - 10 rpm, 82 % of set-speed.`,
      ),
    {
      as: 'level',
      bare,
      reduced: false,
    },
  );

export const reduction = (): z.ZodString =>
  leaf(z.string().describe('How far below normal: reduced-by 18 % says the same as below 82 % of normal.'), {
    as: 'level',
    bare: 'normal',
    reduced: true,
  });

export const contact = () =>
  leaf(z.enum(['open', 'closed']).describe('What the contact is while all is well; never NO or NC.'), {
    as: 'contact',
  });

export const NAME = /^[A-Za-z0-9][A-Za-z0-9._-]*$/;
/** A name: letters, digits, dot, dash, underscore. */
export const name = (what: string): z.ZodString =>
  leaf(z.string().regex(NAME).describe(what), { as: 'name' });

/** One word: a state, a role, a path. */
export const word = (what: string): z.ZodString => leaf(z.string().min(1).describe(what), { as: 'word' });

export const address = () =>
  leaf(
    z
      .union([z.string(), z.int()])
      .describe(
        'hr:10, ir:3, coil:5, di:0 (counted from 0, as on the wire), 40011 or 400011 (counted from 1), 0x000A where table is said, or nsu=URI;s=ID.',
      ),
    { as: 'address' },
  );

export const CONDITION = /^([A-Za-z0-9._-]+)\s+is\s+([A-Za-z0-9._-]+)$/;
export const condition = (): z.ZodString =>
  leaf(z.string().regex(CONDITION).describe('ROLE is STATE'), { as: 'condition' });

export const text = (what: string): z.ZodString => z.string().min(1).describe(what);

/** True where a unit measures one of the kinds; any known unit where none is asked for. */
export const unitFits = (unit: string, kinds: readonly QuantityKind[]): boolean => {
  const kind = kindOfUnit(unit);
  if (kind === undefined) return false;
  return kinds.length === 0 || kinds.includes(kind);
};
