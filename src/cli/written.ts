import { writeFile } from 'node:fs/promises';
import { EXIT, out, Stop } from './io.ts';

/** Writes a file and says so, where the output is for people. */
export const written = async (
  path: string,
  content: string | Uint8Array,
  options: { readonly json: boolean },
): Promise<void> => {
  await writeFile(path, content).catch((cause: unknown) => {
    throw new Stop(`${path} cannot be written: ${String(cause)}`, { exit: EXIT.io, cause });
  });
  if (!options.json) out(`written: ${path}`);
};
