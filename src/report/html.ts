import { OUTCOMES } from '../measure/index.ts';
import { formatInterval, formatNumber, formatTime, text } from '../words/index.ts';
import { cardHtml, markHtml } from './card.ts';
import { CAUTIONS, READING_RULES } from './cautions.ts';
import { contradictionsHtml } from './contradictions.ts';
import { decisionText } from './decision-text.ts';
import { DEMAND } from './demand.ts';
import { countOf, responseText, type Subject, subjectsOf, tripText } from './facts.ts';
import { escaped } from './markup.ts';
import { STYLE } from './style.ts';
import type { WindowReport } from './types.ts';

const NOT_STATED = '<span class="tw-none">not stated</span>';

const stated = (value: string | undefined, css = ''): string =>
  value === undefined || value === ''
    ? NOT_STATED
    : `<span${css === '' ? '' : ` class="${css}"`}>${escaped(value)}</span>`;

/** Fields that a verification record should carry; blank ones are printed as such. */
const ASKED: readonly (readonly [string, string])[] = [
  ['area', 'Area'],
  ['procedure', 'Procedure'],
  ['permit', 'Permit'],
  ['lockout', 'Lock-out'],
  ['instrument', 'Instrument, serial, calibration due'],
  ['conditions', 'Machine empty, guards on, ambient'],
  ['observer', 'Observer'],
  ['listener', 'Alarm listener'],
  ['witness', 'Witness'],
  ['reviewer', 'Independent reviewer'],
  ['work-order', 'Work order'],
  ['follow-up', 'Punch items, deferrals'],
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

const pollText = (report: WindowReport): string =>
  report.polling
    .map(
      ({ source, least, median, most, lost }) =>
        `${source}: ${formatNumber(least)} / ${formatNumber(median)} / ${formatNumber(most)} s (least, median, most), ${lost} answers lost`,
    )
    .join('; ');

const revisionText = (report: WindowReport): string =>
  report.revisions
    .map(({ machine, opened, closed, quality }) => {
      const how = quality === 'tag' ? 'read from the controller' : 'typed in';
      const end = closed === undefined ? 'not read at the end' : `${closed} at the end`;
      return `${machine}: ${opened} at the start, ${end} (${how})`;
    })
    .join('; ');

/** Each decision rule, with the interlocks that are held against it where there is more than one. */
const decisionsText = (subjects: readonly Subject[]): string => {
  const rules = [...new Set(subjects.map(({ interlock }) => decisionText(interlock)))];
  if (rules.length < 2) return rules[0] ?? '';
  return rules
    .map((rule) => {
      const own = subjects.filter(({ interlock }) => decisionText(interlock) === rule);
      return `${own.map(({ interlock }) => interlock.name).join(', ')}: ${rule}`;
    })
    .join('. ');
};

const recordHtml = (report: WindowReport, subjects: readonly Subject[]): string => {
  const system: readonly (readonly [string, string])[] = [
    ['Site', stated(report.book.site)],
    ['Program revision', stated(revisionText(report))],
    ['Poll achieved', stated(pollText(report))],
    ['Decision rule', stated(decisionsText(subjects))],
    ['Rules and site, SHA-256', stated(report.bookHash, 'tw-code')],
    ['Judged by', stated(`engine ${report.engine}, tripwitness ${report.toolVersion}`)],
    ['Log', stated(report.log, 'tw-code')],
    [
      'Root of the log',
      stated(
        report.checkpoint && `${report.checkpoint.root} over ${report.checkpoint.size} entries`,
        'tw-code',
      ),
    ],
  ];
  const people = report.demand
    ? []
    : report.people.map(({ name, role }): readonly [string, string] => [role, stated(name)]);
  const asked = (report.demand ? [] : ASKED).map(([key, name]): readonly [string, string] => [
    name,
    stated(report.stated[key]),
  ]);
  const others = Object.entries(report.stated)
    .filter(([key]) => report.demand === true || !ASKED.some(([one]) => one === key))
    .map(([key, value]): readonly [string, string] => [key, stated(value)]);
  return `<section aria-labelledby="record"><h2 id="record">The record</h2><div class="tw-two"><div>${list(system)}</div><div>${list([...people, ...asked, ...others])}</div></div>${notesHtml(report)}</section>`;
};

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
<section aria-labelledby="reading"><h2 id="reading">How to read the figures</h2>${items(READING_RULES)}</section>
<section class="tw-cautions" aria-labelledby="cautions"><h2 id="cautions">Cautions</h2>${items(CAUTIONS)}</section>
${signaturesHtml(report)}</main>
<footer>${report.demand ? 'Demand' : 'Window'} ${escaped(report.window)} · rules and site ${escaped(report.bookHash.slice(0, 12))} · made by tripwitness ${escaped(report.toolVersion)}. The log is the evidence; this page is a view of it.</footer>
</body></html>
`;
};
