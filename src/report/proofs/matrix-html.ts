import { SEGMENTS, type Segment } from '../../measure/index.ts';
import { formatTime, TERMS, text } from '../../words/index.ts';
import { CAUTIONS } from '../cautions.ts';
import { escaped } from '../markup.ts';
import { STYLE } from '../page/style.ts';
import type { Covered } from './coverage.ts';
import { dayText, itemText } from './due-text.ts';
import type { CellState, Matrix, MatrixCell, MatrixRow } from './matrix.ts';
import { MATRIX_STYLE } from './matrix-style.ts';
import { STANDING_MARKS } from './standing-marks.ts';

const mark = (state: CellState): string => {
  const [shape, word] = STANDING_MARKS[state];
  return `<span class="tw-standing tw-is-${state}"><i aria-hidden="true">${shape}</i> ${word}</span>`;
};

const legendHtml = (): string => {
  const told: readonly (readonly [CellState, string])[] = [
    ['proved', 'passed a test, and nothing has changed since'],
    ['failed', 'failed in a test or when it was needed, and has not passed since'],
    ['inconclusive', 'was tested, and the evidence does not decide'],
    ['never', 'no test of it is in the log'],
    ['stale', 'passed once; program, rule or wiring is another now'],
    ['overdue', 'passed too long ago'],
    ['bypassed', 'protects nobody while the bypass is on'],
    ['cross-trip', 'acted, although nothing says that it should'],
    ['quiet', 'not marked; watched in a test that passed, nothing acted unexplained'],
  ];
  return `<dl class="tw-legend">${told.map(([state, means]) => `<dt>${mark(state)}</dt><dd>${means}</dd>`).join('')}</dl>`;
};

const cellHtml = (cell: MatrixCell): string => {
  const { state, marked, wanted, window, at, revision, reason } = cell;
  if (state === 'unwatched' && !marked) return '<td class="tw-cell"></td>';
  const facts = [
    wanted ?? '',
    at === undefined ? '' : `${dayText(at)}, ${window ?? ''}`,
    revision === undefined ? '' : `revision ${revision}`,
    state === 'cross-trip' && reason ? text(reason) : '',
  ].filter((one) => one !== '');
  const quiet = state === 'quiet';
  const [shape, word] = STANDING_MARKS[state];
  const told = quiet
    ? `<span class="tw-quiet" title="${escaped(facts.join(' · '))}">${shape}<span class="tw-hidden"> ${word}</span></span>`
    : `${mark(state)}${facts.map((fact) => `<small>${escaped(fact)}</small>`).join('')}`;
  return `<td class="tw-cell${marked ? ' tw-marked' : ''}">${told}</td>`;
};

const gridHtml = (rows: readonly MatrixRow[], matrix: Matrix): string => {
  const used = matrix.columns.flatMap((column, index) =>
    rows.some(({ cells }) => cells[index]?.marked === true || cells[index]?.state === 'cross-trip')
      ? [{ column, index }]
      : [],
  );
  const heads = used
    .map(({ column }) => `<th scope="col"><span class="tw-effect">${escaped(column.name)}</span></th>`)
    .join('');
  const body = rows
    .map(
      (row) =>
        `<tr><th scope="row">${mark(row.proof.standing)}<b>${escaped(row.interlock)}</b><small>${escaped(row.cause)}</small></th>${used
          .map(({ index }) => {
            const cell = row.cells[index];
            return cell === undefined ? '<td></td>' : cellHtml(cell);
          })
          .join('')}</tr>`,
    )
    .join('');
  return `<div class="tw-scroll"><table class="tw-matrix"><thead><tr><th scope="col">Cause</th>${heads}</tr></thead><tbody>${body}</tbody></table></div>`;
};

const COVERED: Readonly<Record<Covered['standing'], string>> = {
  proved: '✔',
  stale: '≠ stale',
  old: '! long ago',
  never: '○ never',
};

const chainCell = (covered: Covered | undefined): string => {
  if (covered === undefined) return '<td class="tw-no-part">–</td>';
  const { standing, at, window } = covered;
  const facts =
    at === undefined ? '' : `<small>${dayText(at)}</small><small>${escaped(window ?? '')}</small>`;
  return `<td class="tw-part tw-part-${standing}"><b>${COVERED[standing]}</b>${facts}</td>`;
};

const chainHtml = (rows: readonly MatrixRow[]): string => {
  const segments = SEGMENTS.filter((segment) =>
    rows.some(({ coverage }) => coverage.some((one) => one.segment === segment)),
  );
  const body = rows
    .map(({ interlock, coverage }) => {
      const of = (segment: Segment): Covered | undefined => coverage.find((one) => one.segment === segment);
      return `<tr><th scope="row">${escaped(interlock)}</th>${segments.map((segment) => chainCell(of(segment))).join('')}</tr>`;
    })
    .join('');
  const heads = segments.map((segment) => `<th scope="col">${TERMS.segments[segment]}</th>`).join('');
  return `<h3>The chain, part by part</h3><p class="tw-sub">The newest test that proved each part, over all tests.</p><div class="tw-scroll"><table class="tw-chain-table"><thead><tr><th scope="col">Interlock</th>${heads}</tr></thead><tbody>${body}</tbody></table></div>`;
};

const toDo = ({ interlock, proof, gaps }: MatrixRow): string => {
  const told = [
    ...proof.reasons.map((reason) => text(reason)),
    ...gaps.map((reason) => text(reason)),
    ...proof.open.map(itemText),
  ];
  return told.length === 0
    ? ''
    : `<dt>${escaped(interlock)}</dt><dd>${told.map((one) => `<p>${escaped(one)}</p>`).join('')}</dd>`;
};

const machineHtml = (machine: string, matrix: Matrix): string => {
  const rows = matrix.rows.filter((row) => row.machine === machine);
  const todo = rows.map(toDo).join('');
  return `<section><h2>${escaped(machine)}</h2>${gridHtml(rows, matrix)}${chainHtml(rows)}${
    todo === '' ? '' : `<h3>What is to be known and done</h3><dl class="tw-todo">${todo}</dl>`
  }</section>`;
};

/** The matrix as a page that stands alone: no network, no script, readable in black and white. */
export const matrixHtml = (matrix: Matrix): string => {
  const machines = [...new Set(matrix.rows.map(({ machine }) => machine))];
  const states = (Object.keys(STANDING_MARKS) as CellState[]).flatMap((state) => {
    const count = matrix.rows.filter(({ proof }) => proof.standing === state).length;
    return count === 0 ? [] : [`<li>${mark(state)}<b>${count}</b></li>`];
  });
  return `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${escaped(`${matrix.title}, causes and effects on ${dayText(matrix.on)}`)}</title><style>${STYLE}${MATRIX_STYLE}</style></head>
<body class="tw-matrix-page"><header class="tw-head"><p class="tw-sub">Causes and effects: what is proved</p>
<h1>${escaped(matrix.title)}</h1><p class="tw-sub">as of ${formatTime(matrix.on)}</p><ul class="tw-tally">${states.join('')}</ul></header>
<main>${machines.map((machine) => machineHtml(machine, matrix)).join('\n')}
<section><h2>The marks</h2>${legendHtml()}</section>
<section class="tw-cautions"><h2>Cautions</h2><ul>${CAUTIONS.slice(0, 1)
    .map((one) => `<li>${escaped(one)}</li>`)
    .join('')}</ul></section></main>
<footer>Log ${escaped(matrix.log)} · rules and site ${escaped(matrix.bookHash.slice(0, 12))}. The log is the evidence; this page is a view of it.</footer>
</body></html>
`;
};
