import type { z } from 'zod';
import type { Tell } from './fault.ts';
import type { SiteFile } from './site-schema.ts';

export type SiteText = z.infer<typeof SiteFile>;

/** Files as they were handed in, and how to tell what is wrong with them. */
export interface Desk {
  readonly files: ReadonlyMap<string, string>;
  readonly main: string;
  readonly texts: Map<string, string>;
  readonly tell: Tell;
  readonly warn: Tell;
}
