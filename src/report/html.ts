import { OUTCOMES } from '../measure/index.ts';
import { formatInterval, formatTime, text } from '../words/index.ts';
import { cardHtml, markHtml } from './card.ts';
import { CAUTIONS, READING_RULES } from './cautions.ts';
import { contradictionsHtml } from './contradictions.ts';
import { DEMAND } from './demand.ts';
import { countOf, responseText, type Subject, subjectsOf, tripText } from './facts.ts';
import { escaped } from './markup.ts';
import { peopleHtml } from './people-html.ts';
import { type Field, NOT_STATED, statedFields, systemFields } from './sheet-record.ts';
import { STYLE } from './style.ts';
import type { WindowReport } from './types.ts';

const fieldRow = ({ name, value, code }: Field): readonly [string, string] => [
  name,
  value === undefined
    ? `<span class="tw-none">${NOT_STATED}</span>`
    : `<span${code ? ' class="tw-code"' : ''}>${escaped(value)}</span>`,
];

const list = (rows: readonly (readonly [string, string])[]): string =>
  `<dl>${rows.map(([name, value]) => `<dt>${escaped(name)}</dt><dd>${value}</dd>`).join('')}</dl>`;

const headHtml = (report: WindowReport): string => {
  const closed = report.closed === undefined ? 'not closed' : formatTime(report.closed);
  const tally = OUTCOMES.map(
    (outcome) => `<li>${markHtml(outcome)}<b>${countOf(report, outcome)}</b></li>`,
  ).join('');
  const standing = report.standing === 'closed' ? '' : ` · <strong>${report.standing.toUpperCase()}</strong>`;
  const kind = report.demand ? 'Record of a demand' : 'Verification of interlocks';
  const name = report.demand ? 'Demand' : 'Test window';
  const demand = report.demand
    ? `<p class="tw-demand"><strong><span aria-hidden="true">◆ </span>DEMAND</strong> ${escaped(DEMAND)}</p>`
    : '';
  return `<header class="tw-head"><p class="tw-sub">${kind}</p>
<h1>${escaped(report.book.title)}</h1>
<p class="tw-sub">${name} ${escaped(report.window)}${standing} · ${escaped(formatTime(report.opened))} … ${escaped(closed)}</p>
${demand}<ul class="tw-tally">${tally}</ul></header>`;
};

const summaryRow = (subject: Subject, key: string): string => {
  const { verdict } = subject.report;
  const reason = text(verdict.reasons[0], { unit: subject.unit });
  return `<tr><td>${markHtml(verdict.outcome)}</td><th scope="row"><a href="#${key}">${escaped(subject.interlock.name)}</a></th><td class="tw-num">${escaped(tripText(subject))}</td><td class="tw-num">${escaped(responseText(subject))}</td><td>${escaped(reason)}</td></tr>`;
};

const summaryHtml = (subjects: readonly Subject[]): string =>
  subjects.length === 0
    ? '<section aria-labelledby="summary"><h2 id="summary">Verdicts</h2><p class="tw-none">No interlock has a verdict.</p></section>'
    : `<section aria-labelledby="summary"><h2 id="summary">Verdicts</h2><div class="tw-scroll"><table><thead><tr><th scope="col">Verdict</th><th scope="col">Interlock</th><th scope="col">Trip point</th><th scope="col">Response</th><th scope="col">First reason</th></tr></thead><tbody>${subjects.map((one, index) => summaryRow(one, `i${index}`)).join('')}</tbody></table></div></section>`;

const recordHtml = (report: WindowReport, subjects: readonly Subject[]): string =>
  `<section aria-labelledby="record"><h2 id="record">The record</h2><div class="tw-two"><div>${list(systemFields(report, subjects).map(fieldRow))}</div><div>${list(statedFields(report).map(fieldRow))}</div></div>${notesHtml(report)}</section>`;

const notesHtml = (report: WindowReport): string => {
  if (report.notes.length === 0) return '';
  const rows = report.notes.map(
    ({ t, by, text: said }) =>
      `<tr><td class="tw-num">${escaped(formatInterval({ low: t, high: t }, 's'))}</td><td>${escaped(by)}</td><td>${escaped(said)}</td></tr>`,
  );
  return `<h4>What people said and did</h4><table><thead><tr><th scope="col">Time</th><th scope="col">Who</th><th scope="col">What</th></tr></thead><tbody>${rows.join('')}</tbody></table>`;
};

const items = (lines: readonly string[]): string =>
  `<ul>${lines.map((one) => `<li>${escaped(one)}</li>`).join('')}</ul>`;

const signatureHtml = (who: string): string =>
  `<div><div class="tw-sign"></div><p class="tw-sub">${who}, date</p></div>`;

/** Nobody tested where a demand was recorded. */
const signaturesHtml = (report: WindowReport): string =>
  `<section class="tw-signatures" aria-labelledby="signatures"><h2 id="signatures">Signatures</h2><div class="tw-two">${report.demand ? '' : signatureHtml('Tested by')}${signatureHtml('Reviewed by')}</div></section>`;

/** A page that stands alone: no network, no script, readable on screen and on paper, in colour or without. */
export const htmlReport = (report: WindowReport): string => {
  const subjects = subjectsOf(report);
  const cards = subjects.map((one, index) => cardHtml(report, one, `i${index}`)).join('\n');
  return `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${escaped(`${report.book.title}, ${report.demand ? 'demand' : 'window'} ${report.window}`)}</title><style>${STYLE}</style></head>
<body>${headHtml(report)}
<main>${contradictionsHtml(report)}${summaryHtml(subjects)}
<section aria-labelledby="details"><h2 id="details">Interlock by interlock</h2>${cards}</section>
${recordHtml(report, subjects)}
${peopleHtml(report)}
<section aria-labelledby="reading"><h2 id="reading">How to read the figures</h2>${items(READING_RULES)}</section>
<section class="tw-cautions" aria-labelledby="cautions"><h2 id="cautions">Cautions</h2>${items(CAUTIONS)}</section>
${signaturesHtml(report)}</main>
<footer>${report.demand ? 'Demand' : 'Window'} ${escaped(report.window)} · rules and site ${escaped(report.bookHash.slice(0, 12))} · made by tripwitness ${escaped(report.toolVersion)}. The log is the evidence; this page is a view of it.</footer>
</body></html>
`;
};
