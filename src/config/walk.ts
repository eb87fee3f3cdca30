import { z } from 'zod';
import { allUnits, kindOfUnit, parseQuantity, unitsOf } from '../measure/index.ts';
import type { Place, Tell } from './fault.ts';
import { LEAVES, type Leaf, NAME, unitFits } from './leaves.ts';
import { parseLevel, reducedBy } from './level-text.ts';
import { nearest } from './suggest.ts';
import type { Entry, MapTree, Tree } from './tree.ts';

/** What could be read: anything may be missing, and what is missing has been told already. */
export type Loose<T> = T extends readonly (infer U)[]
  ? readonly (Loose<U> | undefined)[]
  : T extends object
    ? { readonly [K in keyof T]?: Loose<T[K]> | undefined }
    : T;

type Scalar = Extract<Tree, { kind: 'scalar' }>;

const NO_NC = /^n\.?\s?[oc]\.?$/i;
/** Normally open, normally closed: the words that mean opposite things to two people. */
export const isNoNc = (text: string): boolean =>
  NO_NC.test(text) || /^normally[\s_-]?(open|closed)$/i.test(text);

const quantityFault = (leaf: Extract<Leaf, { as: 'quantity' }>, tree: Scalar, tell: Tell): boolean => {
  const units = leaf.kinds.length === 0 ? allUnits() : leaf.kinds.flatMap(unitsOf);
  if (/^[+-]?\d+(\.\d+)?$/.test(tree.text)) {
    tell(tree.place, 'unit-missing', { text: tree.text, units });
    return true;
  }
  const read = typeof tree.value === 'string' ? parseQuantity(tree.value) : undefined;
  if (read === undefined || !/^[A-Za-z%]/.test(read.unit)) {
    tell(tree.place, 'not-a-quantity', { text: tree.text, units });
    return true;
  }
  if (unitFits(read.unit, leaf.kinds)) {
    const negative = kindOfUnit(read.unit) === 'time' && read.value < 0;
    if (negative) tell(tree.place, 'negative-time', { text: tree.text });
    return negative;
  }
  const kind = kindOfUnit(read.unit);
  if (kind === undefined)
    tell(tree.place, 'unknown-unit', { unit: read.unit, units }, nearest(read.unit, units));
  else
    tell(tree.place, 'wrong-unit', {
      unit: read.unit,
      measures: kind,
      wanted: leaf.kinds.join(' or '),
      units,
    });
  return true;
};

const levelFault = (leaf: Extract<Leaf, { as: 'level' }>, tree: Scalar, tell: Tell): boolean => {
  if (/^[+-]?\d+(\.\d+)?$/.test(tree.text)) {
    tell(tree.place, 'unit-missing', {
      text: tree.text,
      units: ['% of normal', '% of nameplate', ...allUnits()],
    });
    return true;
  }
  const read = leaf.reduced ? reducedBy(tree.text) : parseLevel(tree.text, leaf.bare);
  // Of what a percentage is depends on the role: that is told by who knows the role.
  if (!('fault' in read) || read.fault === 'percent-of-what') return false;
  const unit = read.unit ?? '';
  const meant = read.fault === 'unknown-unit' ? nearest(unit, allUnits()) : undefined;
  tell(tree.place, read.fault, { text: tree.text, unit, units: allUnits() }, meant);
  return true;
};

/** True (and told) where a scalar is not what its leaf wants. */
const leafFault = (leaf: Leaf, tree: Scalar, tell: Tell): boolean => {
  if (leaf.as === 'quantity') return quantityFault(leaf, tree, tell);
  if (leaf.as === 'level') return levelFault(leaf, tree, tell);
  if (leaf.as === 'contact') {
    if (tree.value === 'open' || tree.value === 'closed') return false;
    if (isNoNc(tree.text)) tell(tree.place, 'contact-no-nc', { text: tree.text });
    else
      tell(
        tree.place,
        'unknown-word',
        { word: tree.text, known: ['open', 'closed'] },
        nearest(tree.text, ['open', 'closed']),
      );
    return true;
  }
  if (leaf.as === 'condition') {
    if (/^\S+\s+is\s+\S+$/.test(tree.text)) return false;
    tell(tree.place, 'not-a-condition', { text: tree.text });
    return true;
  }
  if (leaf.as === 'name' && tree.value !== null && !NAME.test(tree.text)) {
    tell(tree.place, 'not-a-name', { text: tree.text });
    return true;
  }
  if (leaf.as === 'address') return false;
  if (isNoNc(tree.text)) {
    tell(tree.place, 'contact-no-nc', { text: tree.text });
    return true;
  }
  return false;
};

