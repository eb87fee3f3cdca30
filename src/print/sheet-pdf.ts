import type { Instant } from '../measure/index.ts';
import {
  afterFields,
  becomesText,
  beforeFields,
  blankSubject,
  CAUTIONS_IN_SHORT,
  effectsTold,
  foundFields,
  ruleFields,
  ruleSentences,
  type Subject,
  whatText,
} from '../report/index.ts';
import type { Book, InterlockId } from '../rulebook/index.ts';
import { formatTime, unitShown } from '../words/index.ts';
import { framed, heading, paragraph } from './blocks.ts';
import { fieldColumns } from './fields.ts';
import { boxes, grid } from './grid.ts';
import { INK, type Paper } from './paper.ts';
import { createPress, type Press } from './press.ts';

/** One sheet: for which interlock, and the code under which it is entered later. */
export interface Sheet {
  readonly interlock: InterlockId;
  readonly code: string;
}

export interface SheetPaper {
  readonly paper: Paper;
  /** When the sheets are printed; the only time in the document. */
  readonly printed: Instant;
}

const RESTORED = [
  'targets and covers back',
  'bypasses off',
  'no forces',
  'set points as intended',
  'horn sounding again',
  'operators told',
];

const head = (press: Press, book: Book, subject: Subject, code: string): void => {
  const top = press.y;
  const width = press.widthOf(code, 'bold', 11) + 16;
  press.tagged('P', () => {
    press.doc
      .rect(press.right - width, top, width, 31)
      .undash()
      .lineWidth(1.3)
      .strokeColor(INK.ink)
      .stroke();
    press.put('sheet', press.right - width + 8, top + 10, { size: 7, colour: INK.soft });
    press.put(code, press.right - width + 8, top + 24, { face: 'bold', size: 11 });
  });
  paragraph(press, subject.interlock.name, {
    size: 15,
    face: 'bold',
    tag: 'H1',
    width: press.width - width - 12,
    after: 1,
  });
  paragraph(press, whatText(subject), { face: 'bold', width: press.width - width - 12 });
  press.y = Math.max(press.y, top + 36);
  for (const one of ruleSentences(book, subject)) paragraph(press, one);
  fieldColumns(press, ruleFields(book, subject));
};

const effects = (press: Press, book: Book, subject: Subject): void => {
  grid(
    press,
    [
      { title: 'Effect', share: 25 },
      { title: 'Becomes', share: 15 },
      { title: 'Required', share: 14 },
      { title: 'As found [s]', share: 14 },
      { title: 'As left [s]', share: 14 },
      { title: 'Seen or heard by', share: 18 },
    ],
    effectsTold(subject).map(({ effect, required }) => [
      effect.name,
      becomesText(book, subject.machine, effect),
      required,
    ]),
  );
};

/** Boxes of one state: the verdict's has its words to tick. */
const found = (press: Press, state: 'As found' | 'As left', unit: string): void => {
  const units: Readonly<Record<string, string>> = {
    Response: 's',
    Delay: 's',
    'Trip point': unitShown(unit),
  };
  const labels = foundFields.map((name) => {
    if (name === 'Verdict') return `${state} ${name.toLowerCase()}   ☐ pass  ☐ fail  ☐ not decided`;
    const shown = units[name] ?? '';
    return `${state} ${name.toLowerCase()}${shown === '' ? '' : ` [${shown}]`}`;
  });
  boxes(press, labels, 25, [20, 22, 17, 16, 34]);
};

const signatures = (press: Press): void => {
  press.room(58);
  boxes(press, ['Performed: name, date, signature', 'Reviewed: name, date, signature'], 46);
  press.y += 4;
};

const page = (press: Press, book: Book, { interlock, code }: Sheet): void => {
  const subject = blankSubject(book, interlock);
  const { name } = subject.interlock;
  press.page(`${name}, sheet ${code}, continued`);
  press.doc.outline.addItem(name);
  press.enter('Sect', name);
  head(press, book, subject, code);
  effects(press, book, subject);
  heading(press, 'Before', 60);
  for (const row of beforeFields) boxes(press, row, 22);
  heading(press, 'Trials', 60);
  found(press, 'As found', subject.unit);
  found(press, 'As left', subject.unit);
  heading(press, 'After', 60);
  for (const row of afterFields) boxes(press, row, 25, [70, 30]);
  press.y += 3;
  paragraph(press, RESTORED.map((one) => `☐ ${one}`).join('    '), { size: 8, after: 3 });
  signatures(press);
  // One behind the other, so that they fit beneath.
  framed(press, [CAUTIONS_IN_SHORT.map((one) => `▪ ${one}`).join('  ')], { size: 6.6, thick: 1 });
  press.leave();
};

/**
 * Blank sheets as PDF, an interlock a page: what is asked, boxes for what is seen, cautions, and the code under which the
 * sheet is entered later as transcribed.
 */
export const sheetPdf = async (
  book: Book,
  sheets: readonly Sheet[],
  { paper, printed }: SheetPaper,
): Promise<Uint8Array> => {
  const what = `${book.title} · test sheets`;
  const press = createPress(paper, {
    title: what,
    subject: 'Sheets for verification of interlocks, to be filled in by hand',
    author: book.site,
    keywords: sheets.map(({ code }) => code).join(', '),
    creator: 'tripwitness',
    created: printed,
  });
  for (const sheet of sheets) page(press, book, sheet);
  const foot = `${what} · printed ${formatTime(printed).slice(0, 16)} UTC · a sheet is no record until it is entered`;
  return press.finish((number, pages) => {
    const size = 7.2;
    const y = press.bottom + 12;
    const at = `page ${number} of ${pages}`;
    press.put(press.short(foot, press.width - press.widthOf(at, 'bold', size) - 16, size), press.left, y, {
      size,
      colour: INK.soft,
    });
    press.put(at, press.right, y, { size, face: 'bold', anchor: 'end' });
  });
};
