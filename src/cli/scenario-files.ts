import { readFile } from 'node:fs/promises';
import { type Fault, readScenario, scenarioFilesWanted } from '../config/index.ts';
import type { Scenario } from '../rehearse/index.ts';
import { readText } from './site.ts';

/** A scenario with the files it names, and those that its site names; or every fault of them. */
export const loadScenario = async (
  main: string,
): Promise<{ readonly scenario: Scenario } | { readonly faults: readonly Fault[] }> => {
  const files = new Map([[main, await readText(main)]]);
  const missing = new Set<string>();
  for (;;) {
    const wanted = scenarioFilesWanted(files, main).filter((path) => !missing.has(path));
    if (wanted.length === 0) return readScenario(files, main);
    for (const path of wanted) {
      const text = await readFile(path, 'utf8').catch(() => undefined);
      if (text === undefined) missing.add(path);
      else files.set(path, text);
    }
  }
};
