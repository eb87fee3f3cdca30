import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** Version of the program, as its package says. */
export const VERSION: string = (
  JSON.parse(readFileSync(fileURLToPath(new URL('../../package.json', import.meta.url)), 'utf8')) as {
    version: string;
  }
).version;
