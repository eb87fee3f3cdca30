import { markOf } from '../marks.ts';
import { escaped } from '../markup.ts';
import { attestedText, meaningText, signatureStateText } from '../people-text.ts';
import type { AttemptsReport, PapersReport } from '../people-types.ts';
import type { WindowReport } from '../types.ts';

/** RFC 3339 to the second, as it is read by people. */
const timeOf = (utc: string): string => `${utc.slice(0, 19).replace('T', ' ')} UTC`;

const table = (heads: readonly string[], rows: readonly (readonly string[])[]): string =>
  `<div class="tw-scroll"><table><thead><tr>${heads.map((head) => `<th scope="col">${escaped(head)}</th>`).join('')}</tr></thead><tbody>${rows.map((cells) => `<tr>${cells.map((cell) => `<td>${cell}</td>`).join('')}</tr>`).join('')}</tbody></table></div>`;

const entryCell = (entry: number): string => `<span class="tw-num">${entry}</span>`;

const demandHtml = ({ signing }: PapersReport): string => {
  const { demanded, missing } = signing;
  if (demanded.length === 0) return '';
  const asked = escaped(demanded.join(', '));
  return missing.length === 0
    ? `<p>The site asks for these signatures: ${asked}. All are there.</p>`
    : `<p><strong><span aria-hidden="true">▲ </span>NOT COMPLETE.</strong> The site asks for these signatures: ${asked}. Missing: <strong>${escaped(missing.join(', '))}</strong>.</p>`;
};

const signedHtml = ({ signing }: PapersReport): string => {
  const rows = signing.signatures.map((one) => {
    const alone = signing.notIndependent.includes(one.entry)
      ? ' <strong>NOT INDEPENDENT: took part in this test.</strong>'
      : '';
    return [
      `<strong data-fact="signed">${escaped(one.person.name)}</strong> (${escaped(one.person.id)})`,
      `<span data-fact="meaning">${escaped(meaningText(one.meaning))}</span>`,
      `<span data-fact="signed-at">${escaped(timeOf(one.utc))}</span>`,
      `${escaped(signatureStateText(one))}${alone}`,
      entryCell(one.entry),
    ];
  });
  const none = '<p class="tw-none">Nobody has signed this window by password.</p>';
  const heads = ['Signed by', 'Says', 'When', 'Now', 'Entry'];
  return `<h4>Signatures by password</h4>${demandHtml({ signing } as PapersReport)}${rows.length === 0 ? none : table(heads, rows)}`;
};

const attestationsHtml = ({ attestations }: PapersReport): string => {
  if (attestations.length === 0) return '';
  const rows = attestations.map(({ by, what, machine, where, utc, entry }) => [
    escaped(`${attestedText(what)}: ${machine}`),
    where === undefined || where === '' ? '<span class="tw-none">not stated</span>' : escaped(where),
    escaped(by),
    escaped(timeOf(utc)),
    entryCell(entry),
  ]);
  return `<h4>Attested, not measured</h4>${table(['What', 'Where', 'By', 'When', 'Entry'], rows)}`;
};

/** The old text is struck through and says that it is the old one: by line and by word. */
const amendmentsHtml = ({ amendments }: PapersReport): string => {
  if (amendments.length === 0) return '';
  const rows = amendments.map(({ of, field, was, becomes, reason, by, utc, entry, fits }) => [
    `<span class="tw-num">${of}</span> ${escaped(field.replace(/^body\./, ''))}`,
    `was: <del>${escaped(was)}</del><br>now: <ins>${escaped(becomes)}</ins>${fits ? '' : '<br><strong>✖ this old text did not stand there</strong>'}`,
    escaped(reason),
    escaped(by),
    escaped(timeOf(utc)),
    entryCell(entry),
  ]);
  return `<h4>Corrections</h4><p class="tw-sub">The entries stay as they were written. No reading, finding or verdict is ever corrected.</p>${table(['Entry, field', 'Text', 'Why', 'By', 'When', 'Entry'], rows)}`;
};

const transcribedHtml = ({ transcribed }: PapersReport): string =>
  transcribed
    .map(({ sheet, by, on, enteredBy, utc, values, entry }) => {
      const rows = Object.entries(values).map(([name, value]) => [escaped(name), escaped(value)]);
      return `<h4>Transcribed from a sheet: ${escaped(sheet === '' ? 'not named' : sheet)}</h4><p class="tw-sub">Filled in by ${escaped(by)}, ${escaped(on)}; entered by ${escaped(enteredBy)}, ${escaped(timeOf(utc))} (entry ${entry}). Copied by hand: none of it was measured or judged by this program.</p>${table(['Field', 'On the sheet'], rows)}`;
    })
    .join('');

/** So many of the newest attempts at an interlock are shown one by one. */
const SHOWN = 12;

const attemptRows = ({ interlock, attempts }: AttemptsReport, window: string): string[][] =>
  attempts.slice(-SHOWN).map((one) => {
    const own = one.window === window ? '<strong>this window</strong>' : escaped(one.window);
    const standing = one.standing === 'complete' ? '' : ` (${escaped(one.standing)})`;
    return [
      escaped(interlock),
      `<span class="tw-num">${one.attempt} of ${attempts.length}</span>`,
      `${own}, trial ${one.trial}${one.demand ? ', a demand' : ''}`,
      `${escaped(markOf(one.outcome))}${standing}`,
      one.asFound ? 'as found' : '',
      escaped(timeOf(one.utc)),
    ];
  });

/** Every attempt has a number and keeps it: nobody tests until it passes and shows the last one alone. */
const attemptsHtml = (attempts: readonly AttemptsReport[], window: string): string => {
  const rows = attempts.flatMap((one) => attemptRows(one, window));
  if (rows.length === 0) return '';
  const left = attempts.filter((one) => one.attempts.length > SHOWN).map(({ interlock }) => interlock);
  const more =
    left.length === 0
      ? ''
      : `<p class="tw-sub">The newest ${SHOWN} of ${escaped(left.join(', '))} are shown.</p>`;
  return `<h4>Attempts, counted over the whole log</h4>${more}${table(['Interlock', 'Attempt', 'Window', 'Verdict', '', 'When'], rows)}`;
};

/** Who signed, what was attested, corrected and copied in; '' for a report that was made without a log. `prefix` stands before its id. */
export const peopleHtml = ({ papers, attempts = [], window }: WindowReport, prefix = ''): string => {
  if (papers === undefined) return '';
  const parts = [signedHtml, attestationsHtml, amendmentsHtml, transcribedHtml].map((part) => part(papers));
  parts.push(attemptsHtml(attempts, window));
  return `<section class="tw-people" aria-labelledby="${prefix}people"><h2 id="${prefix}people">People: signatures, attestations, corrections</h2>${parts.join('')}</section>`;
};
