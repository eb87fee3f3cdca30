import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Fault, faultText } from '../../../src/config/index.ts';
import { FAULT_TEXTS } from '../../../src/config/messages.ts';
import { faultsOf, load, ROOT, readTexts } from './load.ts';

const BAD = `${ROOT}tests/rulebooks/bad/`;
const names = readdirSync(BAD).filter((name) => name.endsWith('.yaml'));

/** First line: `# wants 7:32 unknown-key address; 9:3 missing-role`. */
const wanted = (text: string): readonly string[] =>
  (/^# wants (.*)$/m.exec(text)?.[1] ?? '').split('; ').map((word) => word.trim());

/** Beside it stands what was probably meant, where it is said. */
const shown = (fault: Fault): string =>
  `${fault.line}:${fault.column} ${fault.code}${fault.suggestion === undefined ? '' : ` ${fault.suggestion}`}`;

const read = (name: string) => {
  if (!name.startsWith('pack-')) return load(`${BAD}${name}`);
  const site = `site: mill\nsources: { t: { protocol: trace, scan: 50 ms } }\nrules: [${name}]\n`;
  return readTexts('site.yaml', { 'site.yaml': site, [name]: readFileSync(`${BAD}${name}`, 'utf8') });
};

describe('wrong files, each named by what is wrong', () => {
  test.each(names)('%s', (name) => {
    const faults = faultsOf(read(name));
    expect(faults.map(shown)).toEqual(wanted(readFileSync(`${BAD}${name}`, 'utf8')));
    for (const fault of faults) {
      expect(FAULT_TEXTS).toHaveProperty([fault.code]);
      expect(faultText(fault)).not.toMatch(/[{}]|undefined/);
      expect(fault.file).toContain(name);
    }
  });
});
