import { baseline, heading, paragraph, table } from './blocks.ts';
import { INK } from './paper.ts';
import type { Press } from './press.ts';

/** A signature by password, as it stands in the log (21 CFR 11.50: name, time, meaning). */
export interface Signed {
  /** RFC 3339, UTC. */
  readonly utc: string;
  readonly name: string;
  readonly role: string;
  readonly meaning: string;
  /** Number of the last entry that was signed for. */
  readonly covers: number;
  /** Entries behind it that it does not cover, other than signatures. */
  readonly later: number;
}

/** A correction that stands in the log: what was said, what it should have said. */
export interface Amended {
  readonly utc: string;
  readonly by: string;
  readonly of: number;
  readonly field: string;
  readonly was: string;
  readonly becomes: string;
  readonly reason: string;
}

const timeOf = (utc: string): string => `${utc.slice(0, 10)} ${utc.slice(11, 19)} UTC`;

const coversText = ({ covers, later }: Signed): string =>
  later === 0
    ? `entries up to ${covers}: all there is`
    : `entries up to ${covers}; not ${later} that came later`;

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
    signed.map((one) => [
      { text: one.meaning, style: { face: 'bold' } },
      { text: one.name },
      { text: one.role },
      { text: timeOf(one.utc) },
      { text: coversText(one) },
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
    amended.map(({ utc, by, of, field, was, becomes, reason }) =>
      [timeOf(utc), by, `entry ${of}, ${field}`, was, becomes, reason].map((text) => ({ text })),
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
