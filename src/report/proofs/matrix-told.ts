import type { Instant, Reason } from '../../measure/index.ts';
import type { Covered } from './coverage.ts';
import type { Matrix, MatrixCell, MatrixColumn } from './matrix.ts';
import { endOf } from './past-evidence.ts';
import type { Standing } from './proofs.ts';

/** A row of the matrix without the verdicts that stand behind it. */
export interface MatrixRowTold {
  readonly interlock: string;
  readonly title: string;
  readonly machine: string;
  readonly hazard: string;
  readonly cause: string;
  readonly standing: Standing;
  /** How it would stand without a bypass. */
  readonly beneath: Standing;
  readonly reasons: readonly Reason[];
  /** The last test that passed in a way that counts. */
  readonly passed?: {
    readonly window: string;
    readonly at: Instant;
    readonly method: string;
    readonly revision?: string;
  };
  /** The last window that says anything of it. */
  readonly last?: { readonly window: string; readonly at: Instant };
  /** One for each column, in their order. */
  readonly cells: readonly MatrixCell[];
  readonly coverage: readonly Covered[];
  readonly gaps: readonly Reason[];
}

/** The matrix as it travels. Plain JSON; times in microseconds since 1970. */
export interface MatrixTold {
  readonly on: Instant;
  readonly columns: readonly MatrixColumn[];
  readonly rows: readonly MatrixRowTold[];
}

export const matrixTold = ({ on, columns, rows }: Matrix): MatrixTold => ({
  on,
  columns,
  rows: rows.map(({ proof, ...row }): MatrixRowTold => {
    const { standing, beneath, reasons, pass, last, revision } = proof;
    return {
      ...row,
      standing,
      beneath,
      reasons,
      ...(pass && {
        passed: {
          window: pass.window.id,
          at: endOf(pass.window),
          method: pass.past.method,
          ...(revision !== undefined && { revision }),
        },
      }),
      ...(last && { last: { window: last.window.id, at: endOf(last.window) } }),
    };
  }),
});
