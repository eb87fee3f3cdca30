import type { Amendment, WindowSigning } from '../record/index.ts';
import { meaningText, signatureStateText, type WindowReport } from '../report/index.ts';
import { baseline, heading, paragraph, table } from './blocks.ts';
import { INK } from './paper.ts';
import type { Press } from './press.ts';

const timeOf = (utc: string): string => `${utc.slice(0, 10)} ${utc.slice(11, 19)} UTC`;

/** A box to sign in, large enough for a gloved hand and a stamp (35 mm high; common practice, no source). */
const BOX = 99;

/** A box for a name, a date and a signature. */
const signatureBox = (press: Press, meaning: string): void => {
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

const electronic = (press: Press, { signatures: signed, missing, notIndependent }: WindowSigning): void => {
  if (signed.length === 0) paragraph(press, 'Nobody.', { colour: INK.soft });
  else
    table(
      press,
      [
        { title: 'Meaning', share: 16 },
        { title: 'Name', share: 22 },
        { title: 'Role', share: 14 },
        { title: 'When', share: 22 },
        { title: 'What it covers', share: 34 },
      ],
      signed.map((one) => [
        { text: meaningText(one.meaning), style: { face: 'bold' } },
        { text: one.person.name },
        { text: one.role },
        { text: timeOf(one.utc) },
        {
          text: `${signatureStateText(one)}${notIndependent.includes(one.entry) ? '; not independent: this person tested' : ''}`,
        },
      ]),
    );
  if (missing.length > 0)
    paragraph(press, `○ The site demands, and nobody signed: ${missing.map(meaningText).join(', ')}.`, {
      face: 'bold',
    });
};

const corrections = (press: Press, amended: readonly Amendment[]): void => {
  if (amended.length === 0) return;
  heading(press, 'Corrections; the entries themselves stay as they are');
  table(
    press,
    [
      { title: 'When', share: 17 },
      { title: 'By', share: 15 },
      { title: 'Of', share: 16 },
      { title: 'It says', share: 18 },
      { title: 'It should say', share: 18 },
      { title: 'Why', share: 18 },
    ],
    amended.map(({ utc, by, of, field, was, becomes, reason }) =>
      [timeOf(utc), by, `entry ${of}, ${field}`, was, becomes, reason].map((text) => ({ text })),
    ),
  );
};

const NOBODY: WindowSigning = { signatures: [], demanded: [], missing: [], notIndependent: [] };

/** The last page: what was signed and corrected in the log, and boxes to sign by hand. Nobody performed a demand. */
export const signatures = (press: Press, { demand, papers }: WindowReport): void => {
  press.enter('Sect', 'Signatures');
  paragraph(press, 'Signatures', { size: 15, face: 'bold', tag: 'H2', after: 2 });
  heading(press, 'Signed in the log, by password');
  electronic(press, papers?.signing ?? NOBODY);
  corrections(press, papers?.amendments ?? []);
  heading(press, 'By hand', BOX);
  for (const meaning of demand ? ['Reviewed'] : ['Performed', 'Witnessed', 'Reviewed'])
    signatureBox(press, meaning);
  press.leave();
};
