import { dirname, relative, resolve } from 'node:path';
import { writeTables } from '../config/index.ts';
import { EXIT, json, out, refuseFaults, Stop } from './io.ts';
import { writeNew } from './probe/site.ts';
import { filesOf, loadBook } from './site.ts';

export interface ExportOptions {
  readonly json: boolean;
  readonly tags?: string;
  readonly machines?: string;
  readonly site?: string;
}

const slashes = (path: string): string => path.replaceAll('\\', '/');

/** Tags and machines of a site as CSV, for a spreadsheet; they read back to the same. Never over files that are there. */
export const exportCommand = async (main: string, options: ExportOptions): Promise<number> => {
  const { tags, machines, site } = options;
  if (tags === undefined || machines === undefined)
    throw new Stop('export wants --tags FILE and --machines FILE', { exit: EXIT.usage });
  await loadBook(main, options.json);
  const home = dirname(resolve(site ?? main));
  const seen = (path: string): string => slashes(relative(home, resolve(path)));
  const names = {
    tags: seen(tags),
    machines: seen(machines),
    rule: (path: string) => seen(resolve(dirname(resolve(main)), path)),
  };
  const written = writeTables(await filesOf(main), main, names);
  if ('faults' in written) return refuseFaults(written.faults, options.json);
  await writeNew(tags, written.tags);
  await writeNew(machines, written.machines);
  if (site !== undefined) await writeNew(site, written.site);
  if (options.json) json({ ok: true, tags, machines, ...(site === undefined ? {} : { site }) });
  else if (site === undefined) {
    out(`In ${main}, take out "tags" and "machines" and write instead:`);
    out(`  tags-from: ${names.tags}\n  machines-from: ${names.machines}`);
  }
  return EXIT.ok;
};
