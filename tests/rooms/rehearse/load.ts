import { existsSync, readFileSync } from 'node:fs';
import {
  faultText,
  readScenario,
  type ScenarioRead,
  scenarioFilesWanted,
} from '../../../src/config/index.ts';
import type { Scenario } from '../../../src/rehearse/index.ts';

/** Reads a scenario as the command does. */
export const load = (main: string, text = readFileSync(main, 'utf8')): ScenarioRead => {
  const files = new Map([[main, text]]);
  for (;;) {
    const wanted = scenarioFilesWanted(files, main).filter((path) => existsSync(path));
    if (wanted.length === 0) return readScenario(files, main);
    for (const path of wanted) files.set(path, readFileSync(path, 'utf8'));
  }
};

export const scenarioOf = (read: ScenarioRead): Scenario => {
  if ('scenario' in read) return read.scenario;
  throw new Error(read.faults.map(faultText).join('\n'));
};