const wordFault = (tree: Scalar, known: readonly string[], tell: Tell): undefined => {
  tell(tree.place, 'unknown-word', { word: tree.text, known }, nearest(tree.text, known));
};

/** A plain value: text, number, true or false, one of some words. */
const plain = (schema: z.ZodType, tree: Scalar, tell: Tell): unknown => {
  if (schema instanceof z.ZodEnum) {
    const known = schema.options.map(String);
    return known.includes(tree.text) ? tree.text : wordFault(tree, known, tell);
  }
  if (schema instanceof z.ZodLiteral) {
    const known = [...schema.values].map(String);
    return known.includes(tree.text) ? tree.text : wordFault(tree, known, tell);
  }
  const value = tree.loose && schema instanceof z.ZodString ? tree.text : tree.value;
  const parsed = schema.safeParse(value);
  if (parsed.success) return parsed.data;
  const issue = parsed.error.issues[0];
  if (schema instanceof z.ZodBoolean) tell(tree.place, 'not-true-false', { text: tree.text });
  else if (schema instanceof z.ZodNumber) {
    const range = issue?.code === 'too_big' || issue?.code === 'too_small';
    const bounds = {
      low: schema.minValue ?? Number.MIN_SAFE_INTEGER,
      high: schema.maxValue ?? Number.MAX_SAFE_INTEGER,
    };
    if (range)
      tell(tree.place, 'number-out-of-range', { text: tree.text, low: bounds.low, high: bounds.high });
    else tell(tree.place, schema.isInt ? 'not-a-whole-number' : 'not-a-number', { text: tree.text });
  } else tell(tree.place, 'not-text', { text: tree.text });
  return undefined;
};

const leafValue = (leaf: Leaf, schema: z.ZodType, tree: Scalar, tell: Tell): unknown => {
  // As written: 0x000A says more than the number that YAML makes of it.
  if (leaf.as === 'address' && typeof tree.value === 'number') return tree.text;
  return leafFault(leaf, tree, tell) ? undefined : plain(schema, tree, tell);
};

const optionFor = (schema: z.ZodUnion, tree: Tree, tell: Tell): z.ZodType | undefined => {
  const options = schema.options.map((option) => option as z.ZodType);
  if (tree.kind === 'list') return options.find((option) => option instanceof z.ZodArray);
  if (tree.kind === 'scalar') {
    const scalars = options.filter(
      (option) => !(option instanceof z.ZodArray || option instanceof z.ZodObject),
    );
    return scalars.find((option) => option.safeParse(tree.value).success) ?? scalars[0];
  }
  const objects = options.filter((option) => option instanceof z.ZodObject);
  if (objects.length < 2) return objects[0];
  return discriminated(objects, tree, tell);
};

const discriminated = (objects: readonly z.ZodObject[], tree: MapTree, tell: Tell): z.ZodType | undefined => {
  const key =
    Object.keys(objects[0]?.shape ?? {}).find((name) => objects[0]?.shape[name] instanceof z.ZodLiteral) ??
    '';
  const said = tree.entries.find((entry) => entry.key === key)?.value;
  const known = objects.flatMap((option) => {
    const literal = option.shape[key];
    return literal instanceof z.ZodLiteral ? [...literal.values].map(String) : [];
  });
  if (said?.kind !== 'scalar') {
    tell(tree.place, 'missing-key', { key, known });
    return undefined;
  }
  const index = known.indexOf(said.text);
  if (index < 0) wordFault(said, known, tell);
  return objects[index];
};

