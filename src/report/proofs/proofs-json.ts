import { formatUtc, type Instant, type Phrase } from '../../measure/index.ts';
import { text } from '../../words/index.ts';
import type { DueList } from './due.ts';
import type { Matrix, MatrixCell } from './matrix.ts';
import { endOf } from './past-evidence.ts';
import type { Proof } from './proofs.ts';

/** Times in reasons are numbers of microseconds; scripts get them as UTC. */
const TIMES: ReadonlySet<string> = new Set(['at', 'due', 'grace', 'until', 'earliest', 'latest']);

export const reasonJson = (reason: Phrase) => ({
  code: reason.code,
  params: Object.fromEntries(
    Object.entries(reason.params).map(([key, value]) => [
      key,
      TIMES.has(key) && typeof value === 'number' ? formatUtc(value as Instant) : value,
    ]),
  ),
  text: text(reason),
});

const cellJson = ({ at, reason, ...cell }: MatrixCell) => ({
  ...cell,
  ...(at !== undefined && { at: formatUtc(at) }),
  ...(reason && { reason: reasonJson(reason) }),
});

/** When it is due again, and what was entered to put that off or to take it away. */
const datesJson = ({ dates, open }: Proof) => ({
  ...(dates && {
    due: formatUtc(dates.due),
    grace: formatUtc(dates.grace),
    ...(dates.deferred && { deferred: { ...dates.deferred, until: formatUtc(dates.deferred.until) } }),
  }),
  items: open,
});

/** The matrix as plain JSON; the same matrix gives the same bytes. */
export const matrixJson = (matrix: Matrix) => ({
  log: matrix.log,
  site: matrix.site,
  title: matrix.title,
  on: formatUtc(matrix.on),
  bookHash: matrix.bookHash,
  columns: matrix.columns,
  rows: matrix.rows.map(({ proof, cells, coverage, gaps, ...row }) => ({
    ...row,
    standing: proof.standing,
    ...(proof.standing === proof.beneath ? {} : { beneath: proof.beneath }),
    reasons: proof.reasons.map(reasonJson),
    ...(proof.pass && {
      passed: {
        window: proof.pass.window.id,
        at: formatUtc(proof.pass.window.closed ?? proof.pass.window.opened),
        method: proof.pass.past.method,
        ...(proof.revision !== undefined && { revision: proof.revision }),
      },
    }),
    ...(proof.last && {
      last: {
        window: proof.last.window.id,
        at: formatUtc(endOf(proof.last.window)),
        outcome: proof.last.past.verdict.outcome,
        demand: proof.last.past.demand,
      },
    }),
    proved: proof.proved,
    ...datesJson(proof),
    cells: cells.map(cellJson),
    coverage: coverage.map(({ at, ...one }) => ({ ...one, ...(at !== undefined && { at: formatUtc(at) }) })),
    gaps: gaps.map(reasonJson),
  })),
});

export const dueJson = (list: DueList) => ({
  log: list.log,
  site: list.site,
  title: list.title,
  on: formatUtc(list.on),
  rows: list.rows.map(({ due, passed, reasons, ...row }) => ({
    ...row,
    ...(due !== undefined && { due: formatUtc(due) }),
    ...(passed && { passed: { ...passed, at: formatUtc(passed.at) } }),
    reasons: reasons.map(reasonJson),
  })),
});
