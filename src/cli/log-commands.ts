import type { StoredWindow } from '../daemon/index.ts';
import { exitCodeOf } from '../measure/index.ts';
import { EXIT, json, out, Stop } from './io.ts';
import type { OutputOptions } from './report-outputs.ts';

/** Judges the stored answers again and compares with what was entered. */
export const recheckCommand = async (path: string, options: { readonly json: boolean }): Promise<number> => {
  const { readLog } = await import('../store/index.ts');
  const { recheckWindow, storedWindow, windowNames } = await import('../daemon/index.ts');
  const reader = readLog(path);
  const entries = reader.parsed();
  const windows = windowNames(entries).map((id) => ({ id, stored: storedWindow(reader, entries, id) }));
  reader.close();
  const results = windows.flatMap(({ stored }) => (stored ? [recheckWindow(stored)] : []));
  const without = windows.flatMap(({ id, stored }) => (stored ? [] : [id]));
  const same = without.length === 0 && results.every((one) => one.same);
  if (options.json) json({ ok: same, windows: results, withoutBook: without });
  else {
    for (const id of without) out(`${id}: cannot be judged again, its rulebook is not in the log`);
    for (const one of results) {
      const engine =
        one.engine.entered === one.engine.now
          ? ''
          : ` (entered by engine ${one.engine.entered}, judged again by ${one.engine.now})`;
      out(`${one.window}: ${one.same ? 'the same' : 'NOT the same'}, ${one.findings} findings${engine}`);
      if (one.difference)
        out(
          `  finding ${one.difference.index}\n  entered ${one.difference.entered}\n  again   ${one.difference.again}`,
        );
      for (const entry of one.unreadable) out(`  entry ${entry}: its answers cannot be read`);
    }
    out(
      same
        ? `Judged again, the same: ${results.length === 1 ? '1 window' : `${results.length} windows`}`
        : 'Judged again, NOT the same',
    );
  }
  return same ? EXIT.ok : EXIT.fail;
};

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
