import { OUTCOMES } from '../measure/index.ts';
import {
  CAUTIONS,
  contradictionsTold,
  countOf,
  DEMAND,
  READING_RULES,
  responseText,
  type Subject,
  statedFields,
  systemFields,
  tripText,
  type WindowReport,
} from '../report/index.ts';
import { formatSeconds, formatTime, text } from '../words/index.ts';
import { bullets, framed, framedHeight, heading, paragraph, table } from './blocks.ts';
import { fieldColumns } from './fields.ts';
import { drawMark, markWidth, wordOf } from './mark.ts';
import { INK } from './paper.ts';
import { attestations, rules, transcribed } from './papers.ts';
import type { Press } from './press.ts';

const title = (press: Press, report: WindowReport): void => {
  const closed = report.closed === undefined ? 'not closed' : formatTime(report.closed);
  const standing = report.standing === 'closed' ? '' : ` · ${report.standing.toUpperCase()}`;
  const name = report.demand ? 'Demand' : 'Test window';
  paragraph(press, report.demand ? 'Record of a demand' : 'Verification of interlocks', {
    size: 10,
    colour: INK.soft,
  });
  paragraph(press, report.book.title, { size: 20, face: 'bold', tag: 'H1', after: 3 });
  paragraph(press, `${name} ${report.window}${standing}`, { size: 11, face: 'bold' });
  paragraph(press, `${formatTime(report.opened)} … ${closed}`, { size: 9.5, after: 6 });
  if (report.demand) paragraph(press, `◆ DEMAND: ${DEMAND}`, { face: 'bold', after: 6 });
};

const tally = (press: Press, report: WindowReport): void => {
  press.room(24);
  let x = press.left;
  press.tagged('P', () => {
    for (const outcome of OUTCOMES) {
      drawMark(press, outcome, x, press.y);
      x += markWidth(press, outcome) + 7;
      const count = String(countOf(report, outcome));
      press.put(count, x, press.y + 11.4, { face: 'bold', size: 11 });
      x += press.widthOf(count, 'bold', 11) + 18;
    }
  });
  press.y += 24;
};

/** What cannot both be right; what is dangerous stands in a heavy frame. */
const contradictions = (press: Press, report: WindowReport): void => {
  const told = contradictionsTold(report);
  if (told.length === 0) return;
  heading(press, 'What cannot both be right');
  for (const { dangerous, mark, seconds, time, sentence } of told) {
    const value = `${mark}  ${seconds} (${time}). ${sentence}`;
    if (dangerous) framed(press, [value], { thick: 2.4, face: 'bold' });
    else paragraph(press, value, { after: 3 });
  }
};

const record = (press: Press, report: WindowReport, subjects: readonly Subject[]): void => {
  heading(press, 'The record');
  fieldColumns(press, [systemFields(report, subjects), statedFields(report)]);
};

const notes = (press: Press, report: WindowReport): void => {
  if (report.notes.length === 0) return;
  heading(press, 'What people said and did');
  table(
    press,
    [
      { title: 'Time', share: 14 },
      { title: 'Who', share: 20 },
      { title: 'What', share: 66 },
    ],
    report.notes.map(({ t, by, text: said }) => [
      { text: formatSeconds(Math.round(t * 1e3) / 1e3) },
      { text: by },
      { text: said },
    ]),
  );
};

const summary = (press: Press, subjects: readonly Subject[], place: (index: number) => string): void => {
  heading(press, 'Verdicts');
  if (subjects.length === 0) {
    paragraph(press, 'No interlock has a verdict.');
    return;
  }
  table(
    press,
    [
      { title: 'Verdict', share: 17 },
      { title: 'Interlock', share: 25 },
      { title: 'Trip point', share: 15 },
      { title: 'Response', share: 14 },
      { title: 'First reason', share: 37 },
    ],
    subjects.map((subject, index) => {
      const { verdict } = subject.report;
      return [
        { text: wordOf(verdict.outcome), style: { face: 'bold' } },
        { text: subject.interlock.name, style: { goTo: place(index) } },
        { text: tripText(subject) },
        { text: responseText(subject) },
        { text: text(verdict.reasons[0], { unit: subject.unit }) },
      ];
    }),
  );
};

/** The first pages: which site and window, what came of it, the record, how to read the figures, the cautions. */
export const cover = (
  press: Press,
  report: WindowReport,
  subjects: readonly Subject[],
  place: (index: number) => string,
): void => {
  press.enter('Sect', report.book.title);
  title(press, report);
  tally(press, report);
  contradictions(press, report);
  summary(press, subjects, place);
  record(press, report, subjects);
  heading(press, 'Cautions', framedHeight(press, CAUTIONS));
  framed(press, CAUTIONS);
  rules(press, report, subjects);
  notes(press, report);
  attestations(press, report);
  transcribed(press, report);
  heading(press, 'How to read the figures');
  bullets(press, READING_RULES);
  press.leave();
};
