import { SEGMENTS } from '../measure/index.ts';
import {
  absentText,
  arithmetic,
  aspectsTold,
  atOnceText,
  effectsTold,
  groupNote,
  lineCaption,
  numberLine,
  plotTrial,
  regionPlot,
  ruleTexts,
  type Subject,
  sentencesOf,
  trialMoved,
  trialReasons,
  trialTitle,
  unproved,
  type WindowReport,
  whatText,
} from '../report/index.ts';
import { TERMS } from '../words/index.ts';
import { baseline, bullets, framed, heading, paragraph, table } from './blocks.ts';
import { drawMark, markWidth, wordOf } from './mark.ts';
import { INK } from './paper.ts';
import type { Press } from './press.ts';
import { drawSvg } from './svg-draw.ts';

const caption = (press: Press, value: string | undefined): void => {
  if (value !== undefined) paragraph(press, value, { size: 7.6, colour: INK.soft });
};

const head = (press: Press, report: WindowReport, subject: Subject): void => {
  const { verdict } = subject.report;
  const size = 15;
  const room = press.width - markWidth(press, verdict.outcome) - 10;
  const top = press.y;
  press.tagged('Span', () => {
    drawMark(press, verdict.outcome, press.right - markWidth(press, verdict.outcome), top + 2);
  });
  paragraph(press, subject.interlock.name, { size, face: 'bold', tag: 'H2', width: room, after: 1 });
  paragraph(press, whatText(subject), { face: 'bold' });
  for (const one of ruleTexts(report, subject)) paragraph(press, one);
  if (verdict.asFound === undefined || report.demand) return;
  press.room(20);
  press.y += 2;
  press.tagged('P', () => {
    let x = press.left;
    const say = (words: string): void => {
      press.put(words, x, press.y + 10.4);
      x += press.widthOf(words) + 6;
    };
    const show = (outcome: typeof verdict.outcome): void => {
      drawMark(press, outcome, x, press.y);
      x += markWidth(press, outcome) + 14;
    };
    say('As found:');
    if (verdict.asFound !== undefined) show(verdict.asFound);
    if (verdict.asLeft === undefined) return;
    say('As left:');
    show(verdict.asLeft);
  });
  press.y += 19;
};

const effects = (press: Press, subject: Subject): void => {
  heading(press, 'Effects');
  table(
    press,
    [
      { title: 'Effect', share: 23 },
      { title: 'Response', share: 17 },
      { title: 'Required', share: 13 },
      { title: 'Verdict', share: 15 },
      { title: 'In words', share: 40 },
    ],
    effectsTold(subject).map(({ effect, response, required, outcome, words }) => [
      { text: effect.name, style: { face: 'bold' } },
      { text: response },
      { text: required },
      { text: wordOf(outcome) },
      { text: words },
    ]),
  );
};

const besides = (press: Press, subject: Subject): void => {
  const told = aspectsTold(subject.report.verdict.aspects, subject.unit);
  if (told.length === 0) return;
  heading(press, 'Judged besides');
  table(
    press,
    [
      { title: 'What', share: 23 },
      { title: 'Verdict', share: 17 },
      { title: 'In words', share: 68 },
    ],
    told.map(({ name, outcome, words }) => [
      { text: name, style: { face: 'bold' } },
      { text: wordOf(outcome) },
      { text: words },
    ]),
  );
};

const tripped = (press: Press, subject: Subject): void => {
  const line = numberLine(subject, 'line');
  if (line !== '') {
    heading(press, 'Where it tripped', 90);
    drawSvg(press, line, press.width * 0.76);
    caption(press, lineCaption(subject));
  }
  const region = regionPlot(subject, 'region');
  if (region === undefined) return;
  heading(press, 'Level and delay together', 190);
  drawSvg(press, region.svg, press.width * 0.86);
  caption(press, region.caption);
};

const trials = (press: Press, report: WindowReport, subject: Subject): void => {
  for (const trial of subject.report.verdict.trials) {
    const trace = subject.report.traces.find((one) => one.trial === trial.trial);
    heading(press, trialTitle(report, trial), trace === undefined ? 40 : 190);
    if (trace === undefined) paragraph(press, 'No trace of it is in the report.', { colour: INK.soft });
    else drawSvg(press, plotTrial(report, subject, trace, 'trial'), press.width * 0.9);
    caption(press, trace && groupNote(subject));
    press.room(30);
    const indent = markWidth(press, trial.outcome) + 8;
    press.tagged('Span', () => drawMark(press, trial.outcome, press.left, press.y));
    press.y += 3;
    paragraph(press, trialMoved(report, subject, trial), { indent, colour: INK.soft, after: 3 });
    bullets(press, trialReasons(subject, trial));
  }
};

const chain = (press: Press, subject: Subject): void => {
  heading(press, 'What this proves of the chain, and what it does not');
  const open = new Set(unproved(subject.report.verdict.proved));
  const size = 8;
  let x = press.left;
  for (const segment of SEGMENTS) {
    const missing = open.has(segment);
    const name = TERMS.segments[segment];
    const words = missing ? `○ ${name}: not proved` : `✔ ${name}`;
    const width = press.widthOf(words, 'plain', size) + 10;
    if (x + width > press.right) {
      x = press.left;
      press.y += 18;
    }
    if (press.room(18)) x = press.left;
    press.tagged('P', () => {
      press.doc.save().rect(x, press.y, width, 14);
      press.doc.lineWidth(missing ? 0.8 : 1.3).strokeColor(missing ? INK.soft : INK.ink);
      if (missing) press.doc.dash(2.5, { space: 1.8 });
      press.doc.stroke().undash().restore();
      press.put(words, x + 5, press.y + 1.5 + baseline(size), {
        size,
        colour: missing ? INK.soft : INK.ink,
      });
    });
    x += width + 5;
  }
  press.y += 20;
};

const sums = (press: Press, report: WindowReport, subject: Subject): void => {
  const lines = arithmetic(report, subject);
  if (lines.length === 0) return;
  heading(press, 'The arithmetic');
  bullets(press, lines);
};

/** One interlock from the head of a page on; what does not fit goes on, under its name, on the next. */
export const interlockPage = (press: Press, report: WindowReport, subject: Subject, place: string): void => {
  const { name } = subject.interlock;
  press.doc.addNamedDestination(place, 'XYZ', 0, 0, null);
  press.enter('Sect', name);
  head(press, report, subject);
  bullets(press, sentencesOf(subject.report.verdict.reasons, subject.unit), { face: 'bold' });
  const atOnce = atOnceText(subject);
  if (atOnce !== undefined) framed(press, [`▲ ${atOnce}`], { face: 'bold' });
  const absent = absentText(report, subject);
  if (absent !== undefined) framed(press, [`▲ ${absent}`], { face: 'bold' });
  tripped(press, subject);
  effects(press, subject);
  besides(press, subject);
  chain(press, subject);
  trials(press, report, subject);
  sums(press, report, subject);
  press.leave();
};
