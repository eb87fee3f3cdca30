import type { Meaning } from '../record/index.ts';
import { baseline, heading, paragraph, table } from './blocks.ts';
import { INK } from './paper.ts';
import type { Press } from './press.ts';

/** A signature that stands in the log. */
export interface Signed {
  readonly meaning: Meaning;
  readonly name: string;
  readonly role: string;
  /** When, as it is to be printed. */
  readonly when: string;
  /** What it covers, in words. */
  readonly covers: string;
}

/** A correction that stands in the log: what was said, what it should have said. */
export interface Amended {
  readonly when: string;
  readonly by: string;
  readonly field: string;
  readonly was: string;
  readonly becomes: string;
  readonly reason: string;
}

/** A box to sign in, large enough for a gloved hand and a stamp (35 mm high; common practice, no source). */
const BOX = 99;

/** A box for a name, a date and a signature. */
export const signatureBox = (press: Press, meaning: string): void => {
  press.room(BOX + 8);
  const { doc, left, right, width } = press;
  const top = press.y;
  const nameWidth = width * 0.42;
  press.ornament(() => {
    doc.save().undash().lineWidth(1.1).strokeColor(INK.ink).rect(left, top, width, BOX).stroke();
    doc.lineWidth(0.6);
    doc.moveTo(left, top + 22).lineTo(right, top + 22);
    doc.moveTo(left + nameWidth, top + 22).lineTo(left + nameWidth, top + BOX);
    doc.moveTo(left, top + 22 + (BOX - 22) / 2).lineTo(left + nameWidth, top + 22 + (BOX - 22) / 2);
    doc.stroke().restore();
  });
  press.tagged('P', () => {
    const small = { size: 7.4, colour: INK.soft };
    press.put(meaning, left + 6, top + 15, { face: 'bold', size: 10 });
    press.put('Name and role, in block letters', left + 6, top + 23 + baseline(7.4), small);
    press.put('Date and time, with zone', left + 6, top + 23 + (BOX - 22) / 2 + baseline(7.4), small);
    press.put('Signature', left + nameWidth + 6, top + 23 + baseline(7.4), small);
  });
  press.y = top + BOX + 12;
};

const electronic = (press: Press, signed: readonly Signed[]): void => {
  heading(press, 'Signed in the log, by password');
  if (signed.length === 0) {
    paragraph(press, 'Nobody.', { colour: INK.soft });
    return;
  }
  table(
    press,
    [
      { title: 'Meaning', share: 16 },
      { title: 'Name', share: 24 },
      { title: 'Role', share: 16 },
      { title: 'When', share: 22 },
      { title: 'Covers', share: 30 },
    ],
    signed.map(({ meaning, name, role, when, covers }) => [
      { text: meaning, style: { face: 'bold' } },
      { text: name },
      { text: role },
      { text: when },
      { text: covers },
    ]),
  );
};

const corrections = (press: Press, amended: readonly Amended[]): void => {
  if (amended.length === 0) return;
  heading(press, 'Corrections');
  table(
    press,
    [
      { title: 'When', share: 17 },
      { title: 'By', share: 15 },
      { title: 'Field', share: 14 },
      { title: 'Was', share: 18 },
      { title: 'Should be', share: 18 },
      { title: 'Why', share: 18 },
    ],
    amended.map(({ when, by, field, was, becomes, reason }) =>
      [when, by, field, was, becomes, reason].map((text) => ({ text })),
    ),
  );
};

/** The last page: what was signed and corrected in the log, and boxes to sign by hand. Nobody performed a demand. */
export const signatures = (
  press: Press,
  demand: boolean,
  signed: readonly Signed[],
  amended: readonly Amended[],
): void => {
  press.enter('Sect', 'Signatures');
  paragraph(press, 'Signatures', { size: 15, face: 'bold', tag: 'H2', after: 2 });
  electronic(press, signed);
  corrections(press, amended);
  heading(press, 'By hand', BOX);
  for (const meaning of demand ? ['Reviewed'] : ['Performed', 'Witnessed', 'Reviewed'])
    signatureBox(press, meaning);
  press.leave();
};
