import { writeFile } from 'node:fs/promises';
import type { Paper } from '../print/index.ts';
import type { WindowReport } from '../report/index.ts';
import { EXIT, out, Stop } from './io.ts';

/** Files that a report is written to beside what is shown. */
export interface OutputOptions {
  readonly json: boolean;
  readonly html?: string;
  readonly csv?: string;
  readonly csvEffects?: string;
  readonly junit?: string;
  readonly pdf?: string;
  readonly paper: Paper;
}

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

/** Everything that is asked for, in one go. */
export const writeOutputs = async (report: WindowReport, options: OutputOptions): Promise<void> => {
  const { effectsCsv, htmlReport, junitXml, verdictsCsv } = await import('../report/index.ts');
  const texts: readonly (readonly [string | undefined, (report: WindowReport) => string])[] = [
    [options.html, htmlReport],
    [options.csv, verdictsCsv],
    [options.csvEffects, effectsCsv],
    [options.junit, junitXml],
  ];
  for (const [path, textOf] of texts) if (path !== undefined) await written(path, textOf(report), options);
};
