import { markOf, subjectsOf, type WindowReport } from '../report/index.ts';
import { cover } from './cover.ts';
import { interlockPage } from './interlock-page.ts';
import type { Paper } from './paper.ts';
import { createPress } from './press.ts';
import { signatures } from './signatures.ts';
import { drawFoot, stampOf } from './stamp.ts';

export interface ReportPaper {
  readonly paper: Paper;
}

/**
 * A window as PDF 1.7: a cover, an interlock a page, a page to sign. Vectors only; tagged, with bookmarks. The time in it
 * is that of the window's closing, so that the same report gives the same bytes.
 */
export const reportPdf = async (report: WindowReport, options: ReportPaper): Promise<Uint8Array> => {
  const { paper } = options;
  const stamp = stampOf(report);
  const subjects = subjectsOf(report);
  const kind = report.demand ? 'Demand' : 'Test window';
  const what = `${report.book.title} · ${kind} ${report.window}`;
  const press = createPress(paper, {
    title: what,
    subject: report.demand ? 'Record of a demand' : 'Verification of interlocks',
    author: report.book.site,
    keywords: [report.window, report.bookHash, stamp.fingerprint, stamp.key].filter(Boolean).join(', '),
    creator: `tripwitness ${report.toolVersion}`,
    created: report.closed ?? report.opened,
  });
  const place = (index: number): string => `interlock-${index}`;
  const { outline } = press.doc;
  // A bookmark leads to the page that is being printed when it is made.
  press.page(`${what}, continued`);
  outline.addItem('Cover and record');
  cover(press, report, subjects, place);
  subjects.forEach((subject, index) => {
    const { name } = subject.interlock;
    press.page(`${name}, continued`);
    outline.addItem(`${markOf(subject.report.verdict.outcome)} ${name}`);
    interlockPage(press, report, subject, place(index));
  });
  press.page('Signatures, continued');
  outline.addItem('Signatures');
  signatures(press, report);
  return press.finish((page, pages) => drawFoot(press, what, stamp, page, pages));
};
