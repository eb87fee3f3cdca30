/** Every file under tests/scenarios comes out as it says. */
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { differences, perform } from '../../../src/rehearse/index.ts';
import { text } from '../../../src/words/index.ts';
import { load, scenarioOf } from './load.ts';

const FOLDER = fileURLToPath(new URL('../../scenarios/', import.meta.url));
const names = readdirSync(FOLDER).filter((name) => name.endsWith('.scenario'));

const played = (name: string): readonly string[] => {
  const scenario = scenarioOf(load(`${FOLDER}${name}`));
  return differences(scenario, perform(scenario.play)).map(
    (one) => `${one.line}: ${text(one.reason)} ${one.because.map(({ code }) => code).join(', ')}`,
  );
};

test.each(names)('%s', (name) => {
  expect(played(name)).toEqual([]);
});
