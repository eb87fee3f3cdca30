import { z } from 'zod';
import { PackFile } from './pack-schema.ts';
import { SiteFile } from './site-schema.ts';

const schemaText = (schema: z.ZodType, title: string): string =>
  `${JSON.stringify({ title, ...z.toJSONSchema(schema, { io: 'input' }) }, null, 2)}\n`;

/** JSON Schema (draft 2020-12) of a site file, for editors. What only the reader can know is not in it. */
export const siteSchemaText = (): string => schemaText(SiteFile, 'Site');

/** JSON Schema of a rule file. */
export const packSchemaText = (): string => schemaText(PackFile, 'Rules of one kind of machine');
