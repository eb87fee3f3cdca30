/** As much of JSON Schema 2020-12 as the API is described in; a word that is not known here is a fault of its own. */
export type Schema = boolean | { readonly [word: string]: unknown };

const KNOWN = new Set([
  '$schema',
  '$ref',
  'id',
  'type',
  'properties',
  'required',
  'additionalProperties',
  'propertyNames',
  'items',
  'prefixItems',
  'anyOf',
  'oneOf',
  'allOf',
  'enum',
  'const',
  'default',
  'description',
  'minLength',
  'maxLength',
  'minItems',
  'maxItems',
  'minimum',
  'maximum',
  'exclusiveMinimum',
  'pattern',
]);

const isType = (value: unknown, type: unknown): boolean => {
  switch (type) {
    case 'object':
      return typeof value === 'object' && value !== null && !Array.isArray(value);
    case 'array':
      return Array.isArray(value);
    case 'integer':
      return Number.isInteger(value);
    case 'null':
      return value === null;
    default:
      return typeof value === type;
  }
};

const list = (value: unknown): readonly Schema[] => (Array.isArray(value) ? (value as Schema[]) : []);

const number = (value: number, schema: Readonly<Record<string, unknown>>, at: string): string[] => [
  ...(value < Number(schema['minimum'] ?? -Infinity) ? [`${at}: below`] : []),
  ...(value > Number(schema['maximum'] ?? Infinity) ? [`${at}: above`] : []),
  ...(value <= Number(schema['exclusiveMinimum'] ?? -Infinity) ? [`${at}: not above`] : []),
];

const text = (value: string, schema: Readonly<Record<string, unknown>>, at: string): string[] => [
  ...(value.length < Number(schema['minLength'] ?? 0) ? [`${at}: too short`] : []),
  ...(value.length > Number(schema['maxLength'] ?? Infinity) ? [`${at}: too long`] : []),
  ...('pattern' in schema && !new RegExp(String(schema['pattern']), 'u').test(value)
    ? [`${at}: pattern`]
    : []),
];

const array = (
  value: readonly unknown[],
  schema: Readonly<Record<string, unknown>>,
  at: string,
): string[] => {
  const first = list(schema['prefixItems']);
  return [
    ...(value.length < Number(schema['minItems'] ?? 0) ? [`${at}: too few`] : []),
    ...(value.length > Number(schema['maxItems'] ?? Infinity) ? [`${at}: too many`] : []),
    ...value.flatMap((one, index) =>
      faultsIn(one, first[index] ?? (schema['items'] as Schema | undefined) ?? true, `${at}[${index}]`),
    ),
  ];
};

const object = (
  value: Readonly<Record<string, unknown>>,
  schema: Readonly<Record<string, unknown>>,
  at: string,
): string[] => {
  const properties = (schema['properties'] ?? {}) as Readonly<Record<string, Schema>>;
  const rest = (schema['additionalProperties'] as Schema | undefined) ?? true;
  const names = (schema['propertyNames'] as Schema | undefined) ?? true;
  const missing = (schema['required'] ?? []) as readonly string[];
  return [
    ...missing.filter((name) => !Object.hasOwn(value, name)).map((name) => `${at}: no ${name}`),
    ...Object.entries(value).flatMap(([name, one]) => [
      ...faultsIn(name, names, `${at}.${name} (name)`),
      ...faultsIn(one, Object.hasOwn(properties, name) ? (properties[name] ?? true) : rest, `${at}.${name}`),
    ]),
  ];
};

const among = (value: unknown, schema: Readonly<Record<string, unknown>>, at: string): string[] => {
  const fits = (option: Schema): boolean => faultsIn(value, option, at).length === 0;
  const [any, one] = [list(schema['anyOf']), list(schema['oneOf'])];
  return [
    ...(any.length > 0 && !any.some(fits) ? [`${at}: fits none of ${any.length}`] : []),
    ...(one.length > 0 && one.filter(fits).length !== 1 ? [`${at}: fits not one of ${one.length}`] : []),
    ...list(schema['allOf']).flatMap((each) => faultsIn(value, each, at)),
  ];
};

/** Schemas with names of their own, by where they stand. */
let named: Readonly<Record<string, Schema>> = {};

/** From now on what is asked for by name is one of these. */
export const learnNames = (schemas: Readonly<Record<string, Schema>>): void => {
  named = Object.fromEntries(
    Object.entries(schemas).map(([name, schema]) => [`#/components/schemas/${name}`, schema]),
  );
};

/** Every way in which `value` is not what `schema` says. */
export const faultsIn = (value: unknown, schema: Schema, at = '$'): string[] => {
  if (schema === true) return [];
  if (schema === false) return [`${at}: not described`];
  const unknown = Object.keys(schema).filter((word) => !KNOWN.has(word));
  if (unknown.length > 0) return [`${at}: unknown words ${unknown.join()}`];
  const { type, enum: some, $ref } = schema;
  if (typeof $ref === 'string') return faultsIn(value, named[$ref] ?? false, at);
  if (type !== undefined && ![type].flat().some((one) => isType(value, one)))
    return [`${at}: ${JSON.stringify(value)} is no ${String(type)}`];
  if (Array.isArray(some) && !some.includes(value))
    return [`${at}: ${String(value)} is none of ${some.join()}`];
  if ('const' in schema && schema['const'] !== value)
    return [`${at}: ${String(value)} is not ${String(schema['const'])}`];
  const inside = among(value, schema, at);
  if (typeof value === 'number') return [...inside, ...number(value, schema, at)];
  if (typeof value === 'string') return [...inside, ...text(value, schema, at)];
  if (Array.isArray(value)) return [...inside, ...array(value, schema, at)];
  if (isType(value, 'object')) return [...inside, ...object(value as Record<string, unknown>, schema, at)];
  return inside;
};
