import type { Fault } from '../config/index.ts';
import type { Difference, Scenario } from '../rehearse/index.ts';
import { differences, perform } from '../rehearse/index.ts';
import { text } from '../words/index.ts';
import { hung } from './hung.ts';
import { EXIT, json, out, refuseFaults } from './io.ts';
import { loadScenario } from './scenario-files.ts';

interface Rehearsed {
  readonly file: string;
  readonly scenario: Scenario;
  readonly differences: readonly Difference[];
}

const tell = (one: Difference) => ({
  line: one.line,
  ...one.reason,
  text: text(one.reason, { unit: one.unit }),
  because: one.because.map((reason) => ({ ...reason, text: text(reason, { unit: one.unit }) })),
});

const lines = ({ file, scenario, differences: found }: Rehearsed): string[] => {
  if (found.length === 0) return hung(`${file}: ${scenario.title}`, 'ok       ');
  return [
    ...hung(`${file}: ${scenario.title}`, 'differs  '),
    ...found.flatMap((one) => [
      ...hung(`${file}:${one.line}: ${text(one.reason, { unit: one.unit })}`, '  ', '    '),
      ...one.because.flatMap((reason) =>
        hung(`${reason.code}: ${text(reason, { unit: one.unit })}`, '    ', '      '),
      ),
    ]),
  ];
};

const summary = (all: readonly Rehearsed[]): string => {
  const differing = all.filter((one) => one.differences.length > 0).length;
  const many = all.length === 1 ? '1 scenario' : `${all.length} scenarios`;
  return differing === 0 ? `${many}, all as expected.` : `${many}, ${differing} otherwise than expected.`;
};

/** Plays scenarios through the judge and says what came out otherwise than written. */
export const rehearseCommand = async (
  files: readonly string[],
  options: { json: boolean },
): Promise<number> => {
  const read = await Promise.all(files.map(async (file) => ({ file, read: await loadScenario(file) })));
  const faults = read.flatMap((one): readonly Fault[] => ('faults' in one.read ? one.read.faults : []));
  if (faults.length > 0) return refuseFaults(faults, options.json);
  const all = read.flatMap(({ file, read: one }): Rehearsed[] =>
    'scenario' in one
      ? [{ file, scenario: one.scenario, differences: differences(one.scenario, perform(one.scenario.play)) }]
      : [],
  );
  const exit = all.some((one) => one.differences.length > 0) ? EXIT.fail : EXIT.ok;
  if (options.json) {
    json({
      exit,
      scenarios: all.map((one) => ({
        file: one.file,
        title: one.scenario.title,
        ok: one.differences.length === 0,
        differences: one.differences.map(tell),
      })),
    });
    return exit;
  }
  for (const one of all) for (const line of lines(one)) out(line);
  out(summary(all));
  return exit;
};
