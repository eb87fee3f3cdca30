import { writeFile } from 'node:fs/promises';
import { type Instant, parseUtc } from '../measure/index.ts';
import type { DueList, Known, Matrix, Urgency } from '../report/index.ts';
import { EXIT, json, out, Stop } from './io.ts';

/** The end of the named day, or now. */
export const onDay = (day: string | undefined): Instant => {
  if (day === undefined) return (Date.now() * 1_000) as Instant;
  const found = /^\d{4}-\d{2}-\d{2}$/.test(day) ? parseUtc(`${day}T23:59:59.999999Z`) : undefined;
  if (found === undefined)
    throw new Stop(`--on ${day} is no day; write YYYY-MM-DD, such as 2026-11-25`, { exit: EXIT.usage });
  return found;
};

/** What a log says at a time; ends where it holds no book yet. */
export const knownFrom = async (log: string, on: Instant): Promise<Known> => {
  const { historyFrom } = await import('../daemon/index.ts');
  const { knownAt } = await import('../report/index.ts');
  const known = knownAt(historyFrom(log), on);
  if (known === undefined)
    throw new Stop(
      `${log} holds no rulebook at that time, so nothing is known to be proved; name a later day, or the right log`,
      { exit: EXIT.data },
    );
  return known;
};

const MISSING: ReadonlySet<Urgency> = new Set([
  'bypassed',
  'impaired',
  'never',
  'inconclusive',
  'stale',
  'overdue',
]);

const exitOfDue = ({ rows }: DueList): number => {
  if (rows.some(({ urgency }) => urgency === 'failed')) return EXIT.fail;
  return rows.some(({ urgency }) => MISSING.has(urgency)) ? EXIT.undecided : EXIT.ok;
};

export const dueCommand = async (
  log: string,
  options: { readonly json: boolean; readonly on?: string },
): Promise<number> => {
  const { dueJson, dueList, dueText } = await import('../report/index.ts');
  const list = dueList(await knownFrom(log, onDay(options.on)));
  if (options.json) json(dueJson(list));
  else out(dueText(list));
  return exitOfDue(list);
};

const exitOfMatrix = ({ rows }: Matrix): number => {
  if (
    rows.some(
      ({ proof, cells }) => proof.standing === 'failed' || cells.some(({ state }) => state === 'failed'),
    )
  )
    return EXIT.fail;
  return rows.every(({ proof }) => proof.standing === 'proved') ? EXIT.ok : EXIT.undecided;
};

export interface MatrixOptions {
  readonly json: boolean;
  readonly on?: string;
  readonly machine: readonly string[];
  readonly html?: string;
  readonly xlsx?: string;
  readonly from?: string;
}

export const matrixCommand = async (log: string, options: MatrixOptions): Promise<number> => {
  if (options.from !== undefined) {
    const { compareMatrixSheet } = await import('./matrix-sheet.ts');
    return compareMatrixSheet(log, { json: options.json, from: options.from, machine: options.machine });
  }
  const { matrixJson, matrixOf, matrixText } = await import('../report/index.ts');
  const known = await knownFrom(log, onDay(options.on));
  const { refuseStrangeMachines, writeMatrixSheet } = await import('./matrix-sheet.ts');
  refuseStrangeMachines(known.book, options.machine);
  const matrix = matrixOf(known, new Set(options.machine));
  if (options.html !== undefined) {
    const { matrixHtml } = await import('../report/index.ts');
    await writeFile(options.html, matrixHtml(matrix)).catch((cause: unknown) => {
      throw new Stop(`${options.html} cannot be written: ${String(cause)}`, { exit: EXIT.io, cause });
    });
    if (!options.json) out(`written: ${options.html}`);
  }
  if (options.xlsx !== undefined) await writeMatrixSheet(known.book, options.xlsx, options, matrix);
  if (options.json) json(matrixJson(matrix));
  else out(matrixText(matrix));
  return exitOfMatrix(matrix);
};