/** Told; the key that was meant is given back where it is plain, so that its absence is not told as well. */
const unknownKey = (entry: Entry, known: readonly string[], tell: Tell): string | undefined => {
  if (entry.value.kind === 'scalar' && isNoNc(entry.value.text)) {
    if (known.includes('healthy')) return 'healthy';
    tell(entry.value.place, 'contact-no-nc', { text: entry.value.text });
    return undefined;
  }
  const meant = nearest(entry.key, known);
  tell(entry.place, 'unknown-key', { key: entry.key, known }, meant);
  return meant;
};

const object = (schema: z.ZodObject, tree: MapTree, owner: Place, tell: Tell): unknown => {
  const known = Object.keys(schema.shape);
  const read: Record<string, unknown> = {};
  for (const entry of tree.entries) {
    const right = Object.hasOwn(schema.shape, entry.key);
    const key = right ? entry.key : unknownKey(entry, known, tell);
    const field = key === undefined ? undefined : schema.shape[key];
    if (key === undefined || field === undefined || (!right && Object.hasOwn(read, key))) continue;
    read[key] = walk(field as z.ZodType, entry.value, entry.place, tell);
  }
  for (const key of known) {
    const optional = schema.shape[key] instanceof z.ZodOptional;
    if (!optional && !Object.hasOwn(read, key)) tell(owner, 'missing-key', { key });
  }
  return read;
};

const record = (schema: z.ZodRecord, tree: MapTree, tell: Tell): unknown => {
  const read: Record<string, unknown> = Object.create(null) as Record<string, unknown>;
  for (const entry of tree.entries) {
    if (!NAME.test(entry.key)) tell(entry.place, 'not-a-name', { text: entry.key });
    else read[entry.key] = walk(schema.valueType as z.ZodType, entry.value, entry.place, tell);
  }
  return read;
};

/**
 * Reads a tree by its schema as far as it goes: a fault in one place never hides a fault in another.
 * `owner` is where the key stands that the value belongs to.
 */
export const walk = (schema: z.ZodType, tree: Tree, owner: Place, tell: Tell): unknown => {
  if (schema instanceof z.ZodOptional) return walk(schema.unwrap() as z.ZodType, tree, owner, tell);
  if (tree.kind === 'scalar' && tree.told === true) return undefined;
  if (tree.kind === 'scalar' && tree.value === null) {
    tell(owner, 'empty-value');
    return undefined;
  }
  const leaf = LEAVES.get(schema);
  if (leaf !== undefined && tree.kind === 'scalar') return leafValue(leaf, schema, tree, tell);
  if (schema instanceof z.ZodUnion) {
    const option = optionFor(schema, tree, tell);
    if (option !== undefined) return walk(option, tree, owner, tell);
    const wanted = [...new Set(schema.options.map((one) => shapeWanted(one as z.ZodType)))].join(' or ');
    if (tree.kind !== 'map') tell(tree.place, 'wrong-shape', { found: tree.kind, wanted });
    return undefined;
  }
  if (schema instanceof z.ZodObject && tree.kind === 'map') return object(schema, tree, owner, tell);
  if (schema instanceof z.ZodRecord && tree.kind === 'map') return record(schema, tree, tell);
  if (schema instanceof z.ZodArray && tree.kind === 'list') {
    return tree.items.map((item) => walk(schema.element as z.ZodType, item, item.place, tell));
  }
  const wantsMany =
    schema instanceof z.ZodObject || schema instanceof z.ZodRecord || schema instanceof z.ZodArray;
  if (tree.kind === 'scalar' && !wantsMany) return plain(schema, tree, tell);
  tell(tree.kind === 'scalar' ? tree.place : owner, 'wrong-shape', {
    found: tree.kind,
    wanted: shapeWanted(schema),
  });
  return undefined;
};

const shapeWanted = (schema: z.ZodType): string => {
  if (schema instanceof z.ZodArray) return 'list';
  return schema instanceof z.ZodObject || schema instanceof z.ZodRecord ? 'map' : 'scalar';
};
