import { OUTCOMES } from '../../measure/index.ts';
import { formatInterval, formatTime, TERMS, text } from '../../words/index.ts';
import { CAUTIONS, READING_RULES } from '../cautions.ts';
import { countOf, responseText, type Subject, subjectsOf, tripText } from '../facts.ts';
import { escaped } from '../markup.ts';
import { type Field, NOT_STATED, statedFields, systemFields } from '../sheet/record.ts';
import type { WindowReport } from '../types.ts';
import { cardHtml, markHtml } from './card.ts';
import { contradictionsHtml } from './contradictions.ts';
import { DEMAND } from './demand.ts';
import { checkHtml, cspHash, evidenceHtml, footHtml, type PageParts, pageStyle } from './evidence.ts';
import { pageDigest } from './page-digest.ts';
import { peopleHtml } from './people-html.ts';
import { missingHtml } from './record-html.ts';
import { STYLE } from './style.ts';

const fieldRow = ({ name, value, code, fact }: Field): readonly [string, string] => [
  name,
  value === undefined
    ? `<span class="tw-none">${NOT_STATED}</span>`
    : `<span${code ? ' class="tw-code"' : ''}${fact ? ` data-fact="${fact}"` : ''}>${escaped(value)}</span>`,
];

const list = (rows: readonly (readonly [string, string])[]): string =>
  `<dl>${rows.map(([name, value]) => `<dt>${escaped(name)}</dt><dd>${value}</dd>`).join('')}</dl>`;

const headHtml = (report: WindowReport): string => {
  const closed = report.closed === undefined ? 'not closed' : formatTime(report.closed);
  const tally = OUTCOMES.map(
    (outcome) => `<li>${markHtml(outcome)}<b data-fact="count">${countOf(report, outcome)}</b></li>`,
  ).join('');
  const standing = report.standing === 'closed' ? '' : ` · <strong>${report.standing.toUpperCase()}</strong>`;
  const kind = report.demand ? 'Record of a demand' : 'Verification of interlocks';
  const name = report.demand ? 'Demand' : 'Test window';
  const demand = report.demand
    ? `<p class="tw-demand"><strong><span aria-hidden="true">◆ </span>DEMAND</strong> ${escaped(DEMAND)}</p>`
    : '';
  return `<header class="tw-head"><p class="tw-sub">${kind}</p>
<h1 data-fact="title">${escaped(report.book.title)}</h1>
<p class="tw-sub">${name} <span data-fact="window">${escaped(report.window)}</span>${standing} · <span data-fact="opened">${escaped(formatTime(report.opened))}</span> … <span data-fact="closed">${escaped(closed)}</span></p>
${demand}<ul class="tw-tally">${tally}</ul></header>`;
};

const summaryRow = (subject: Subject, key: string): string => {
  const { verdict } = subject.report;
  const reason = text(verdict.reasons[0], { unit: subject.unit });
  return `<tr><td>${markHtml(verdict.outcome, 'outcome')}</td><th scope="row"><a href="#${key}" data-fact="interlock">${escaped(subject.interlock.name)}</a></th><td class="tw-num" data-fact="trip">${escaped(tripText(subject))}</td><td class="tw-num" data-fact="response">${escaped(responseText(subject))}</td><td>${escaped(reason)}</td></tr>`;
};

const summaryHtml = (subjects: readonly Subject[], prefix: string): string => {
  const id = `${prefix}summary`;
  return subjects.length === 0
    ? `<section aria-labelledby="${id}"><h2 id="${id}">Verdicts</h2><p class="tw-none">No interlock has a verdict.</p></section>`
    : `<section aria-labelledby="${id}"><h2 id="${id}">Verdicts</h2><div class="tw-scroll"><table><thead><tr><th scope="col">Verdict</th><th scope="col">Interlock</th><th scope="col">Trip point</th><th scope="col">Response</th><th scope="col">First reason</th></tr></thead><tbody>${subjects.map((one, index) => summaryRow(one, `${prefix}i${index}`)).join('')}</tbody></table></div></section>`;
};

const recordHtml = (report: WindowReport, subjects: readonly Subject[], prefix: string): string =>
  `<section aria-labelledby="${prefix}record"><h2 id="${prefix}record">The record</h2><div class="tw-two"><div>${list(systemFields(report, subjects).map(fieldRow))}</div><div>${list(statedFields(report).map(fieldRow))}</div></div>${missingHtml(report, subjects)}${notesHtml(report)}</section>`;

const notesHtml = (report: WindowReport): string => {
  if (report.notes.length === 0) return '';
  const rows = report.notes.map(
    ({ t, by, text: said }) =>
      `<tr><td class="tw-num">${escaped(formatInterval({ low: t, high: t }, 's'))}</td><td>${escaped(by)}</td><td>${escaped(said)}</td></tr>`,
  );
  return `<h4>What people said and did</h4><div class="tw-scroll"><table><thead><tr><th scope="col">Time</th><th scope="col">Who</th><th scope="col">What</th></tr></thead><tbody>${rows.join('')}</tbody></table></div>`;
};

const items = (lines: readonly string[]): string =>
  `<ul>${lines.map((one) => `<li>${escaped(one)}</li>`).join('')}</ul>`;

const signatureHtml = (who: string): string =>
  `<div><div class="tw-sign"></div><p class="tw-sub">${who}, date</p></div>`;

