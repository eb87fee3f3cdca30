import type { Aspect, TrialVerdict } from '../judge/index.ts';
import { type Outcome, type Reason, SEGMENTS } from '../measure/index.ts';
import { formatBand, formatInterval, formatSeconds, TERMS, text } from '../words/index.ts';
import { arithmetic } from './arithmetic.ts';
import { causeText, derivedTexts } from './cause-text.ts';
import { courseProves, courseText } from './course-text.ts';
import { decisionName } from './decision-text.ts';
import { mustStay, type Subject, unproved } from './facts.ts';
import { SHAPES } from './marks.ts';
import { escaped } from './markup.ts';
import { numberLine } from './number-line.ts';
import { plotTrial } from './plot.ts';
import { regionPlot } from './region-plot.ts';
import type { WindowReport } from './types.ts';

/** The mark of a verdict as HTML. */
export const markHtml = (outcome: Outcome): string =>
  `<span class="tw-mark tw-${outcome}"><i aria-hidden="true">${SHAPES[outcome]}</i>${TERMS.en.outcomes[outcome]}</span>`;

const wordHtml = (outcome: Outcome): string =>
  `<span class="tw-${outcome} tw-num"><span aria-hidden="true">${SHAPES[outcome]}</span> ${TERMS.en.outcomes[outcome].toLowerCase()}</span>`;

const sentences = (reasons: readonly Reason[], unit: string): readonly string[] => [
  ...new Set(reasons.map((reason) => text(reason, { unit }))),
];

/** A drawing that keeps its size where the page is narrow; its caption does not move with it. */
const scrolled = (svg: string): string => `<div class="tw-scroll"><div class="tw-wide">${svg}</div></div>`;

const reasonsHtml = (subject: Subject): string => {
  const [first = '', ...rest] = sentences(subject.report.verdict.reasons, subject.unit);
  const lines = [
    `<li class="tw-lead-reason">${escaped(first)}</li>`,
    ...rest.map((one) => `<li>${escaped(one)}</li>`),
  ];
  return `<ul class="tw-reasons">${lines.join('')}</ul>`;
};

/** Aspects beside those that the effect table tells. */
const aspectRows = (aspects: readonly Aspect[], unit: string): string =>
  aspects
    .filter(({ name }) => !name.startsWith('effect:'))
    .map(
      ({ name, outcome, reason }) =>
        `<tr><th scope="row">${escaped(aspectName(name))}</th><td>${wordHtml(outcome)}</td><td>${escaped(text(reason, { unit }))}</td></tr>`,
    )
    .join('');

const aspectName = (name: string): string => {
  const at = name.indexOf(':');
  const what = (at < 0 ? name : name.slice(0, at)).replaceAll('-', ' ');
  return at < 0 ? what : `${what} ${name.slice(at + 1)}`;
};

const effectRows = (subject: Subject): string =>
  subject.interlock.effects
    .map((effect) => {
      const { aspects, effects } = subject.report.verdict;
      const seen = effects.find((one) => one.name === effect.name);
      const aspect = aspects.find((one) => one.name === `effect:${effect.name}`);
      const response = seen?.response ? formatInterval(seen.response, 's') : '–';
      const within =
        effect.notBefore > 0
          ? formatBand({ low: effect.notBefore / 1e6, high: effect.within / 1e6 }, 's')
          : `≤ ${formatSeconds(effect.within / 1e6)}`;
      const outcome = aspect?.outcome ?? 'not-tested';
      const reason = aspect ? text(aspect.reason, { unit: subject.unit }) : 'Not judged.';
      return `<tr><th scope="row">${escaped(effect.name)}</th><td class="tw-num">${escaped(response)}</td><td class="tw-num">${escaped(within)}</td><td>${wordHtml(outcome)}</td><td>${escaped(reason)}</td></tr>`;
    })
    .join('');

const chainHtml = (subject: Subject): string => {
  const { proved } = subject.report.verdict;
  const open = new Set(unproved(proved));
  const items = SEGMENTS.map((segment) => {
    const name = TERMS.en.segments[segment];
    return open.has(segment)
      ? `<li class="tw-gap-segment"><span aria-hidden="true">○ </span>${name}: not proved</li>`
      : `<li><span aria-hidden="true">✔ </span>${name}</li>`;
  });
  return `<ul class="tw-chain">${items.join('')}</ul>`;
};

const STANDINGS: Readonly<Record<TrialVerdict['standing'], string>> = {
  complete: '',
  aborted: ', aborted',
  interrupted: ', interrupted',
  unfinished: ', not finished',
};

const sentenceOf = (value: string): string =>
  value === '' ? '' : `${value.slice(0, 1).toUpperCase()}${value.slice(1)}. `;

const groupNote = ({ interlock, causeName }: Subject): string =>
  interlock.cause.kind === 'group'
    ? `<figcaption>${escaped(`Of the causes of this interlock, ${causeName} is drawn.`)}</figcaption>`
    : '';

