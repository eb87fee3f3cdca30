import type { CellState, MatrixNow, MatrixRowNow } from '../../../api/index.ts';
import { STANDING_SHAPES, Standing } from '../../kit/standing.tsx';
import { hrefOf } from '../../state/route.ts';
import { say } from '../../text/say.ts';

type Cell = MatrixRowNow['cells'][number];

const wordOf = ({ state, marked }: Cell): string =>
  !marked && state === 'unwatched' ? say('proofs', 'unasked') : say('proofs', `state-${state}`);

/** A sign with its word for whoever cannot see it; the word stands in the legend for everybody else. */
const CellOf = ({ cell, row }: { readonly cell: Cell; readonly row: MatrixRowNow }) => {
  const { state, marked, window, effect } = cell;
  const shape = marked && state === 'unwatched' ? '○' : STANDING_SHAPES[state];
  const word = wordOf(cell);
  return (
    <td class={`cell ${state} ${marked ? 'marked' : ''}`}>
      {window === undefined ? (
        <span title={word}>
          <i aria-hidden="true">{shape}</i>
          <span class="unseen">{word}</span>
        </span>
      ) : (
        <a href={hrefOf(['records', window, row.interlock])} title={word}>
          <i aria-hidden="true">{shape}</i>
          <span class="unseen">{`${row.interlock}, ${effect}: ${word}`}</span>
        </a>
      )}
    </td>
  );
};

interface TableProps {
  readonly matrix: MatrixNow;
  readonly rows: readonly MatrixRowNow[];
}

/** Causes as rows, effects as columns (in the spirit of IEC 62881); only columns that one of the rows has to do with. */
export const MatrixTable = ({ matrix, rows }: TableProps) => {
  const shown = matrix.columns.flatMap((column, index) =>
    rows.some(({ cells }) => cells[index]?.marked || cells[index]?.state === 'cross-trip')
      ? [{ column, index }]
      : [],
  );
  const states = [
    ...new Set(rows.flatMap(({ cells }) => shown.map(({ index }) => cells[index]?.state ?? 'unwatched'))),
  ];
  return (
    <div class="card">
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard (WCAG 2.1.1) */}
      <section class="scroll" tabIndex={0} aria-label={say('proofs', 'matrix')}>
        <table class="matrix">
          <caption class="unseen">{say('proofs', 'summary')}</caption>
          <thead>
            <tr>
              <th scope="col">{say('proofs', 'cause')}</th>
              {shown.map(({ column }) => (
                <th scope="col" key={column.name}>
                  <span>{column.name}</span>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.interlock}>
                <th scope="row">
                  {row.interlock} <Standing state={row.standing} />
                </th>
                {shown.map(({ column, index }) => {
                  const cell = row.cells[index];
                  return cell === undefined ? (
                    <td key={column.name} />
                  ) : (
                    <CellOf key={column.name} cell={cell} row={row} />
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <p class="row legend">
        {states
          .filter((state: CellState) => state !== 'unwatched')
          .map((state) => (
            <Standing key={state} state={state} />
          ))}
      </p>
    </div>
  );
};