/** Lines to sign by hand. Nobody tested where a demand was recorded. */
const signaturesHtml = (report: WindowReport, prefix: string): string =>
  `<section class="tw-signatures" aria-labelledby="${prefix}signatures"><h2 id="${prefix}signatures">Signatures</h2><div class="tw-two">${report.demand ? '' : signatureHtml('Tested by')}${signatureHtml('Reviewed by')}</div></section>`;

/** One window; `prefix` keeps the ids of several on one page apart. */
const windowHtml = (report: WindowReport, prefix: string, tag: 'main' | 'div', end: string): string => {
  const subjects = subjectsOf(report);
  const cards = subjects.map((one, index) => cardHtml(report, one, `${prefix}i${index}`)).join('\n');
  const found = contradictionsHtml(report, prefix);
  return `<div class="tw-window" data-window="${escaped(report.window)}">${headHtml(report)}
<${tag} class="tw-main">${found}${summaryHtml(subjects, prefix)}
<section aria-labelledby="${prefix}details"><h2 id="${prefix}details" class="tw-details">Interlock by interlock</h2>${cards}</section>
${recordHtml(report, subjects, prefix)}
${peopleHtml(report, prefix)}
${signaturesHtml(report, prefix)}${end}</${tag}></div>`;
};

const rulesHtml = (): string => `
<section aria-labelledby="reading"><h2 id="reading">How to read the figures</h2>${items(READING_RULES)}</section>
<section class="tw-cautions" aria-labelledby="cautions"><h2 id="cautions">Cautions</h2>${items(CAUTIONS)}</section>
`;

const pageOf = (title: string, shown: string, what: string, parts: PageParts | undefined): string => {
  const hash = parts?.hash;
  const markup = `<div id="page">${shown}</div>`;
  const style = parts === undefined ? STYLE : pageStyle(parts, what);
  const policy =
    parts === undefined || hash === undefined
      ? "default-src 'none'; style-src 'unsafe-inline'"
      : `default-src 'none'; style-src ${cspHash(hash, style)}; script-src ${cspHash(hash, parts.script)}; connect-src 'none'; base-uri 'none'; form-action 'none'`;
  const digest =
    hash === undefined
      ? ''
      : `\n<meta name="page-sha256" content="${pageDigest(hash, style, `<title>${escaped(title)}</title>${markup}`)}">`;
  const own = parts === undefined ? '' : `${evidenceHtml(parts)}<script>${parts.script}</script>`;
  return `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="${policy}">${digest}
<title>${escaped(title)}</title><style>${style}</style></head>
<body>${parts === undefined ? '' : checkHtml(parts)}${markup}${own}</body></html>
`;
};

/** A page that stands alone: no network, readable on screen and on paper, in colour or without, and without script. */
export const htmlReport = (report: WindowReport, parts?: PageParts): string => {
  const name = report.demand ? 'Demand' : 'Window';
  const title = `${report.book.title}, ${name.toLowerCase()} ${report.window}`;
  const foot = `${name} ${report.window} · rules and site ${report.bookHash.slice(0, 12)} · made by tripwitness ${report.toolVersion}`;
  const closing = 'The log is the evidence; this page is a view of it.';
  return pageOf(
    title,
    `${windowHtml(report, '', 'main', rulesHtml())}
<footer>${escaped(foot)}. ${closing}</footer>${parts === undefined ? '' : footHtml(parts, `${name} ${report.window}`)}`,
    `${name} ${report.window}`,
    parts,
  );
};

const periodRow = (report: WindowReport, index: number): string => {
  const counts = OUTCOMES.map((outcome) => `<td class="tw-num">${countOf(report, outcome)}</td>`).join('');
  const name = report.demand ? 'demand' : report.standing;
  return `<tr><th scope="row"><a href="#w${index}-summary">${escaped(report.window)}</a></th><td class="tw-num">${escaped(formatTime(report.opened))}</td><td>${name}</td>${counts}</tr>`;
};

/** All windows of a period on one page, each as `htmlReport` shows it; `name` says which period. */
export const htmlPeriod = (reports: readonly WindowReport[], name: string, parts?: PageParts): string => {
  const [first] = reports;
  const title = `${first?.book.title ?? ''}, ${name}`;
  const heads = OUTCOMES.map((outcome) => `<th scope="col">${TERMS.outcomes[outcome].toLowerCase()}</th>`);
  const rows = reports.map(periodRow).join('');
  const windows = reports.map((one, index) => windowHtml(one, `w${index}-`, 'div', '')).join('\n');
  const shown = `<main><header class="tw-head"><p class="tw-sub">Verification of interlocks: all windows of a period</p>
<h1>${escaped(first?.book.title ?? '')}</h1><p class="tw-sub">${escaped(name)}</p></header>
<section class="tw-main" aria-labelledby="windows"><h2 id="windows">Windows</h2><div class="tw-scroll"><table><thead><tr><th scope="col">Window</th><th scope="col">Opened</th><th scope="col">Standing</th>${heads.join('')}</tr></thead><tbody>${rows}</tbody></table></div></section>
${windows}<div class="tw-main">${rulesHtml()}</div></main>
<footer>${escaped(name)} · made by tripwitness ${escaped(first?.toolVersion ?? '')}. The log is the evidence; this page is a view of it.</footer>${parts === undefined ? '' : footHtml(parts, name)}`;
  return pageOf(title, shown, name, parts);
};
