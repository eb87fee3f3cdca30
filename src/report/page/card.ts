import { type Outcome, SEGMENTS } from '../../measure/index.ts';
import { TERMS } from '../../words/index.ts';
import { absentText } from '../absent.ts';
import { arithmetic } from '../arithmetic/arithmetic.ts';
import { atOnceText } from '../cautions.ts';
import { type Subject, unproved } from '../facts.ts';
import { SHAPES } from '../marks.ts';
import { escaped } from '../markup.ts';
import { numberLine } from '../plot/number-line.ts';
import { plotTrial } from '../plot/plot.ts';
import { regionPlot } from '../plot/region-plot.ts';
import { aspectsTold, effectsTold } from '../sheet/effects.ts';
import {
  groupNote,
  lineCaption,
  ruleTexts,
  sentencesOf,
  trialMoved,
  trialReasons,
  trialTitle,
  whatText,
} from '../sheet/words.ts';
import type { WindowReport } from '../types.ts';

/** The mark of a verdict as HTML; `fact` names it for a page that checks itself. */
export const markHtml = (outcome: Outcome, fact?: string): string =>
  `<span class="tw-mark tw-${outcome}"${fact === undefined ? '' : ` data-fact="${fact}"`}><i aria-hidden="true">${SHAPES[outcome]}</i>${TERMS.outcomes[outcome]}</span>`;

const wordHtml = (outcome: Outcome, fact: string): string =>
  `<span class="tw-${outcome} tw-num" data-fact="${fact}"><span aria-hidden="true">${SHAPES[outcome]}</span> ${TERMS.outcomes[outcome].toLowerCase()}</span>`;

/** A drawing that keeps its size where the page is narrow; its caption does not move with it. */
const scrolled = (svg: string): string => `<div class="tw-scroll"><div class="tw-wide">${svg}</div></div>`;

const reasonsHtml = (subject: Subject): string => {
  const [first = '', ...rest] = sentencesOf(subject.report.verdict.reasons, subject.unit);
  const lines = [
    `<li class="tw-lead-reason">${escaped(first)}</li>`,
    ...rest.map((one) => `<li>${escaped(one)}</li>`),
  ];
  return `<ul class="tw-reasons">${lines.join('')}</ul>`;
};

const aspectRows = ({ report, unit }: Subject): string =>
  aspectsTold(report.verdict.aspects, unit)
    .map(
      ({ name, outcome, words }) =>
        `<tr><th scope="row">${escaped(name)}</th><td>${wordHtml(outcome, 'aspect')}</td><td>${escaped(words)}</td></tr>`,
    )
    .join('');

const effectRows = (subject: Subject): string =>
  effectsTold(subject)
    .map(
      ({ effect, outcome, response, required, words }) =>
        `<tr><th scope="row" data-fact="effect">${escaped(effect.name)}</th><td class="tw-num" data-fact="effect-response">${escaped(response)}</td><td class="tw-num">${escaped(required)}</td><td>${wordHtml(outcome, 'effect-outcome')}</td><td>${escaped(words)}</td></tr>`,
    )
    .join('');

const chainHtml = (subject: Subject): string => {
  const { proved } = subject.report.verdict;
  const open = new Set(unproved(proved));
  const items = SEGMENTS.map((segment) => {
    const name = TERMS.segments[segment];
    return open.has(segment)
      ? `<li class="tw-gap-segment"><span aria-hidden="true">○ </span>${name}: not proved</li>`
      : `<li><span aria-hidden="true">✔ </span>${name}</li>`;
  });
  return `<ul class="tw-chain">${items.join('')}</ul>`;
};

const noteHtml = (subject: Subject): string => {
  const note = groupNote(subject);
  return note === undefined ? '' : `<figcaption>${escaped(note)}</figcaption>`;
};

