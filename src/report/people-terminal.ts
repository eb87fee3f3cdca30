import { attestedText, meaningText, signatureStateText } from './people-text.ts';
import type { WindowReport } from './types.ts';

/** Signatures, what is missing of them, attestations and corrections as sentences for a terminal; each one line or more. */
export const peopleSentences = ({ papers }: Pick<WindowReport, 'papers'>): readonly string[] => {
  if (papers === undefined) return [];
  const { signing, attestations, amendments, transcribed } = papers;
  const missing = signing.missing.join(', ');
  return [
    ...signing.signatures.map((one) => {
      const alone = signing.notIndependent.includes(one.entry) ? '; NOT INDEPENDENT' : '';
      return `${one.utc.slice(0, 19)}Z ${one.person.name} (${one.person.id}) ${meaningText(one.meaning)}: ${signatureStateText(one)}${alone}`;
    }),
    ...(missing === '' ? [] : [`▲ NOT COMPLETE: the site asks for signatures that are missing: ${missing}`]),
    ...attestations.map(
      ({ what, machine, where, by }) =>
        `attested by ${by}: ${attestedText(what)}, ${machine}${where === undefined ? '' : ` (${where})`}`,
    ),
    ...amendments.map(
      ({ entry, of, field, was, becomes }) =>
        `entry ${entry} corrects ${field} of entry ${of}: was "${was}", now "${becomes}"`,
    ),
    ...transcribed.map(({ sheet, by, values }) => {
      const count = Object.keys(values).length;
      return `transcribed from sheet ${sheet}, filled in by ${by}: ${count} values, none of them judged`;
    }),
  ];
};
