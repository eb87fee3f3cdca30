import type { Paper } from '../print/index.ts';
import type { WindowReport } from '../report/index.ts';
import { written } from './written.ts';

/** Files that a report is written to beside what is shown. */
export interface OutputOptions {
  readonly json: boolean;
  readonly html?: string;
  readonly bundle?: string;
  readonly csv?: string;
  readonly csvEffects?: string;
  readonly junit?: string;
  readonly pdf?: string;
  readonly paper: Paper;
}

/** Everything that is asked for, in one go. */
export const writeOutputs = async (
  report: WindowReport,
  log: string,
  options: OutputOptions,
): Promise<void> => {
  const { effectsCsv, junitXml, verdictsCsv } = await import('../report/index.ts');
  const { pageOf } = await import('../daemon/index.ts');
  const page = (): string => pageOf(log, { windows: [report.window] });
  const texts: readonly (readonly [string | undefined, (report: WindowReport) => string])[] = [
    [options.html, page],
    [options.csv, verdictsCsv],
    [options.csvEffects, effectsCsv],
    [options.junit, junitXml],
  ];
  for (const [path, textOf] of texts) if (path !== undefined) await written(path, textOf(report), options);
  if (options.pdf !== undefined) {
    const { reportPdf } = await import('../print/index.ts');
    await written(options.pdf, await reportPdf(report, { paper: options.paper }), options);
  }
  if (options.bundle === undefined) return;
  const { writeBundle } = await import('./report-page.ts');
  await writeBundle(log, [report.window], options.bundle, options);
};