const trialHtml = (report: WindowReport, subject: Subject, key: string): string =>
  subject.report.verdict.trials
    .map((trial) => {
      const trace = subject.report.traces.find((one) => one.trial === trial.trial);
      const found = trial.asFound && !report.demand ? ', as found' : '';
      const head = `<h4>${report.demand ? 'Demand' : 'Trial'} ${trial.trial}${found}${STANDINGS[trial.standing]}</h4>`;
      const method = report.demand ? '' : (TERMS.en.methods[trial.method] ?? trial.method);
      const moved =
        [method, courseText(trial, subject)].map(sentenceOf).join('') + courseProves(trial, subject);
      const plot = trace
        ? `<figure>${scrolled(plotTrial(report, subject, trace, `${key}-t${trial.trial}`))}${groupNote(subject)}</figure>`
        : '<p class="tw-none">No trace of it is in the report.</p>';
      const told = sentences(trial.reasons, subject.unit).slice(0, trial.outcome === 'pass' ? 1 : 4);
      return `${head}${plot}<p>${markHtml(trial.outcome)} <span class="tw-sub">${escaped(moved)}</span></p><ul class="tw-reasons">${told.map((one) => `<li>${escaped(one)}</li>`).join('')}</ul>`;
    })
    .join('');

const lineHtml = (subject: Subject, key: string): string => {
  const line = numberLine(subject, `${key}-l`);
  if (line === '') return '';
  const share = subject.report.verdict.tripPercent;
  const percent = share ? ` In percent of normal: ${formatInterval(share, '%')}.` : '';
  const ruled = subject.bands.limit ? ' Ruled: beyond the limit.' : '';
  const basis = subject.interlock.limit ? ` Limit: ${subject.interlock.limit.basis}.` : '';
  return `<h4>Where it tripped</h4><figure>${scrolled(line)}<figcaption>${escaped(`Hatched: allowed around the set point.${ruled}${percent}${basis}`)}</figcaption></figure>`;
};

const regionHtml = (subject: Subject, key: string): string => {
  const plot = regionPlot(subject, `${key}-r`);
  return plot === undefined
    ? ''
    : `<h4>Level and delay together</h4><figure>${scrolled(plot.svg)}<figcaption>${escaped(plot.caption)}</figcaption></figure>`;
};

/** One interlock: verdict, where it tripped, effects, plots, arithmetic, and what is proved. */
export const cardHtml = (report: WindowReport, subject: Subject, key: string): string => {
  const { interlock, machine } = subject;
  const { verdict, method } = subject.report;
  const found =
    verdict.asFound && !report.demand
      ? `<p>As found: ${markHtml(verdict.asFound)}${verdict.asLeft ? ` as left: ${markHtml(verdict.asLeft)}` : ''}</p>`
      : '';
  const tested = report.demand ? '' : ` Test method: ${TERMS.en.methods[method] ?? method}.`;
  const how = `${tested} Decision rule: ${decisionName(interlock)}.`;
  const derived = derivedTexts(report.book, interlock.cause)
    .map((one) => `<p>${escaped(one)}</p>`)
    .join('');
  const rows = aspectRows(verdict.aspects, subject.unit);
  const sums = arithmetic(report, subject)
    .map((one) => `<li>${escaped(one)}</li>`)
    .join('');
  return `<article class="tw-card" id="${key}" aria-labelledby="${key}-h">
<header><h3 id="${key}-h">${escaped(interlock.name)}</h3>${markHtml(verdict.outcome)}
<p>${escaped(`${interlock.title} · ${machine?.title ?? 'machine not known'} · hazard: ${interlock.hazard}`)}</p>
<p>${escaped(`${mustStay(interlock) ? 'Must not act' : 'Acts'} when ${causeText(report.book, subject)}.${how}`)}</p>${derived}</header>
${found}${reasonsHtml(subject)}
${lineHtml(subject, key)}
${regionHtml(subject, key)}
<h4>Effects</h4><div class="tw-scroll"><table><thead><tr><th scope="col">Effect</th><th scope="col">Response</th><th scope="col">Required</th><th scope="col">Verdict</th><th scope="col">In words</th></tr></thead><tbody>${effectRows(subject)}</tbody></table></div>
${rows === '' ? '' : `<h4>Judged besides</h4><div class="tw-scroll"><table><thead><tr><th scope="col">What</th><th scope="col">Verdict</th><th scope="col">In words</th></tr></thead><tbody>${rows}</tbody></table></div>`}
${trialHtml(report, subject, key)}
${sums === '' ? '' : `<h4>The arithmetic</h4><ul class="tw-reasons tw-num-list">${sums}</ul>`}
<h4>What this proves of the chain, and what it does not</h4>${chainHtml(subject)}
</article>`;
};
