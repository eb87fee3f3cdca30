import { attestedText, rulesHeld, type Subject, type WindowReport } from '../report/index.ts';
import { heading, table } from './blocks.ts';
import type { Press } from './press.ts';

const timeOf = (utc: string): string => `${utc.slice(0, 10)} ${utc.slice(11, 19)} UTC`;

/** What rules ask of a record, and what of it is missing. */
export const rules = (press: Press, report: WindowReport, subjects: readonly Subject[]): void => {
  const held = rulesHeld(report, subjects);
  if (held.length === 0) return;
  heading(press, 'What rules ask of a record');
  table(
    press,
    [
      { title: 'Rule', share: 26 },
      { title: 'Asks for', share: 42 },
      { title: 'This record', share: 32 },
    ],
    held.map(({ rule, fields, missing }) => [
      { text: rule, style: { face: 'bold' } },
      { text: fields.join('; ') },
      { text: missing.length === 0 ? '✔ all stated' : `○ not stated: ${missing.join('; ')}` },
    ]),
  );
};

/** What people saw or heard in place of a signal. */
export const attestations = (press: Press, { papers }: WindowReport): void => {
  const all = papers?.attestations ?? [];
  if (all.length === 0) return;
  heading(press, 'Seen or heard by people');
  table(
    press,
    [
      { title: 'When', share: 22 },
      { title: 'Who', share: 24 },
      { title: 'Machine', share: 16 },
      { title: 'What', share: 24 },
      { title: 'Where', share: 22 },
    ],
    all.map(({ utc, by, machine, what, where = '' }) =>
      [timeOf(utc), by, machine, attestedText(what), where].map((text) => ({ text })),
    ),
  );
};

/** Sheets that were filled in by hand: nothing of them was measured or judged here. */
export const transcribed = (press: Press, { papers }: WindowReport): void => {
  for (const { sheet, by, on, enteredBy, utc, values } of papers?.transcribed ?? []) {
    heading(press, `Transcribed from paper: sheet ${sheet}`);
    table(
      press,
      [
        { title: 'Field', share: 26 },
        { title: 'As it stands on the sheet; not measured, not judged', share: 74 },
      ],
      [
        ['Filled in', `by ${by}, ${on}`],
        ['Entered', `by ${enteredBy}, ${timeOf(utc)}`],
        ...Object.entries(values),
      ].map((cells) => cells.map((text) => ({ text }))),
    );
  }
};
