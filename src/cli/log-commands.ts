import type { StoredWindow } from '../daemon/index.ts';
import { exitCodeOf } from '../measure/index.ts';
import { EXIT, out, Stop } from './io.ts';
import type { OutputOptions } from './report-outputs.ts';

export interface ReportOptions extends OutputOptions {
  readonly window?: string;
  readonly trace?: string;
  readonly marks?: string;
  readonly from?: string;
  readonly to?: string;
}

/** The window that is asked for, or the newest; ends with the names that there are. */
const chosenWindow = async (path: string, window: string | undefined): Promise<StoredWindow> => {
  const { readLog } = await import('../store/index.ts');
  const { storedWindow, windowNames } = await import('../daemon/index.ts');
  const reader = readLog(path);
  try {
    const entries = reader.parsed();
    const names = windowNames(entries);
    const id = window ?? names.at(-1);
    const stored = id === undefined ? undefined : storedWindow(reader, entries, id);
    if (stored !== undefined) return stored;
    const known = names.join(', ') || 'none';
    throw new Stop(`there is no window ${window ?? ''} in ${path}; there are: ${known}`, {
      exit: EXIT.usage,
    });
  } finally {
    reader.close();
  }
};

export const reportCommand = async (path: string, options: ReportOptions): Promise<number> => {
  if (options.from !== undefined || options.to !== undefined)
    return (await import('./report-page.ts')).periodCommand(path, options);
  const stored = await chosenWindow(path, options.window);
  if (options.trace !== undefined || options.marks !== undefined) {
    const { exportWindow } = await import('./export.ts');
    await exportWindow(stored, options);
  }
  const { reportFrom } = await import('../daemon/index.ts');
  const report = reportFrom(path, stored);
  await (await import('./report-outputs.ts')).writeOutputs(report, path, options);
  const { reportJson, terminalTable } = await import('../report/index.ts');
  if (options.json) out(reportJson(report));
  else out(terminalTable(report, { columns: 80, colour: process.stdout.isTTY }));
  return exitCodeOf(report.interlocks.map((one) => one.verdict.outcome));
};
