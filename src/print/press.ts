import PDFDocument from 'pdfkit';
import { formatUtc, type Instant } from '../measure/index.ts';
import { FACES, type Face } from './fonts.ts';
import { INK, MARGIN, PAPERS, type Paper } from './paper.ts';
import { linesOf, shown } from './text.ts';

export interface Style {
  readonly face?: Face;
  /** Points. */
  readonly size?: number;
  readonly colour?: string;
  readonly anchor?: 'start' | 'middle' | 'end';
  /** Name of a place in the document that the text leads to. */
  readonly goTo?: string;
}

export const BODY = 8.6;

/** What the document says of itself. */
export interface About {
  readonly title: string;
  readonly subject: string;
  readonly author: string;
  readonly keywords: string;
  readonly creator: string;
  /** The only time in the document: the same content gives the same bytes. */
  readonly created: Instant;
}

type Group = PDFKit.PDFStructureElement;

/** A document being printed: a cursor that walks down the page, text, and the tags that tell a screen reader what it is. */
export interface Press {
  readonly doc: PDFKit.PDFDocument;
  readonly left: number;
  readonly right: number;
  readonly width: number;
  readonly bottom: number;
  /** Where the next thing begins, from the top of the page. */
  y: number;
  /** Begins a page; `continued` stands at the head of every further page of what begins here. */
  page(continued: string): void;
  /** Goes on a new page unless there is so much room left. True where it did. */
  room(height: number): boolean;
  /** Everything tagged from here on belongs to this group, until `leave`. */
  enter(kind: 'Sect' | 'Table' | 'TR' | 'L', title?: string): void;
  leave(): void;
  /** One piece of content; it must not walk over the end of a page. */
  tagged(tag: string, draw: () => void, options?: { readonly alt?: string }): void;
  /** Lines and boxes that say nothing by themselves. */
  ornament(draw: () => void): void;
  widthOf(text: string, face?: Face, size?: number): number;
  lines(text: string, width: number, style?: Style): readonly string[];
  /** As much of a running head or foot as fits into a line, with … where it goes on. */
  short(text: string, width: number, size: number): string;
  /** One line of text; `y` is its baseline. */
  put(text: string, x: number, y: number, style?: Style): void;
  /** Puts a foot on every page, and gives the bytes. */
  finish(foot: (page: number, pages: number) => void): Promise<Uint8Array>;
}

const dateOf = (at: Instant): Date => new Date(formatUtc(at));

const newDocument = (paper: Paper, about: About): PDFKit.PDFDocument => {
  const { width, height } = PAPERS[paper];
  const doc = new PDFDocument({
    size: [width, height],
    margin: 0,
    autoFirstPage: false,
    bufferPages: true,
    pdfVersion: '1.7',
    tagged: true,
    displayTitle: true,
    lang: 'en',
    info: {
      Title: shown(about.title),
      Subject: shown(about.subject),
      Author: shown(about.author),
      Keywords: shown(about.keywords),
      Creator: about.creator,
      Producer: about.creator,
      CreationDate: dateOf(about.created),
      ModDate: dateOf(about.created),
    },
  });
  for (const [name, file] of Object.entries(FACES)) doc.registerFont(name, file);
  return doc;
};

const gathered = (doc: PDFKit.PDFDocument): Promise<Uint8Array> =>
  new Promise((resolve, reject) => {
    const parts: Uint8Array[] = [];
    doc.on('data', (part: Uint8Array) => parts.push(part));
    doc.on('end', () => resolve(Buffer.concat(parts)));
    doc.on('error', reject);
  });

export const createPress = (paper: Paper, about: About): Press => {
  const doc = newDocument(paper, about);
  const { width: paperWidth, height: paperHeight } = PAPERS[paper];
  const bytes = gathered(doc);
  const widths: Record<Face, Map<string, number>> = { plain: new Map(), bold: new Map() };
  const groups: Group[] = [];
  let heading = '';

  const widthOf = (text: string, face: Face = 'plain', size = BODY): number => {
    const known = widths[face].get(text);
    if (known !== undefined) return (known * size) / 100;
    const measured = doc.font(face).fontSize(100).widthOfString(text);
    widths[face].set(text, measured);
    return (measured * size) / 100;
  };

  const put = (text: string, x: number, y: number, style: Style = {}): void => {
    const { face = 'plain', size = BODY, colour = INK.ink, anchor = 'start', goTo } = style;
    const value = shown(text);
    if (value === '') return;
    const textWidth = widthOf(value, face, size);
    const shift = { start: 0, middle: textWidth / 2, end: textWidth }[anchor];
    doc.font(face).fontSize(size).fillColor(colour);
    const options = { lineBreak: false, baseline: 'alphabetic' as const, textWidth, wordCount: 1 };
    doc.text(value, x - shift, y, options);
    if (goTo !== undefined) doc.goTo(x - shift, y - size, textWidth, size * 1.3, goTo);
  };

  const join = (element: Group): void => {
    const parent = groups.at(-1);
    if (parent === undefined) doc.addStructure(element);
    else parent.add(element);
  };

  const press: Press = {
    doc,
    left: MARGIN.left,
    right: paperWidth - MARGIN.right,
    width: paperWidth - MARGIN.left - MARGIN.right,
    bottom: paperHeight - MARGIN.bottom,
    y: MARGIN.top,
    page(continued) {
      heading = continued;
      doc.addPage();
      press.y = MARGIN.top;
    },
    room(height) {
      if (press.y + height <= press.bottom) return false;
      doc.addPage();
      press.y = MARGIN.top;
      press.ornament(() => {
        put(press.short(heading, press.width, 8), press.left, press.y + 8, { size: 8, colour: INK.soft });
        doc
          .moveTo(press.left, press.y + 13)
          .lineTo(press.right, press.y + 13)
          .lineWidth(0.6)
          .strokeColor(INK.soft)
          .stroke();
      });
      press.y += 24;
      return true;
    },
    enter(kind, title) {
      const element = doc.struct(kind, title === undefined ? {} : { title });
      join(element);
      groups.push(element);
    },
    leave() {
      groups.pop()?.end();
    },
    tagged(tag, draw, options = {}) {
      const content = doc.markStructureContent(tag);
      draw();
      doc.endMarkedContent();
      const element = doc.struct(tag, options, [content]);
      join(element);
    },
    ornament(draw) {
      doc.markContent('Artifact', { type: 'Layout' });
      draw();
      doc.endMarkedContent();
    },
    widthOf,
    lines: (text, width, { face = 'plain', size = BODY } = {}) =>
      linesOf(text, width, (part) => widthOf(part, face, size)),
    short(text, width, size) {
      const [first = '', ...rest] = press.lines(text, width - widthOf(' …', 'plain', size), { size });
      return rest.length === 0 ? first : `${first} …`;
    },
    put,
    async finish(foot) {
      while (groups.length > 0) press.leave();
      const { start, count } = doc.bufferedPageRange();
      for (let index = 0; index < count; index += 1) {
        doc.switchToPage(start + index);
        doc.markContent('Artifact', { type: 'Pagination' });
        foot(index + 1, count);
        doc.endMarkedContent();
      }
      doc.end();
      return bytes;
    },
  };
  return press;
};