const trialHtml = (report: WindowReport, subject: Subject, key: string): string =>
  subject.report.verdict.trials
    .map((trial) => {
      const trace = subject.report.traces.find((one) => one.trial === trial.trial);
      const head = `<h4>${trialTitle(report, trial)}</h4>`;
      const plot = trace
        ? `<figure>${scrolled(plotTrial(report, subject, trace, `${key}-t${trial.trial}`))}${noteHtml(subject)}</figure>`
        : '<p class="tw-none">No trace of it is in the report.</p>';
      const told = trialReasons(subject, trial);
      return `${head}${plot}<p>${markHtml(trial.outcome, 'trial')} <span class="tw-sub">${escaped(trialMoved(report, subject, trial))}</span></p><ul class="tw-reasons">${told.map((one) => `<li>${escaped(one)}</li>`).join('')}</ul>`;
    })
    .join('');

const lineHtml = (subject: Subject, key: string): string => {
  const line = numberLine(subject, `${key}-l`);
  return line === ''
    ? ''
    : `<h4>Where it tripped</h4><figure>${scrolled(line)}<figcaption>${escaped(lineCaption(subject))}</figcaption></figure>`;
};

const regionHtml = (subject: Subject, key: string): string => {
  const plot = regionPlot(subject, `${key}-r`);
  return plot === undefined
    ? ''
    : `<h4>Level and delay together</h4><figure>${scrolled(plot.svg)}<figcaption>${escaped(plot.caption)}</figcaption></figure>`;
};

/** Since when the protection may not have been there, where it failed as it was found. */
const absentHtml = (report: WindowReport, subject: Subject): string => {
  const told = absentText(report, subject);
  return told === undefined
    ? ''
    : `<p class="tw-absent"><strong><span aria-hidden="true">▲ </span>May have been absent.</strong> ${escaped(told)}</p>`;
};

/** What to do at once where a stop failed. */
const atOnceHtml = (subject: Subject): string => {
  const told = atOnceText(subject);
  return told === undefined
    ? ''
    : `<p class="tw-absent"><strong><span aria-hidden="true">▲ </span>${escaped(told)}</strong></p>`;
};

/** One interlock: verdict, where it tripped, effects, plots, arithmetic, and what is proved. */
export const cardHtml = (report: WindowReport, subject: Subject, key: string): string => {
  const { interlock } = subject;
  const { verdict } = subject.report;
  const found =
    verdict.asFound && !report.demand
      ? `<p>As found: ${markHtml(verdict.asFound, 'as-found')}${verdict.asLeft ? ` as left: ${markHtml(verdict.asLeft, 'as-left')}` : ''}</p>${absentHtml(report, subject)}`
      : '';
  const rules = [whatText(subject), ...ruleTexts(report, subject)]
    .map((one) => `<p>${escaped(one)}</p>`)
    .join('\n');
  const rows = aspectRows(subject);
  const sums = arithmetic(report, subject)
    .map((one) => `<li>${escaped(one)}</li>`)
    .join('');
  return `<article class="tw-card" id="${key}" aria-labelledby="${key}-h">
<header><h3 id="${key}-h" data-fact="interlock">${escaped(interlock.name)}</h3>${markHtml(verdict.outcome, 'outcome')}
${rules}</header>
${found}${atOnceHtml(subject)}${reasonsHtml(subject)}
${lineHtml(subject, key)}
${regionHtml(subject, key)}
<h4>Effects</h4><div class="tw-scroll"><table><thead><tr><th scope="col">Effect</th><th scope="col">Response</th><th scope="col">Required</th><th scope="col">Verdict</th><th scope="col">In words</th></tr></thead><tbody>${effectRows(subject)}</tbody></table></div>
${rows === '' ? '' : `<h4>Judged besides</h4><div class="tw-scroll"><table><thead><tr><th scope="col">What</th><th scope="col">Verdict</th><th scope="col">In words</th></tr></thead><tbody>${rows}</tbody></table></div>`}
${trialHtml(report, subject, key)}
${sums === '' ? '' : `<h4>The arithmetic</h4><ul class="tw-reasons tw-num-list">${sums}</ul>`}
<h4>What this proves of the chain, and what it does not</h4>${chainHtml(subject)}
</article>`;
};
