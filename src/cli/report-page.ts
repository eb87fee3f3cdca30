import { bundleText, type Entry } from '../record/index.ts';
import { EXIT, out, Stop } from './io.ts';
import { written } from './written.ts';

const DAY = /^\d{4}-\d{2}-\d{2}$/;

/** Days in UTC, both inside. */
export interface Period {
  readonly from?: string;
  readonly to?: string;
}

const checked = (flag: string, day: string | undefined): void => {
  if (day !== undefined && !DAY.test(day))
    throw new Stop(`--${flag} ${day} is no day; write it as 2026-11-25`, { exit: EXIT.usage });
};

/** `2026-01-01 to 2026-03-31`, `up to …`, `from … on`. */
const nameOf = ({ from, to }: Period): string => {
  if (from === undefined) return `up to ${to ?? ''}`;
  return to === undefined ? `from ${from} on` : `${from} to ${to}`;
};

/** The windows that were opened in the period, and what a page calls it. Ends where there are none. */
export const periodWindows = (
  entries: readonly Entry[],
  period: Period,
  path: string,
): { readonly windows: readonly string[]; readonly period: string } => {
  checked('from', period.from);
  checked('to', period.to);
  const { from = '', to = '9999-12-31' } = period;
  const windows = entries.flatMap(({ kind, subject, utc }) =>
    kind === 'window-opened' && utc.slice(0, 10) >= from && utc.slice(0, 10) <= to ? [subject] : [],
  );
  const name = nameOf(period);
  if (windows.length === 0) throw new Stop(`no window was opened ${name} in ${path}`, { exit: EXIT.usage });
  return { windows, period: name };
};

/** Writes windows with their proofs, rulebook and answers, to be verified without the log. */
export const writeBundle = async (
  path: string,
  windows: readonly string[],
  file: string,
  options: { readonly json: boolean },
): Promise<void> => {
  const [{ readLog }, { bundleOf }] = await Promise.all([
    import('../store/index.ts'),
    import('../daemon/index.ts'),
  ]);
  const reader = readLog(path);
  const bundle = bundleOf(reader, reader.parsed(), windows);
  reader.close();
  if (bundle === undefined)
    throw new Stop(
      `${path} is not signed: it is from before logs had keys. Start the daemon on it once: it makes a key and signs; then make the bundle`,
      { exit: EXIT.data },
    );
  await written(file, `${bundleText(bundle)}\n`, options);
};

export interface PeriodOptions extends Period {
  readonly json: boolean;
  readonly html?: string;
  readonly bundle?: string;
}

/** All windows of a period as one page, one bundle, or both. */
export const periodCommand = async (path: string, options: PeriodOptions): Promise<number> => {
  if (options.html === undefined && options.bundle === undefined)
    throw new Stop('of a period there is a page and a bundle: add --html FILE or --bundle FILE', {
      exit: EXIT.usage,
    });
  const { readLog } = await import('../store/index.ts');
  const reader = readLog(path);
  const entries = reader.parsed();
  reader.close();
  const wish = periodWindows(entries, options, path);
  if (options.html !== undefined) {
    const { pageOf } = await import('../daemon/index.ts');
    await written(options.html, pageOf(path, wish), options);
  }
  if (options.bundle !== undefined) await writeBundle(path, wish.windows, options.bundle, options);
  if (options.json) out(JSON.stringify({ period: wish.period, windows: wish.windows }, null, 2));
  else out(`${wish.windows.length === 1 ? '1 window' : `${wish.windows.length} windows`}, ${wish.period}`);
  return EXIT.ok;
};
