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
    const signed = (report.papers?.signing.signatures ?? []).map((one) => ({
      utc: one.utc,
      name: one.person.name,
      role: one.role,
      meaning: one.meaning,
      covers: one.covers.last,
      later: Object.values(one.since).reduce((sum, count) => sum + count, 0),
    }));
    const amended = report.papers?.amendments ?? [];
    await written(options.pdf, await reportPdf(report, { paper: options.paper, signed, amended }), options);
  }
  if (options.bundle === undefined) return;
  const { writeBundle } = await import('./report-page.ts');
  await writeBundle(log, [report.window], options.bundle, options);
};
