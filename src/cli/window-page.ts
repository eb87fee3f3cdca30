import { reportOf, windowsOf } from '../daemon/index.ts';
import { htmlReport } from '../report/index.ts';
import { auditFile, readLog } from '../store/index.ts';

/** The page of a window in the log; undefined where there is none of that name. */
export const windowPage = (path: string, id: string): string | undefined => {
  const reader = readLog(path);
  const entries = reader.parsed();
  const stored = windowsOf(reader, entries).find((one) => one.id === id);
  reader.close();
  if (stored === undefined) return undefined;
  const { entries: size, root } = auditFile(path);
  return htmlReport(
    reportOf(stored, { log: String(entries[0]?.body['log'] ?? ''), checkpoint: { size, root } }),
  );
};
